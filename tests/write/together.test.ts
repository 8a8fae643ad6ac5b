import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { LinkOnTheWay } from '../../src/write/new-file.js';
import { finishWriting, NameTaken, writeTogether } from '../../src/write/together.js';

let root: string;

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'ribband-together-'));
});

afterEach(() => rmSync(root, { recursive: true, force: true }));

const text = (path: string) => readFileSync(join(root, path), 'utf8');
const stages = () => readdirSync(join(root, '.ribband')).filter((name) => name.startsWith('writing-'));

/** What a run leaves that is killed after it has promised two files and moved as many as said. */
function brokenOff(list: readonly (readonly [string, boolean])[], moved: number): void {
  const stage = join(root, '.ribband', 'writing-a1');
  mkdirSync(stage, { recursive: true });
  mkdirSync(join(root, 'entries'), { recursive: true });
  writeFileSync(join(stage, 'list.json'), JSON.stringify(list));
  for (const [at, [path]] of list.entries())
    writeFileSync(at < moved ? join(root, path) : join(stage, String(at)), `text ${at}`);
}

describe('files written together', () => {
  it('are all there, new ones and those that replace others, with nothing left beside them', () => {
    writeFileSync(join(root, 'old.csv'), 'before');
    writeTogether(root, [
      { path: 'old.csv', content: 'after', replaces: true },
      { path: 'entries/2026/a.md', content: 'new', replaces: false },
    ]);
    expect([text('old.csv'), text('entries/2026/a.md'), stages()]).toEqual(['after', 'new', []]);
  });

  it('are none of them written where one name is taken or lies behind a link', () => {
    writeFileSync(join(root, 'b.md'), 'mine');
    const files = [
      { path: 'a.md', content: 'a', replaces: false },
      { path: 'b.md', content: 'b', replaces: false },
    ];
    expect(() => writeTogether(root, files)).toThrow(NameTaken);
    symlinkSync(tmpdir(), join(root, 'away'));
    const away = { path: 'away/c.md', content: 'c', replaces: false };
    expect(() => writeTogether(root, [files[0] as (typeof files)[0], away])).toThrow(LinkOnTheWay);
    expect([existsSync(join(root, 'a.md')), text('b.md')]).toEqual([false, 'mine']);
  });

  it('are put in their places by the next run, however many of them a killed one had moved', () => {
    const list = [
      ['entries/a.md', false],
      ['entries/b.md', true],
      ['entries/c.md', false],
    ] as const;
    for (const moved of [0, 1, 2, 3]) {
      brokenOff(list, moved);
      finishWriting(root);
      expect(list.map(([path]) => text(path))).toEqual(['text 0', 'text 1', 'text 2']);
      expect(stages()).toEqual([]);
      rmSync(join(root, 'entries'), { recursive: true });
    }
  });

  it('lose nothing where somebody else has taken a name since', () => {
    brokenOff([['entries/a.md', false]], 0);
    writeFileSync(join(root, 'entries/a.md'), 'mine');
    expect(finishWriting(root)).toEqual([]);
    expect(text('entries/a.md')).toBe('mine');
    expect(text(join('.ribband', 'writing-a1', '0'))).toBe('text 0');
  });

  it('that were never promised are taken away, once nobody can be writing them any more', () => {
    const stage = join(root, '.ribband', 'writing-b2');
    mkdirSync(stage, { recursive: true });
    writeFileSync(join(stage, '0'), 'half');
    finishWriting(root);
    expect(stages()).toEqual(['writing-b2']);
    utimesSync(stage, new Date(0), new Date(0));
    finishWriting(root);
    expect(stages()).toEqual([]);
  });
});
