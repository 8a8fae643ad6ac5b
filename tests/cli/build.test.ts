import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkLinks, linksText } from '../../src/cli/check-links.js';
import { tempFolder } from '../folders.js';
import { BOOK, BROKEN, book, put, run } from './support.js';

/** Every file below a folder with its text and the time of its last change. */
function snapshot(folder: string): Record<string, readonly [string, number]> {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((item) => item.isFile());
  return Object.fromEntries(
    files.map((item) => {
      const path = join(item.parentPath, item.name);
      return [path, [readFileSync(path, 'latin1'), statSync(path).mtimeMs]] as const;
    }),
  );
}

const QUIET = `---
date: 2026-04-19
title: Quiet
systems: [house-dc]
private: [entry]
---
`;

/** Back to the beginning of the line, and the line emptied. */
const CLEARED = '\r\u001b[2K';

describe('ribband build', () => {
  it('makes a site in ./_site, tells how much, and makes nothing again that has not changed', async () => {
    const cwd = tempFolder();
    put(join(cwd, 'log'), BOOK);
    const first = await run(['build', 'log'], { cwd });
    expect(first.code).toBe(0);
    expect(first.out).toMatch(/^\d+ pages in _site: \d+ files written, 0 taken away, \d+\.\d s\.\n$/);
    expect(readFileSync(join(cwd, '_site/index.html'), 'utf8')).toContain('Wherry');
    const before = snapshot(join(cwd, '_site'));
    const second = await run(['build', 'log'], { cwd });
    expect(second.out).toMatch(/^\d+ pages in _site: nothing has changed, \d+\.\d s\.\n$/);
    expect(snapshot(join(cwd, '_site'))).toEqual(before);
  });

  it('looks up its own links when asked to, and names one that is dead', async () => {
    const cwd = book();
    const fine = await run(['build', '--check-links'], { cwd });
    expect(fine.code).toBe(0);
    expect(fine.out).toMatch(/\n\d+ links and pictures looked up, none is dead\.\n$/);
    // A build would make the page again: what is told of a dead link is asked of the site as it lies there.
    const site = join(cwd, '_site');
    rmSync(join(site, 'parts.html'));
    const report = checkLinks(site);
    expect(report.dead).toContainEqual({ page: 'index.html', address: 'parts.html', why: 'no such file' });
    expect(linksText(report)).toContain('index.html: parts.html: no such file\n');
    expect(linksText(report)).toMatch(/looked up, \d+ dead\.\n$/);
  });

  it('knows all that it has made itself as its own', async () => {
    const cwd = book();
    expect(await run(['build', '--seal'], { cwd })).toMatchObject({ code: 0 });
    expect(await run(['build', '--as-of', '2026-04-01'], { cwd })).toMatchObject({ code: 0 });
  });

  it('takes nothing of somebody else away with the old site', async () => {
    const cwd = book();
    expect(await run(['build'], { cwd })).toMatchObject({ code: 0 });
    put(cwd, { '_site/CNAME': 'example.org', '_site/.git/HEAD': 'ref: refs/heads/main' });
    const ran = await run(['build', '--as-of', '2020-01-01'], { cwd });
    expect(ran.code).toBe(2);
    expect(ran.err).toContain('.git, CNAME');
    expect(readFileSync(join(cwd, '_site/CNAME'), 'utf8')).toBe('example.org');
  });

  it('tells of a picture that cannot be opened, and makes no site without it', async () => {
    const cwd = book();
    const entry = Object.keys(BOOK).find((path) => path.startsWith('entries/')) ?? '';
    const text = BOOK[entry] ?? '';
    const photo = 'photos:\n  - { file: photos/label.jpg, alt: "A label" }\n---';
    // Of another sort, which its first bytes tell and the checker knows; and broken further behind.
    for (const [bytes, at] of [
      ['not a picture', /^entries\/.*:\d+:\d+ error photo-unreadable/m],
      ['RIFF0000WEBP and no more', /^photos\/label.jpg:1:1 error photo-unreadable/m],
    ] as const) {
      put(cwd, { [entry]: text.replace(/\n---/, `\n${photo}`), 'photos/label.jpg': bytes });
      const ran = await run(['build'], { cwd });
      expect([ran.code, ran.out]).toEqual([1, '']);
      expect(ran.err).toMatch(at);
      expect(existsSync(join(cwd, '_site'))).toBe(false);
    }
  });

  it('stops with the list where there is an error, and leaves the old site as it was', async () => {
    const cwd = book();
    expect(await run(['build'], { cwd })).toMatchObject({ code: 0 });
    const before = snapshot(join(cwd, '_site'));
    put(cwd, BROKEN);
    const ran = await run(['build'], { cwd });
    expect([ran.code, ran.out]).toEqual([1, '']);
    expect(ran.err).toContain('entries/2026/2026-04-19-broken.md:6:33 error unknown-unit\n');
    expect(ran.err).toMatch(
      /\n1 error[^\n]* in the book\.\nNo site was built; what is in _site is as it was\.\n$/,
    );
    expect(snapshot(join(cwd, '_site'))).toEqual(before);
  });

  it('makes a copy for an audience beside the site of the owner, with what is hidden left out', async () => {
    const bought = 'entries/2026/2026-04-18-capacity-test.md';
    const cwd = book({
      'book.yaml': (BOOK['book.yaml'] ?? '').replace('the owner', 'Wil Quillon'),
      [bought]: (BOOK[bought] ?? '').replace('1480.00', '1477.35'),
      'entries/2026/2026-04-19-quiet.md': QUIET,
    });
    expect((await run(['build'], { cwd })).code).toBe(0);
    const own = snapshot(join(cwd, '_site'));
    const ran = await run(['build', '--for', 'buyer'], { cwd });
    expect([ran.code, ran.err]).toEqual([0, '1 warning in the book; `ribband check` tells more.\n']);
    expect(ran.out).toMatch(/ pages in _site-buyer: /);
    expect(snapshot(join(cwd, '_site'))).toEqual(own);
    const texts = (folder: string) =>
      Object.values(snapshot(join(cwd, folder)))
        .map(([text]) => text)
        .join('\n');
    for (const hidden of ['1477', 'Quillon', 'Quiet<']) {
      expect(texts('_site'), hidden).toContain(hidden);
      expect(texts('_site-buyer'), hidden).not.toContain(hidden);
    }
    expect(texts('_site-buyer')).toContain('A copy of the record, made for a buyer.');
    expect(texts('_site-buyer')).toContain(
      'Money, suppliers, the names of people and what the owner keeps private',
    );
    const again = await run(['build', '--for', 'buyer'], { cwd });
    expect(again.out).toContain(': nothing has changed, ');
  });

  it('says in a copy and in its pack what counts as proof for whom it is made', async () => {
    const asks =
      'audiences: { buyer: { hides: [cost], needs-at-least: measured }, crew: { hides: [cost, hours] } }\n';
    const cwd = book({ 'book.yaml': `${BOOK['book.yaml']}${asks}` });
    const said =
      'In this copy a spec counts as verified only when it was measured; a name, when it was read off the item itself.';
    const read = (path: string) => readFileSync(join(cwd, path), 'utf8').replaceAll(/\s+/g, ' ');
    for (const audience of ['buyer', 'crew'])
      expect((await run(['build', '--for', audience], { cwd })).code).toBe(0);
    for (const page of ['about.html', 'pack/index.html']) {
      expect(read(`_site-buyer/${page}`), page).toContain(said);
      expect(read(`_site-crew/${page}`), page).not.toContain('counts as verified only');
    }
    // Where working time is left out, who worked on mains does not show, and that is said.
    expect(read('_site-buyer/pack/index.html')).toContain('This is who worked on those systems');
    expect(read('_site-crew/pack/index.html')).toContain('only tests tell who was there');
    expect(read('_site-crew/pack/index.html')).not.toContain('This is who worked on those systems');
  });

  it('knows no other audiences than those of the book and the usual ones', async () => {
    const cwd = book({ 'book.yaml': `${BOOK['book.yaml']}audiences: { insurer: { hides: [cost] } }\n` });
    const ran = await run(['build', '--for', 'insurrer'], { cwd });
    expect([ran.code, ran.out]).toEqual([2, '']);
    expect(ran.err).toContain(
      'Nobody is called `insurrer` here: a copy is made for owner, public, buyer, surveyor, insurer.',
    );
    expect(ran.err).toContain('Did you mean `insurer`?');
    expect(existsSync(join(cwd, '_site-insurrer'))).toBe(false);
    expect((await run(['build', '--for', 'insurer'], { cwd })).code).toBe(0);
  });

  it('shows the state of an earlier day', async () => {
    const cwd = book();
    await run(['build', '--as-of', '2026-04-01'], { cwd });
    expect(existsSync(join(cwd, '_site/entries/2026-03-01-looked.html'))).toBe(true);
    expect(existsSync(join(cwd, '_site/entries/2026-04-18-capacity-test.html'))).toBe(false);
  });

  it.each(['/boat/', 'boat', '/boat'])('takes the prefix %s for /boat/', async (prefix) => {
    const cwd = book();
    expect(await run(['build', '--path-prefix', prefix], { cwd })).toMatchObject({ code: 0 });
    expect(readFileSync(join(cwd, '_site/404.html'), 'utf8')).toContain('href="/boat/assets/site.css"');
  });

  it('shows progress on a terminal and not elsewhere', async () => {
    expect((await run(['build'], { cwd: book() })).err).not.toContain('\r');
    const ran = await run(['build'], { cwd: book(), terminal: true });
    const [start, line = ''] = ran.err.split(CLEARED);
    const end = ran.err.split(CLEARED).at(-1);
    expect(start).toBe('');
    expect(line).toMatch(/^rendering .*\d+ of \d+/);
    expect(end).not.toContain('rendering');
  });

  it.each([
    ['the folder of the book', '.', 'holds the book itself'],
    ['a folder around the book', '..', 'holds the book itself'],
    ['the entries', 'entries', "lies in the book's own `entries`"],
    ['a folder inside the entries', 'entries/site', "lies in the book's own `entries`"],
    ['a folder with something else in it', 'mine', 'has something in it that ribband has not made'],
    ['a file', 'book.yaml', 'is a file; the site needs a folder'],
    ['a link to the entries', 'way-in', "lies in the book's own `entries`"],
  ])('refuses %s as the place for the site and touches nothing', async (_what, out, why) => {
    const cwd = book({ 'mine/letter.txt': 'dear' });
    symlinkSync(join(cwd, 'entries'), join(cwd, 'way-in'));
    const before = snapshot(cwd);
    const ran = await run(['build', '--out', out], { cwd });
    expect([ran.code, ran.out]).toEqual([2, '']);
    expect(ran.err).toContain(`ribband: \`${out}\` ${why}`);
    expect(snapshot(cwd)).toEqual(before);
  });

  it('takes an empty folder, and one that a link leads to, leaving the link', async () => {
    const cwd = book();
    const elsewhere = join(tempFolder(), 'www');
    mkdirSync(elsewhere);
    symlinkSync(elsewhere, join(cwd, 'public'));
    expect(await run(['build', '--out', 'public'], { cwd })).toMatchObject({ code: 0 });
    expect(await run(['build', '--out', 'public'], { cwd })).toMatchObject({ code: 0 });
    expect(existsSync(join(elsewhere, 'index.html'))).toBe(true);
    expect(readdirSync(cwd)).toContain('public');
  });

  it('refuses a prefix that is no path', async () => {
    for (const prefix of ['a b', '/../', 'x"y', '/a//b/'])
      expect(await run(['build', '--path-prefix', prefix], { cwd: book() })).toMatchObject({
        code: 2,
        err: `ribband: \`--path-prefix\` is a path such as \`/boat/\`, not \`${prefix}\`.\n`,
      });
  });
});
