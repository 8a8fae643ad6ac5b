import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ALL_CODES, CODES } from '../../src/check/codes.js';
import type { Diagnostic } from '../../src/check/diagnostic.js';
import { spanOf } from '../../src/check/placing.js';
import { reportAnnotations, reportJson } from '../../src/check/report/machine.js';
import { type Paint, reportText, summaryLine } from '../../src/check/report/text.js';

function found(text: string, marked: string, more: Partial<Diagnostic> = {}): Diagnostic {
  const offset = text.indexOf(marked);
  const span = spanOf(text, offset, marked.length);
  return {
    code: 'unknown-key',
    severity: 'error',
    file: 'book.yaml',
    span,
    excerpt: text.split('\n')[span.line - 1] ?? '',
    message: 'A message.',
    hint: null,
    fix: null,
    ...more,
  };
}

/** The line with the marks, and what stands above them. */
function marksOf(report: string): { readonly line: string; readonly marked: string } {
  const lines = report.split('\n');
  const at = lines.findIndex((line) => /^ +\| *\^+$/.test(line));
  const marks = lines[at] ?? '';
  const line = lines[at - 1] ?? '';
  return { line, marked: line.slice(marks.indexOf('^'), marks.lastIndexOf('^') + 1) };
}

describe('the report for a person', () => {
  it('marks the stretch in its line, between where and how to mend it', () => {
    const text = 'book: skiff\nsubjct: { name: Skiff }\n';
    const fix = { title: 'Write `subject`', edits: [] };
    const diagnostic = found(text, 'subjct', { hint: 'Did you mean `subject`?', fix });
    expect(reportText([diagnostic])).toBe(
      [
        'book.yaml:2:1 error unknown-key',
        '  A message.',
        '      2 | subjct: { name: Skiff }',
        '        | ^^^^^^',
        '  Hint: Did you mean `subject`?',
        '  With --fix: Write `subject`.',
        '',
      ].join('\n'),
    );
  });

  it('keeps a blank line between two, and none around them', () => {
    const diagnostic = found('a: b', 'a');
    expect(reportText([])).toBe('');
    expect(reportText([diagnostic, diagnostic]).split('\n\n')).toHaveLength(2);
    expect(reportText([diagnostic])).not.toMatch(/^\n|\n\n/);
  });

  it.each([
    ['a tab before it', '\tplace: yard', 'yard'],
    ['a mark in a long line', `${'x'.repeat(400)} here ${'y'.repeat(400)}`, 'here'],
    ['a mark at the end of a long line', `${'x'.repeat(400)} here`, 'here'],
    ['a mark at the beginning of a long line', `here ${'y'.repeat(400)}`, 'here'],
  ])('marks the right letters with %s', (_what, text, marked) => {
    const { line, marked: shown } = marksOf(reportText([found(text, marked)]));
    expect(shown).toBe(marked);
    expect(line.length).toBeLessThan(180);
    expect(line.includes('…')).toBe(text.length > 160);
  });

  it('gives wide letters two columns and accents none', () => {
    const report = reportText([found('船の e\u0301: yard', 'yard')]);
    // Two wide letters, a blank, an e with its accent, a colon and a blank: eight columns.
    expect(report).toContain(`        | ${' '.repeat(8)}^^^^`);
  });

  it('marks only the first line of what goes over several', () => {
    const text = 'about: |\n  one\n  two\n';
    const { marked } = marksOf(reportText([found(text, '|\n  one\n  two')]));
    expect(marked).toBe('|');
  });

  it('shows no line where there is nothing to mark', () => {
    const none = found('', '', { span: spanOf('', 0, 0), excerpt: '' });
    expect(reportText([none])).toBe('book.yaml:1:1 error unknown-key\n  A message.\n');
  });

  it('paints through what it is given, and nothing by itself', () => {
    const styles: string[] = [];
    const paint: Paint = (style, text) => {
      styles.push(style);
      return `<${style}>${text}</${style}>`;
    };
    const diagnostic = found('a: b', 'a', { severity: 'warning', hint: 'Do.' });
    const painted = reportText([diagnostic], paint);
    expect(new Set(styles)).toEqual(new Set(['strong', 'warning', 'faint']));
    expect(painted.replaceAll(/<\/?[a-z]+>/g, '')).toBe(reportText([diagnostic]));
  });

  it.each([
    [[], 12, '12 files checked: nothing wrong.'],
    [['error'], 1, '1 file checked: 1 error.'],
    [['error', 'error', 'warning'], 3, '3 files checked: 2 errors and 1 warning.'],
    [['warning', 'warning'], 3, '3 files checked: 2 warnings.'],
  ] as const)('counts %j in %d files', (severities, files, due) => {
    const diagnostics = severities.map((severity) => found('a: b', 'a', { severity }));
    expect(summaryLine(diagnostics, files)).toBe(due);
  });
});

describe('the report as JSON', () => {
  it('holds all there is to know, with a version', () => {
    const fix = { title: 'x', edits: [{ file: 'book.yaml', offset: 0, length: 1, text: 'ä' }] };
    const diagnostics = [found('a: b', 'a', { fix }), found('a: b', 'b')];
    expect(JSON.parse(reportJson(diagnostics))).toEqual({ version: 1, diagnostics });
    expect(JSON.parse(reportJson([]))).toEqual({ version: 1, diagnostics: [] });
    expect(reportJson([])).toMatch(/\}\n$/);
  });
});

describe('annotations for code hosts', () => {
  it('are one line each, whatever a file is called and a message says', () => {
    const diagnostic = found('a: b', 'b', {
      file: 'entries/50%, a: b.md',
      message: 'One\nof\r100%: ::error::',
      hint: 'Mend, it: so.',
    });
    expect(reportAnnotations([diagnostic])).toBe(
      '::error file=entries/50%25%2C a%3A b.md,line=1,endLine=1,col=4,endColumn=5,title=unknown-key' +
        '::One%0Aof%0D100%25: ::error:: Mend, it: so.\n',
    );
  });

  it('give no columns where the mark goes over several lines', () => {
    const text = 'about: |\n  one\n';
    expect(reportAnnotations([found(text, '|\n  one', { severity: 'warning' })])).toBe(
      '::warning file=book.yaml,line=1,endLine=2,title=unknown-key::A message.\n',
    );
  });
});

describe('the catalogue of problems', () => {
  it('says of every one what it is, why it matters and how to mend it, in whole sentences', () => {
    for (const code of ALL_CODES) {
      const { title, what, why, mend } = CODES[code];
      expect(title, code).toMatch(/^[A-Z].*[^.]$/);
      for (const sentence of [what, why, mend]) expect(sentence, code).toMatch(/^[A-Z`].*[.`]$/s);
    }
  });

  it('is sorted, so that a code is found in it', () => {
    const constant = readFileSync(join(import.meta.dirname, '../../src/check/codes.ts'), 'utf8');
    const written = [...constant.matchAll(/^ {2}'?([a-z0-9-]+)'?: (?:error|warning)\(/gm)].map((m) => m[1]);
    expect(written).toEqual(ALL_CODES);
  });

  it('has no sentence that says less than it should: no message of the fixtures is without an end', () => {
    const folder = join(import.meta.dirname, 'codes');
    const messages = readdirSync(folder).flatMap((name) =>
      [
        ...readFileSync(join(folder, name), 'utf8').matchAll(/ (?:error|warning) [a-z0-9-]+\n {2}(.*)$/gm),
      ].map((match) => match[1] ?? ''),
    );
    expect(messages.length).toBeGreaterThan(150);
    expect(messages.filter((message) => !/^[A-Z`“0-9€-].*\.$/.test(message))).toEqual([]);
    expect(messages.filter((message) => /undefined|null|\[object|NaN/.test(message))).toEqual([]);
  });
});
