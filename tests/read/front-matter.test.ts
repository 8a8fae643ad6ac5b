import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkBook } from '../../src/check/check.js';
import type { BookFolder } from '../../src/read/folder.js';
import { quickFrontMatter, quickYaml } from '../../src/read/front-matter.js';
import { thoroughMarkdown, thoroughYaml } from '../../src/read/thorough.js';
import { AT_MOST, cpuTime } from '../spent.js';

const LOOK = 'entries/2026/2026-03-01-look.md';

function folderOf(files: Readonly<Record<string, string>>): BookFolder {
  const role = (path: string) =>
    path === 'book.yaml'
      ? ('book' as const)
      : path.startsWith('systems')
        ? ('system' as const)
        : ('entry' as const);
  const base = {
    'book.yaml': 'book: skiff\nsubject: { name: Skiff }\n',
    'systems/hull.md': '---\nsystem: hull\ntitle: Hull\n---\n',
  };
  return {
    root: '/nowhere',
    files: Object.entries({ ...base, ...files }).map(([path, text]) => ({
      path,
      role: role(path),
      text,
      hash: text,
    })),
    series: [],
    attachments: [],
    problems: [],
  };
}

async function check(text: string) {
  const start = cpuTime();
  const { book, diagnostics } = await checkBook(folderOf({ [LOOK]: text }), '2026-06-01');
  return {
    book,
    diagnostics,
    codes: diagnostics.map((found) => found.code),
    took: cpuTime() - start,
  };
}

function entry(more: string, body = ''): string {
  return `---\ndate: 2026-03-01\ntitle: Look\nsystems: [hull]\n${more}---\n${body}`;
}

describe('front matter that would run', () => {
  const run = 'globalThis.ran = true';

  it.each([
    ['js', `---js\n{ title: (() => { ${run} })() }\n---\n`],
    ['javascript', `---javascript\n${run}\n---\n`],
    ['coffee', `---coffee\n${run}\n---\n`],
    ['json', '---json\n{ "title": "x" }\n---\n'],
    ['toml', '---toml\ntitle = "x"\n---\n'],
    ['a language behind blanks', `---   js\n${run}\n---\n`],
    ['a language of any name', `---constructor\n${run}\n---\n`],
    ['a tag of JavaScript', `---\ntitle: !!js/function "function () { ${run} }"\n---\n`],
    ['a tag of JavaScript that is called', `---\ntitle: !!js/undefined ''\n${run}: x\n---\n`],
  ])('does not: %s', async (_what, text) => {
    expect(quickFrontMatter(text)).toBeNull();
    const { codes } = await check(text);
    expect(codes[0]).toMatch(/^(?:front-matter-language|yaml-tag)$/);
    expect((globalThis as { ran?: boolean }).ran).toBeUndefined();
  });
});

describe('what was read', () => {
  const bad = '---\ntitle: [x\n---\n';
  const good = '---\ntitle: x\nlist: [a]\n---\nProse.\n';

  it('is as bad the second time as the first', async () => {
    expect(quickFrontMatter(bad)).toBeNull();
    expect(quickFrontMatter(bad)).toBeNull();
    const first = await check(entry('place: [x\n'));
    const second = await check(entry('place: [x\n'));
    expect(first.diagnostics).toHaveLength(1);
    expect(second.diagnostics).toEqual(first.diagnostics);
  });

  it('is never shared between those who read it', () => {
    const first = quickFrontMatter(good);
    const second = quickFrontMatter(good);
    expect(first).toEqual(second);
    expect(first?.data).not.toBe(second?.data);
    const data = first?.data as { title: string; list: string[] };
    data.title = 'changed';
    data.list.push('more');
    expect(quickFrontMatter(good)?.data).toEqual({ title: 'x', list: ['a'] });
  });
});

describe('fences', () => {
  it.each([
    ['a block text with three hyphens in it', 'place: |\n  one\n  ---\n  two\n', 'one\n---\ntwo\n'],
    ['a quoted text with three hyphens in it', 'place: "one --- two"\n', 'one --- two'],
    ['a remark with three hyphens in it', 'place: one # ---\n', 'one'],
    ['a modeline for an editor', '# yaml-language-server: $schema=entry.schema.json\nplace: one\n', 'one'],
    ['more blanks behind the fences', 'place: one\n', 'one'],
  ])('end where they end, with %s', async (what, fields, due) => {
    const plain = entry(fields, 'Prose.\n\n---\n\nMore prose.\n');
    const text = what.startsWith('more') ? plain.replaceAll('---\n', '---  \t\n') : plain;
    const { codes, book } = await check(text);
    expect(codes).toEqual([]);
    expect(book?.entries[0]?.location).toBe(due);
    expect(book?.entries[0]?.body).toMatch(/^Prose\.\n\n---\s*\n\nMore prose\.\n$/);
  });

  it.each([
    ['---', 'front-matter-missing'],
    ['---\n', 'front-matter-missing'],
    ['----\n', 'front-matter-missing'],
    ['-----\ndate: 2026-03-01\n-----\n', 'front-matter-missing'],
    [' ---\ndate: 2026-03-01\n---\n', 'front-matter-missing'],
    ['\n---\ndate: 2026-03-01\n---\n', 'front-matter-missing'],
    ['--\ndate: 2026-03-01\n--\n', 'front-matter-missing'],
    ['+++\ndate = 2026-03-01\n+++\n', 'front-matter-missing'],
    ['---\ndate: 2026-03-01\n----\n', 'front-matter-missing'],
    ['---\ndate: 2026-03-01\n --- \n', 'front-matter-missing'],
    ['---\ndate: 2026-03-01\n---x\n', 'front-matter-missing'],
    ['---\n---\n', 'missing-field'],
    ['---\n\n---', 'missing-field'],
    ['---\n# nothing yet\n---\n', 'missing-field'],
    ['---\n~\n---\n', 'missing-field'],
  ])('%j has a word of its own', async (text, code) => {
    const { codes } = await check(text);
    expect(codes.length).toBeGreaterThan(0);
    expect(new Set(codes)).toEqual(new Set([code]));
  });
});

describe('front matter made to do harm', () => {
  it('unfolds no aliases', async () => {
    const levels = Array.from({ length: 9 }, (_, level) => {
      const items = Array.from({ length: 9 }, () => (level === 0 ? 'x' : `*a${level - 1}`));
      return `a${level}: &a${level} [${items.join(', ')}]`;
    });
    const { codes, took } = await check(entry(`${levels.join('\n')}\n`));
    expect(new Set(codes)).toEqual(new Set(['yaml-alias']));
    expect(codes.length).toBeLessThanOrEqual(50);
    expect(took).toBeLessThan(AT_MOST);
  });

  it('merges nothing: `<<` is a field like any other, and unknown', async () => {
    const { codes } = await check(entry('<<: { place: x }\n'));
    expect(codes).toEqual(['unknown-key']);
  });

  it.each([
    ['at the top', '__proto__: { polluted: true }\nconstructor: { prototype: { polluted: true } }\n', 2],
    ['in a list', 'hours:\n  - { by: owner, spent: 1 h, __proto__: { polluted: true } }\n', 1],
    ['in quotes', '"__proto__": { polluted: true }\n', 1],
    ['among names', 'measurements:\n  - { what: x, value: 1 m, under: { __proto__: 1 m } }\n', 1],
    ['as a point', 'measurements:\n  - __proto__: 1 m\n', 2],
    ['as a system that there is not', 'measurements:\n  - constructor.prototype: 1 m\n', 1],
    ['as a name that objects have', 'measurements:\n  - hull.constructor: 1 m\n', 1],
  ])('changes nothing beside itself through `__proto__` %s', async (_what, fields, count) => {
    const { diagnostics } = await check(entry(`${fields}`));
    const named = diagnostics.filter((found) => found.code !== 'unknown-person');
    expect(named).toHaveLength(count);
    expect(({} as { polluted?: boolean }).polluted).toBeUndefined();
  });

  it.each([
    ['brackets', `place: ${'['.repeat(20_000)}\n`],
    ['closed brackets', `place: ${'['.repeat(5_000)}${']'.repeat(5_000)}\n`],
    ['braces', `place: ${'{a: '.repeat(5_000)}1${'}'.repeat(5_000)}\n`],
    ['hyphens', `${'- '.repeat(5_000)}x\n`],
    ['indentation', `${Array.from({ length: 250 }, (_, n) => `${' '.repeat(n)}a:`).join('\n')}\n`],
    ['quotes', `place: ${'"'.repeat(20_000)}\n`],
    ['question marks', `${'? '.repeat(5_000)}x\n`],
    ['anchors', `place: ${'&a '.repeat(5_000)}x\n`],
    ['tags', `place: ${'!a '.repeat(5_000)}x\n`],
    ['colons', `place${':'.repeat(20_000)}\n`],
    ['commas', `place: [${','.repeat(20_000)}]\n`],
    ['pipes', `${'a: |\n'.repeat(5_000)}`],
    ['remarks', `${'# x\n'.repeat(10_000)}`],
    ['blank lines', '\n'.repeat(50_000)],
    ['keys, all different', `${Array.from({ length: 6_500 }, (_, n) => `k${n}: 1`).join('\n')}\n`],
    ['keys, all the same', 'place: x\n'.repeat(6_500)],
    ['a key without end', `${'k'.repeat(50_000)}: x\n`],
    ['keys in braces', `place: { ${Array.from({ length: 5_000 }, (_, n) => `k${n}: 1`).join(', ')} }\n`],
  ])('is told of soon: %s without end', async (_what, fields) => {
    const { codes, diagnostics, took } = await check(entry(fields));
    expect(took).toBeLessThan(AT_MOST);
    expect(codes.length).toBeLessThanOrEqual(60);
    for (const { span } of diagnostics) expect(span.line).toBeGreaterThanOrEqual(1);
    if (!/remarks|blank/.test(_what)) expect(codes.length).toBeGreaterThan(0);
  });

  it('is not read where it has more than 64,000 letters: 20,000 keys, say', async () => {
    const { codes, took } = await check(
      entry(`${Array.from({ length: 20_000 }, (_, n) => `k${n}: 1`).join('\n')}\n`),
    );
    expect(codes).toEqual(['front-matter-too-large']);
    expect(took).toBeLessThan(AT_MOST);
  });
});

describe('values of YAML 1.2', () => {
  const cases: readonly (readonly [string, unknown])[] = [
    ['no', 'no'],
    ['yes', 'yes'],
    ['off', 'off'],
    ['true', true],
    ['010', 10],
    ['0o17', 15],
    ['0x1F', 31],
    ['0b11', '0b11'],
    ['12:30', '12:30'],
    ['12:30:45', '12:30:45'],
    ['2024-13-45', '2024-13-45'],
    ['2026-04-18', '2026-04-18'],
    ['2026-04-18T10:00:00Z', '2026-04-18T10:00:00Z'],
    ['1_000', '1_000'],
    ['1,250', '1,250'],
    ['.nan', Number.NaN],
    ['.inf', Number.POSITIVE_INFINITY],
    ['~', null],
    ['null', null],
    ['', null],
    ['3.10', 3.1],
    ['12e03', 12_000],
    ['318 ± 6 Ah', '318 ± 6 Ah'],
  ];

  it.each(cases)('%j is read as it is meant, both ways', (written, due) => {
    expect(quickYaml(`a: ${written}\n`)?.data).toEqual({ a: due });
    expect(thoroughYaml(`a: ${written}\n`).data).toEqual({ a: due });
    expect(thoroughMarkdown(`---\na: ${written}\n---\n`).data).toEqual({ a: due });
  });

  it('are the same wherever the computer stands', () => {
    const script = `
      import { quickYaml } from './src/read/front-matter.ts';
      import { thoroughYaml } from './src/read/thorough.ts';
      const text = ${JSON.stringify(cases.map(([written], n) => `k${n}: ${written}`).join('\n'))};
      const shown = (data) => JSON.stringify(data, (_key, value) => Number.isNaN(value) ? 'nan' : value);
      process.stdout.write(shown(quickYaml(text).data) + '\\n' + shown(thoroughYaml(text).data));
    `;
    const seen = ['America/New_York', 'UTC', 'Pacific/Kiritimati'].map((TZ) => {
      const { stdout, stderr, status } = spawnSync(
        process.execPath,
        ['--import', 'tsx', '--input-type', 'module', '--eval', script],
        { cwd: join(import.meta.dirname, '../..'), env: { ...process.env, TZ }, encoding: 'utf8' },
      );
      expect(status, stderr).toBe(0);
      return stdout;
    });
    const [first, second] = (seen[0] ?? '').split('\n');
    expect(first).toContain('"2026-04-18"');
    expect(second).toBe(first);
    expect(new Set(seen).size).toBe(1);
  });
});
