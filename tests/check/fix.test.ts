import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Diagnostic } from '../../src/check/diagnostic.js';
import { applyFixes } from '../../src/check/fix.js';
import { encodeLike } from '../../src/read/text.js';
import { checkWith, type Files, parseFixture } from './fixtures.js';

const LOOK = 'entries/2026/2026-03-01-look.md';

async function mend(files: Files) {
  const { folder, checked } = await checkWith(files);
  const texts = new Map(folder.files.map((file) => [file.path, file.text]));
  const mended = applyFixes(checked.diagnostics, (file) => texts.get(file) ?? '');
  return { texts, mended, diagnostics: checked.diagnostics };
}

/** The files as they are after the mends, with those that got another name under it. */
function afterMends(files: Files, mended: Files, diagnostics: readonly Diagnostic[]): Files {
  const after = new Map([...files, ...mended]);
  for (const { fix } of diagnostics) {
    if (fix?.rename === undefined) continue;
    const { from, to } = fix.rename;
    after.set(to, after.get(from) ?? '');
    after.delete(from);
  }
  return after;
}

function fixable(diagnostics: readonly Diagnostic[]): readonly Diagnostic[] {
  return diagnostics.filter((diagnostic) => diagnostic.fix !== null);
}

const FOLDER = join(import.meta.dirname, 'codes');
const cases = readdirSync(FOLDER).flatMap((name) =>
  parseFixture(readFileSync(join(FOLDER, name), 'utf8')).map((one) => ({
    ...one,
    name: `${name}: ${one.title}`,
  })),
);

describe('--fix', () => {
  it('leaves nothing that it could mend, in any of the fixtures', async () => {
    let mends = 0;
    for (const { files, name } of cases.filter(({ expected }) => expected.includes('With --fix'))) {
      const { mended, diagnostics } = await mend(files);
      mends += fixable(diagnostics).length;
      const again = await mend(afterMends(files, mended, diagnostics));
      expect(fixable(again.diagnostics), name).toEqual([]);
      expect(again.mended.size, name).toBe(0);
      // A mended file is read further than a broken one, so that something else may come to light in it.
      expect(again.diagnostics.length, name).toBeLessThanOrEqual(diagnostics.length);
    }
    expect(mends).toBeGreaterThan(8);
  }, 60_000);

  it('changes the marked stretches and nothing else, with the line ends that are there', async () => {
    const text = [
      '---',
      'date: 2026-03-01   # a day in March',
      "title: 'A look'",
      'systems: [ house-dc ]',
      'place:   007',
      'parts:',
      '  - { part: lamp, move: FITTED,   serial: 1_000, quantity: 2 }',
      'opens:',
      '  - { item: paint-box, what: "Paint: the box", Safety: yes, waits_on: [part lamp] }',
      '---',
      'Prose with 007 and FITTED.   ',
      '',
    ].join('\r\n');
    const { mended } = await mend(new Map([[LOOK, text]]));
    expect([...mended.keys()]).toEqual([LOOK]);
    const wished = text
      .replace('place:   007', 'place:   "007"')
      .replace('move: FITTED', 'move: fitted')
      .replace('Safety: yes', 'safety: yes')
      .replace('waits_on:', 'waits-on:');
    expect(mended.get(LOOK)).toBe(wished);
    const second = await mend(new Map([[LOOK, mended.get(LOOK) ?? '']]));
    expect(second.mended.get(LOOK)).toBe(wished.replace('safety: yes', 'safety: true'));
    const third = await mend(new Map([[LOOK, second.mended.get(LOOK) ?? '']]));
    expect(third.diagnostics).toEqual([]);
  });

  it('puts a point for a comma only where that can mean one number, one after the other', async () => {
    const text = (values: readonly string[]) =>
      `---\ndate: 2026-03-01\ntitle: Look\nsystems: [house-dc]\nmeasurements:\n${values
        .map((value, at) => `  - { what: shelf ${at}, value: "${value}" }\n`)
        .join('')}---\n`;
    const first = await mend(
      new Map([[LOOK, text(['12,4 ± 0,25 mm', '1,250 mm', '0,125 mm', '1,0625 mm'])]]),
    );
    const now = first.mended.get(LOOK) ?? '';
    expect(now).toBe(text(['12.4 ± 0,25 mm', '1,250 mm', '0,125 mm', '1.0625 mm']));
    const second = await mend(new Map([[LOOK, now]]));
    const then = second.mended.get(LOOK) ?? '';
    expect(then).toBe(text(['12.4 ± 0.25 mm', '1,250 mm', '0,125 mm', '1.0625 mm']));
    expect((await mend(new Map([[LOOK, then]]))).mended.size).toBe(0);
  });

  it('does not put a field under a name that is there already', async () => {
    const text =
      '---\ndate: 2026-03-01\ntitle: Look\nsystems: [house-dc]\nTitle: Another\nPLACE: the yard\n---\n';
    const { mended, diagnostics } = await mend(new Map([[LOOK, text]]));
    expect(diagnostics.map((found) => [found.code, found.fix === null])).toEqual([
      ['unknown-key', true],
      ['unknown-key', false],
    ]);
    expect(mended.get(LOOK)).toBe(text.replace('PLACE', 'place'));
  });

  it('keeps letters of more than one unit, and what stands behind them, in place', async () => {
    const text = `---\ndate: 2026-03-01\ntitle: "⚓️ 𝄞 ä"\nsystems: [house-dc]\nPlace: "𝄞"\n---\n`;
    const { mended } = await mend(new Map([[LOOK, text]]));
    expect(mended.get(LOOK)).toBe(text.replace('Place', 'place'));
  });

  it('makes of mends that touch each other only the first', () => {
    const at = (offset: number, length: number, put: string): Diagnostic => ({
      code: 'unknown-key',
      severity: 'error',
      file: 'book.yaml',
      span: { offset, length, line: 1, column: offset + 1, endLine: 1, endColumn: offset + length + 1 },
      excerpt: 'abcdefgh',
      message: 'x',
      hint: null,
      fix: { title: 'x', edits: [{ file: 'book.yaml', offset, length, text: put }] },
    });
    const mended = applyFixes([at(1, 2, 'XX'), at(2, 3, 'YY'), at(6, 1, '')], () => 'abcdefgh');
    expect(mended.get('book.yaml')).toBe('aXXdefh');
  });

  it('gives for edits that do not touch what they give one by one', () => {
    const pieces = fc.array(fc.tuple(fc.string({ minLength: 1 }), fc.string({ minLength: 1 }), fc.string()), {
      minLength: 1,
      maxLength: 8,
    });
    fc.assert(
      fc.property(pieces, (parts) => {
        const text = parts.map(([keep, take]) => keep + take).join('');
        let offset = 0;
        const diagnostics = parts.map(([keep, take, put]): Diagnostic => {
          const edit = { file: 'f', offset: offset + keep.length, length: take.length, text: put };
          offset += keep.length + take.length;
          const fix = { title: 'x', edits: [edit] };
          return { fix } as unknown as Diagnostic;
        });
        const due = parts.map(([keep, , put]) => keep + put).join('');
        expect(applyFixes(diagnostics, () => text).get('f')).toBe(due);
      }),
    );
  });

  it('keeps a byte order mark', () => {
    const marked = Buffer.from('\ufefftitle: x\n');
    expect(Buffer.from(encodeLike('title: "x"\n', marked)).toString()).toBe('\ufefftitle: "x"\n');
    expect(Buffer.from(encodeLike('title: "x"\n', Buffer.from('title: x\n'))).toString()).toBe(
      'title: "x"\n',
    );
  });
});
