import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  rmSync,
  statSync,
  symlinkSync,
  truncateSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { checkBook } from '../../src/check/check.js';
import { type ReadMemory, readFolder } from '../../src/read/folder.js';
import { AT_MOST, cpuTime } from '../spent.js';

const LOOK = 'entries/2026/2026-03-01-look.md';
const BOOK = 'book: skiff\nsubject: { name: Skiff }\n';
const SYSTEM = '---\nsystem: hull\ntitle: Hull\n---\n';

function entry(more = '', body = ''): string {
  return `---\ndate: 2026-03-01\ntitle: Look\nsystems: [hull]\n${more}---\n${body}`;
}

let root = '';

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'ribband-read-'));
});
afterEach(() => {
  rmSync(root, { recursive: true, force: true });
});

function put(path: string, content: string | Uint8Array): void {
  mkdirSync(dirname(join(root, path)), { recursive: true });
  writeFileSync(join(root, path), content);
}

/** A book with a hull and, where given, an entry. */
function putBook(look?: string | Uint8Array): void {
  put('book.yaml', BOOK);
  put('systems/hull.md', SYSTEM);
  if (look !== undefined) put(LOOK, look);
}

async function check() {
  const { book, diagnostics } = await checkBook(readFolder(root), '2026-06-01');
  return { book, codes: diagnostics.map(({ file, code }) => `${file}: ${code}`), diagnostics };
}

describe('texts as editors write them', () => {
  it('drops a byte order mark, and counts columns without it', async () => {
    putBook(`\ufeff${entry('plase: yard\n')}`);
    const { diagnostics } = await check();
    expect(diagnostics).toHaveLength(1);
    expect(diagnostics[0]).toMatchObject({ code: 'unknown-key', span: { line: 5, column: 1, offset: 49 } });
  });

  it('takes a byte order mark in book.yaml and systems, too', async () => {
    putBook(entry());
    put('book.yaml', `\ufeff${BOOK}`);
    put('systems/hull.md', `\ufeff${SYSTEM}`);
    const { codes, book } = await check();
    expect(codes).toEqual([]);
    expect(book?.id).toBe('skiff');
  });

  it('reads line ends of Windows, leaves them in the prose and counts lines by them', async () => {
    putBook(entry('place: |\n  one\n  two\n', 'Prose.\nMore.\n').replaceAll('\n', '\r\n'));
    const good = await check();
    expect(good.codes).toEqual([]);
    expect(good.book?.entries[0]?.location).toBe('one\ntwo\n');
    expect(good.book?.entries[0]?.body).toBe('Prose.\r\nMore.\r\n');
    putBook(entry('place: yard\nplase: yard\n').replaceAll('\n', '\r\n'));
    const bad = await check();
    expect(bad.diagnostics[0]).toMatchObject({
      span: { line: 6, column: 1, endColumn: 6 },
      excerpt: 'plase: yard',
    });
  });

  it('says of a file with line ends of the oldest sort that its front matter does not end', async () => {
    putBook(entry().replaceAll('\n', '\r'));
    expect((await check()).codes).toEqual([`${LOOK}: front-matter-missing`]);
  });

  it.each([
    ['UTF-16', Buffer.from(`\ufeff${entry()}`, 'utf16le')],
    ['an older encoding', Buffer.from(entry('place: Bänk\n'), 'latin1')],
    ['a NUL', Buffer.from(entry('place: "a\0b"\n'))],
    ['a half letter at the end', Buffer.concat([Buffer.from(entry()), Buffer.from([0xe2, 0x82])])],
    ['a letter written too long', Buffer.concat([Buffer.from(entry()), Buffer.from([0xc0, 0xaf])])],
    ['a lone surrogate', Buffer.concat([Buffer.from(entry()), Buffer.from([0xed, 0xa0, 0x80])])],
  ])('refuses %s as no UTF-8', async (_what, bytes) => {
    putBook(bytes);
    expect((await check()).codes).toEqual([`${LOOK}: not-utf8`]);
  });

  it.each([
    ['an empty entry', LOOK, '', 'front-matter-missing'],
    ['an entry of blank lines', LOOK, '\n\n\n', 'front-matter-missing'],
    ['an entry of one fence', LOOK, '---', 'front-matter-missing'],
    ['an entry of two fences', LOOK, '---\n---', 'missing-field'],
    ['an empty system', 'systems/hull.md', '', 'front-matter-missing'],
    ['an empty book.yaml', 'book.yaml', '', 'missing-field'],
    ['an empty plan', 'plans/power.yaml', '', 'missing-field'],
    ['a plan of comments', 'plans/weights.yaml', '# later\n', 'missing-field'],
  ])('has a word for %s', async (_what, path, text, code) => {
    putBook(entry());
    put(path, text);
    const { diagnostics } = await check();
    expect(new Set(diagnostics.map((found) => `${found.file} ${found.code}`))).toEqual(
      new Set([`${path} ${code}`]),
    );
  });

  it('reads an entry with a megabyte of prose, and one with a problem in front of it, soon', async () => {
    const prose = 'A line of prose about the planking, with a | and a * in it.\n'.repeat(17_500);
    expect(prose.length).toBeGreaterThan(1_000_000);
    putBook(entry('', prose));
    const start = cpuTime();
    expect((await check()).codes).toEqual([]);
    putBook(entry('plase: yard\n', prose));
    expect((await check()).codes).toEqual([`${LOOK}: unknown-key`]);
    expect(cpuTime() - start).toBeLessThan(AT_MOST);
  });

  it('refuses more than 4 MB without reading it', async () => {
    putBook(entry());
    truncateSync(join(root, LOOK), 1024 ** 4);
    const start = cpuTime();
    expect((await check()).codes).toEqual([`${LOOK}: file-too-large`]);
    expect(cpuTime() - start).toBeLessThan(AT_MOST);
  });
});

describe('names of files', () => {
  const composed = 'bänk-größe';
  const apart = composed.normalize('NFD');

  it.each([
    ['composed', composed],
    ['apart', apart],
  ])('takes letters with their dots %s', async (_what, name) => {
    expect(composed).not.toBe(apart);
    put('book.yaml', BOOK);
    put('systems/hull.md', SYSTEM);
    put(`entries/2026/2026-03-01-${name}.md`, entry());
    const { codes, book } = await check();
    expect(codes).toEqual([]);
    expect(book?.entries).toHaveLength(1);
  });

  it.each([
    [composed, apart],
    [apart, composed],
  ])('finds the picture %j written as %j', async (onDisk, written) => {
    putBook(entry(`photos: [{ file: photos/${written}.jpg, alt: The bank }]\n`));
    put(`photos/${onDisk}.jpg`, 'RIFF0000WEBP');
    expect((await check()).codes).toEqual([]);
  });

  it('passes over dot files and folders that are not of the book, and tells of what strays into one', async () => {
    putBook(entry());
    put('entries/2026/.2026-03-01-look.md.swp', 'x');
    put('.git/config', 'x');
    put('notes/todo.md', 'x');
    put('readme.txt', 'x');
    put('photos/.DS_Store', 'x');
    put('entries/2026/copy.doc', 'x');
    put('systems/old/rig.md', SYSTEM);
    put('plans/power.yml', 'x: 1');
    expect((await check()).codes).toEqual([
      'entries/2026/copy.doc: stray-file',
      'plans/power.yml: stray-file',
      'systems/old: stray-file',
    ]);
  });

  it('gives files in the order of their names, whatever the order of the disk', () => {
    for (const name of ['z', 'a', 'M', 'ä', '10', '9']) put(`systems/${name}.md`, SYSTEM);
    put('book.yaml', BOOK);
    const paths = readFolder(root).files.map((file) => file.path);
    expect(paths).toEqual([...paths].sort());
    expect(paths).toHaveLength(7);
  });

  it.each(['Entries', 'SYSTEMS', 'Photos', 'entry', 'System'])(
    'tells of a folder %s that some disks take for ours',
    async (name) => {
      putBook(entry());
      put(`${name}/x.md`, 'x');
      expect((await check()).codes).toEqual([`${name}: stray-file`]);
    },
  );

  it('is not confused by names that mean something to a program', async () => {
    putBook(entry());
    for (const name of ['constructor', '__proto__', 'toString', 'hasOwnProperty']) {
      put(`${name}/x.md`, 'x');
      put(`plans/${name}`, 'x');
    }
    const { codes } = await check();
    expect(codes).toHaveLength(4);
    expect(codes.every((found) => /^plans\/\w+: stray-file$/.test(found))).toBe(true);
  });

  it('takes a folder named like a file for what it is', async () => {
    putBook(entry());
    mkdirSync(join(root, 'entries/2026/2026-04-01-folder.md'));
    rmSync(join(root, 'book.yaml'));
    mkdirSync(join(root, 'book.yaml'));
    expect((await check()).codes).toEqual(['book.yaml: book-missing']);
  });
});

describe('links and what lies outside the book', () => {
  let outside = '';
  beforeEach(() => {
    outside = mkdtempSync(join(tmpdir(), 'ribband-outside-'));
    writeFileSync(join(outside, 'secret.md'), entry('place: SECRET\n'));
    writeFileSync(join(outside, 'secret.jpg'), 'SECRET');
  });
  afterEach(() => {
    rmSync(outside, { recursive: true, force: true });
  });

  it('follows no link to a file, and says so', async () => {
    putBook();
    mkdirSync(join(root, 'entries/2026'), { recursive: true });
    symlinkSync(join(outside, 'secret.md'), join(root, LOOK));
    mkdirSync(join(root, 'photos'));
    symlinkSync(join(outside, 'secret.jpg'), join(root, 'photos/a.jpg'));
    const folder = readFolder(root);
    expect(JSON.stringify(folder)).not.toContain('SECRET');
    expect(folder.attachments).toEqual([]);
    expect((await check()).codes).toEqual([`${LOOK}: link-in-book`, 'photos/a.jpg: link-in-book']);
  });

  it.each(['entries', 'photos', 'systems', 'plans', 'entries/2026', 'photos/2026'])(
    'follows no link in the place of the folder %s',
    async (path) => {
      put('book.yaml', BOOK);
      mkdirSync(dirname(join(root, path)), { recursive: true });
      symlinkSync(outside, join(root, path));
      const folder = readFolder(root);
      expect(JSON.stringify(folder)).not.toContain('secret');
      expect((await check()).codes).toEqual([`${path}: link-in-book`]);
    },
  );

  it('follows no link in the place of book.yaml', async () => {
    writeFileSync(join(outside, 'book.yaml'), BOOK);
    symlinkSync(join(outside, 'book.yaml'), join(root, 'book.yaml'));
    expect((await check()).codes).toEqual(['book.yaml: link-in-book']);
  });

  it('is not led in circles by a link to its own folder', async () => {
    putBook(entry());
    symlinkSync(root, join(root, 'entries/2026/again'));
    expect((await check()).codes).toEqual(['entries/2026/again: link-in-book']);
  });

  it('reads a book through a link to its folder: that is where the user pointed', async () => {
    putBook(entry());
    symlinkSync(root, join(outside, 'book'));
    const { diagnostics, book } = await checkBook(readFolder(join(outside, 'book')), '2026-06-01');
    expect(diagnostics).toEqual([]);
    expect(book?.entries).toHaveLength(1);
  });

  it.each([
    '../secret.jpg',
    'photos/../../secret.jpg',
    'photos/../photos/a.jpg',
    'photos/./a.jpg',
    '/etc/passwd',
    '//host/a.jpg',
    'C:\\a.jpg',
    'C:/a.jpg',
    'photos\\a.jpg',
    'photos/..\\..\\a.jpg',
    'file:///etc/a.jpg',
    'photos/%2e%2e/%2e%2e/secret.jpg',
    'photos//a.jpg',
    'photos/',
    'photos/a.jpg?x',
    '~/a.jpg',
    'photos/\u0000a.jpg',
  ])('never takes the photo path %j for one inside the book', async (path) => {
    putBook(entry(`photos: [{ file: ${JSON.stringify(path)}, alt: A picture }]\n`));
    put('photos/a.jpg', 'RIFF0000WEBP');
    const { diagnostics } = await check();
    expect(diagnostics).toHaveLength(1);
    expect(diagnostics[0]?.code).toMatch(/^photo-/);
  });

  it.each([
    '![a](../../photos/a.jpg)',
    '![a](photos/a.jpg)',
    '![a](<photos/a.jpg> "title")',
    '![a](./photos/a%2Ejpg)',
  ])('takes %s in the prose for the picture that it names', async (image) => {
    putBook(entry('', `${image}\n`));
    put('photos/a.jpg', 'RIFF0000WEBP');
    expect((await check()).codes).toEqual([]);
  });

  it.each([
    ['![a](../../../photos/../secret.jpg)', 'photo-path'],
    ['![a](photos/%2e%2e/%2e%2e/secret.jpg)', 'photo-path'],
    ['![a](photos%5C..%5Csecret.jpg)', 'photo-path'],
    ['![a](//host/photos/a.jpg)', 'photo-path'],
    ['![a](javascript:alert(1))', 'photo-path'],
    ['![a](data:image/png;base64,AAAA)', 'photo-path'],
    ['![a](%ff)', 'photo-path'],
    ['![a][r]\n\n[r]: ../secret.jpg', 'photo-path'],
  ])('refuses %s in the prose', async (image, code) => {
    putBook(entry('', `${image}\n`));
    put('photos/a.jpg', 'RIFF0000WEBP');
    expect((await check()).codes).toEqual([`${LOOK}: ${code}`]);
  });
});

describe('what cannot be opened', () => {
  // Root opens everything, whatever its permissions say.
  const asUser = it.skipIf(process.getuid?.() === 0);

  asUser.each([LOOK, 'entries/2026', 'book.yaml'])('is told of: %s', async (path) => {
    putBook(entry());
    chmodSync(join(root, path), 0);
    try {
      expect((await check()).codes).toContain(`${path}: unreadable`);
    } finally {
      chmodSync(join(root, path), 0o700);
    }
  });

  it('is told of when it is the folder itself that is gone', async () => {
    const { files, problems } = readFolder(join(root, 'nowhere'));
    expect(files).toEqual([]);
    expect(problems).toContainEqual({ path: '.', why: 'unreadable' });
  });
});

describe('what is remembered', () => {
  it('is not read again while size and time are the same, and is once they are not', () => {
    putBook(entry());
    const memory: ReadMemory = new Map();
    const first = readFolder(root, memory);
    const again = readFolder(root, memory);
    for (const [index, file] of again.files.entries()) expect(file).toBe(first.files[index]);
    put(LOOK, entry('place: yard\n'));
    const changed = readFolder(root, memory).files.find((file) => file.path === LOOK);
    expect(changed?.text).toContain('yard');
    // The same number of bytes, at another time.
    put(LOOK, entry('place: shed\n'));
    const later = statSync(join(root, LOOK)).mtimeMs / 1000 + 5;
    utimesSync(join(root, LOOK), later, later);
    expect(readFolder(root, memory).files.find((file) => file.path === LOOK)?.text).toContain('shed');
  });

  it('is forgotten when the file is gone', () => {
    putBook(entry());
    const memory: ReadMemory = new Map();
    readFolder(root, memory);
    rmSync(join(root, LOOK));
    expect(readFolder(root, memory).files.map((file) => file.path)).not.toContain(LOOK);
    expect([...memory.keys()]).not.toContain(LOOK);
  });

  it('has the hash of the bytes, by which a seal would know the file', () => {
    putBook(entry());
    put('book.yaml', 'abc');
    const book = readFolder(root).files.find((file) => file.path === 'book.yaml');
    // SHA-256 of "abc": FIPS 180-2, appendix B.1.
    expect(book?.hash).toBe('ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad');
  });
});
