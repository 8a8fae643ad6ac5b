import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ResponseError } from 'vscode-jsonrpc/node';
import {
  CodeActionRequest,
  CompletionRequest,
  DefinitionRequest,
  HoverRequest,
  PrepareRenameRequest,
  ReferencesRequest,
  RenameRequest,
} from 'vscode-languageserver-protocol/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { bookOf, type Editor, editor, inRange } from './client.js';

/** Whatever is typed, and wherever the cursor is then, the server answers or says why not. */

const FILES = {
  'book.yaml': 'book: b\nsubject: { name: B }\npeople:\n  me: { name: me }\n',
  'systems/dc.md': `---
system: dc
title: DC
points:
  volts: { quantity: voltage, unit: V }
derived:
  double: { from: 2 * volts, quantity: voltage }
tests:
  look: { requires: { volts: ">= 12 V" } }
---
`,
  'entries/2026/2026-01-02-a.md': `---
date: 2026-01-02
title: A
systems: [dc]
measurements:
  - dc.volts: 12.5 V
opens:
  - { item: todo, what: Do it, waits-on: [part bits], rests-on: [dc.double] }
parts: [{ part: bits, move: ordered }]
---
And :reading[12.6 V]{point="dc.volts" under-load="3 A"} later.
`,
  'plans/power.yaml':
    'title: P\ncases: { c: { title: C } }\nstores: { s: { capacity: 2 Ah, voltage: dc.volts } }\n',
} as const;
type Path = keyof typeof FILES;
const PATHS = Object.keys(FILES) as Path[];

interface Slip {
  readonly path: Path;
  readonly at: number;
  readonly drop: number;
  readonly put: string;
}

const SLIP = fc.record({
  path: fc.constantFrom(...PATHS),
  at: fc.double({ min: 0, max: 1, noNaN: true }),
  drop: fc.nat({ max: 30 }),
  put: fc.oneof(
    fc.constantFrom(
      '',
      '---\n',
      '---',
      '\r\n',
      '\n  - ',
      '{ ',
      ' }',
      '"',
      "'",
      ': ',
      '|\n',
      '&a *a ',
      '!!js ',
      '\u0000',
      '\ud800',
    ),
    fc.constantFrom(
      ':reading[',
      ']{point="',
      '}',
      '$1',
      '../',
      'dc.volts',
      'dc.',
      '𝟚',
      '\ufeff',
      '[[[[[[',
      '? ',
    ),
    fc.string({ maxLength: 6 }),
  ),
});

function slipped(text: string, { at, drop, put }: Slip): string {
  const start = Math.floor(at * text.length);
  return text.slice(0, start) + put + text.slice(start + drop);
}

/** Asks everything at a place; only refusals, with their reason, may come back as errors. */
async function askAll(at: Editor, path: string, offset: number): Promise<void> {
  const document = TextDocument.create('', '', 0, at.text(path));
  const position = document.positionAt(offset);
  const here = { textDocument: { uri: at.uri(path) }, position };
  const whole = { start: { line: 0, character: 0 }, end: position };
  const answers = await Promise.allSettled([
    at.connection.sendRequest(CompletionRequest.type, here),
    at.connection.sendRequest(HoverRequest.type, here),
    at.connection.sendRequest(DefinitionRequest.type, here),
    at.connection.sendRequest(ReferencesRequest.type, { ...here, context: { includeDeclaration: true } }),
    at.connection.sendRequest(PrepareRenameRequest.type, here),
    at.connection.sendRequest(RenameRequest.type, { ...here, newName: 'other' }),
    at.connection.sendRequest(CodeActionRequest.type, {
      textDocument: here.textDocument,
      range: whole,
      context: { diagnostics: [] },
    }),
  ]);
  for (const answer of answers) {
    if (answer.status === 'fulfilled') continue;
    expect(answer.reason).toBeInstanceOf(ResponseError);
    expect((answer.reason as ResponseError<unknown>).message).not.toMatch(
      /Request .* failed|undefined|TypeError/,
    );
  }
  const [items] = answers;
  if (items?.status !== 'fulfilled' || !Array.isArray(items.value)) return;
  for (const { textEdit } of items.value) {
    // An edit of completion lies in one line, and the cursor in it.
    if (textEdit === undefined || !('range' in textEdit)) continue;
    expect(textEdit.range.start.line).toBe(position.line);
    expect(textEdit.range.end.line).toBe(position.line);
    expect(inRange(at.text(path), textEdit.range)).not.toContain('\n');
  }
}

describe('a language server and whatever is typed', () => {
  it('answers every question, and knows the book again when all is put right', {
    timeout: 120_000,
  }, async () => {
    const at = await editor(bookOf(FILES));
    for (const path of PATHS) at.open(path);
    await fc.assert(
      fc.asyncProperty(
        fc.array(SLIP, { minLength: 1, maxLength: 5 }),
        fc.constantFrom(...PATHS),
        fc.double({ min: 0, max: 1, noNaN: true }),
        async (slips, path, where) => {
          for (const slip of slips) at.replace(slip.path, slipped(at.text(slip.path), slip));
          await askAll(at, path, Math.floor(where * at.text(path).length));
          const last = slips.at(-1) as Slip;
          await askAll(
            at,
            last.path,
            Math.min(
              at.text(last.path).length,
              Math.floor(last.at * at.text(last.path).length) + last.put.length,
            ),
          );
          for (const file of PATHS) if (Math.abs(where * 10 - 5) < 2) at.replace(file, FILES[file]);
        },
      ),
      { numRuns: 150 },
    );
    for (const path of PATHS) at.replace(path, FILES[path]);
    at.type('entries/2026/2026-01-02-a.md', '12.5 V', '12.5 Vx');
    const [told, ...more] = await at.until(
      'entries/2026/2026-01-02-a.md',
      (all) => all.length === 1 && all[0]?.code === 'unknown-unit',
    );
    expect(more).toEqual([]);
    expect(inRange(at.text('entries/2026/2026-01-02-a.md'), told?.range as never)).toBe('Vx');
  });
});
