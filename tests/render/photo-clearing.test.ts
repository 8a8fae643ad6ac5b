import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, describe, expect, it } from 'vitest';
import { clearPhotos } from '../../src/render/photo-clearing.js';
import { book, put, run } from '../cli/support.js';

const NOW = Date.now();
const DAY = 86_400_000;
const folder = mkdtempSync(join(tmpdir(), 'ribband-clearing-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function keep(into: string, name: string, days: number): void {
  writeFileSync(join(into, name), 'x');
  const time = (NOW - days * DAY) / 1000;
  utimesSync(join(into, name), time, time);
}

const ageOf = (path: string) => Math.abs(Math.round((NOW - statSync(path).mtimeMs) / DAY));

describe('made pictures', () => {
  it('that have not been used for a quarter of a year are removed, used ones never', () => {
    for (const [name, days] of [
      ['used', 400],
      ['fresh', 0],
      ['lately', 89],
      ['long', 91],
      ['longer', 4000],
    ] as const)
      keep(folder, `${name}.jpg`, days);
    mkdirSync(join(folder, 'a-folder'));
    expect(clearPhotos(folder, new Set(['used.jpg']), NOW)).toBe(2);
    expect(readdirSync(folder).sort()).toEqual(['a-folder', 'fresh.jpg', 'lately.jpg', 'used.jpg']);
    expect(ageOf(join(folder, 'used.jpg'))).toBe(0);
    expect(ageOf(join(folder, 'lately.jpg'))).toBe(89);
    expect(clearPhotos(join(folder, 'nowhere'), new Set(), NOW)).toBe(0);
  });

  it('are cleared by a build that is whole, and by no other', async () => {
    const plate = (title: string) =>
      `---\ndate: 2026-04-19\ntitle: ${title}\nsystems: [engine]\nphotos:\n  - { file: photos/2026/plate.png, alt: The plate }\n---\n`;
    const entry = 'entries/2026/2026-04-19-plate.md';
    const cwd = book({ [entry]: plate('Plate') });
    mkdirSync(join(cwd, 'photos/2026'), { recursive: true });
    writeFileSync(
      join(cwd, 'photos/2026/plate.png'),
      await sharp({ create: { width: 40, height: 30, channels: 3, background: '#864' } })
        .png()
        .toBuffer(),
    );
    expect((await run(['build'], { cwd })).code).toBe(0);
    const made = join(cwd, '.ribband/photos');
    const own = readdirSync(made);
    expect(own.length).toBeGreaterThan(0);
    for (const name of own) keep(made, `old-${name}`, 200);
    for (const name of own) utimesSync(join(made, name), 1, 1);

    put(cwd, {
      [entry]: plate('12 Vlt').replace('photos:', 'measurements: [house-dc.rest-voltage: 12 Vlt]\nphotos:'),
    });
    expect((await run(['build'], { cwd })).code).toBe(1);
    expect(readdirSync(made)).toHaveLength(2 * own.length);

    put(cwd, { [entry]: plate('The plate') });
    expect((await run(['build'], { cwd })).code).toBe(0);
    expect(readdirSync(made).sort()).toEqual([...own].sort());
    for (const name of own) expect(ageOf(join(made, name))).toBe(0);

    // A copy for others is made from the same ones.
    for (const name of own) utimesSync(join(made, name), 1, 1);
    expect((await run(['build', '--for', 'public'], { cwd })).code).toBe(0);
    expect(own.every((name) => existsSync(join(made, name)))).toBe(true);
  });
});
