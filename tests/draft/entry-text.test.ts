import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { type EntryFile, entrySchema } from '../../schemas/entry.js';
import { type Draft, emptyDraft, FIELDS, LISTS, readDraft } from '../../src/draft/draft.js';
import { answerAt, bodyOf, entryText } from '../../src/draft/entry-text.js';
import { quickFrontMatter, splitFences } from '../../src/read/front-matter.js';
import { thoroughMarkdown } from '../../src/read/thorough.js';

const NONE = { modeline: null, facts: null };

/** Every text there is, with more than a fair share of what YAML takes for a sign of its own. */
const sly = fc.constantFrom(
  ...['', ' ', '-', '---', '- a', 'a: b', ': a', 'a #b', '#a', '&a', '*a', '!a', '|', '>', '%a', '@a', '`a'],
  ...['yes', 'no', 'on', 'off', 'Null', '~', 'true', '.nan', '.inf', '-.inf', '0x1F', '0o17', '1e3', '12:30'],
  ...[
    '010',
    '007',
    '3.10',
    '1_000',
    '12e03',
    '14',
    '-4',
    '+4',
    '2024-13-45',
    '2026-04-18',
    '<<',
    '=',
    '"',
    "'",
  ],
  ...['{', '}', '[', ']', ', ', 'a, b', 'a}', "it's", 'a\nb', 'a\r\nb', '\t', 'a\t', 'a ', ' a', '\\', '\\n'],
  ...[
    '\u0085',
    '\u2028',
    '\u2029',
    '\ufeff',
    '\ud800',
    '\u0000',
    '\u007f',
    '\u009f',
    '🜁',
    'Ω',
    'é',
    'e\u0301',
  ],
  ...['318 ± 6 Ah', '27 1/2 in', '5 ft 3 in', `5' 3"`, '-4 °C', '1.265 SG', '> 500 MΩ', '12,7 V', '?', '? a'],
);
const text = fc.oneof(
  sly,
  fc.string({ unit: 'binary' }),
  fc.string(),
  fc.array(sly).map((all) => all.join('')),
);
const name = fc.stringMatching(/^[a-z0-9]{1,6}(?:-[a-z0-9]{1,6}){0,2}$/);
const ref = fc.tuple(name, name).map(([system, own]) => `${system}.${own}`);

function listOf(list: keyof typeof FIELDS): fc.Arbitrary<readonly object[]> {
  const forms = {
    text,
    flag: fc.constant(true as const),
    names: fc.array(text, { maxLength: 3 }),
    map: fc.dictionary(name, text, { maxKeys: 3, noNullPrototype: true }),
  };
  const fields = Object.fromEntries(
    Object.entries(FIELDS[list] as Record<string, keyof typeof forms>).map(([key, form]) => [
      key,
      key === 'point' || key === 'meter' || key === 'test' ? ref : forms[form],
    ]),
  );
  const due: Record<string, string[]> = {
    hours: ['by', 'spent'],
    meters: ['meter', 'reads'],
    measurements: ['value'],
    tests: ['test', 'readings'],
    parts: ['part', 'move'],
    decisions: ['decision', 'question', 'chose', 'because'],
    opens: ['item', 'what'],
    photos: ['file', 'alt'],
  };
  return fc.array(fc.record(fields, { requiredKeys: due[list] ?? [], noNullPrototype: true }), {
    maxLength: 4,
  });
}

/** Drafts with any text in any place; only names are names. */
const drafts: fc.Arbitrary<Draft> = fc
  .record({
    ...(Object.fromEntries(LISTS.map((list) => [list, listOf(list)])) as Record<
      string,
      fc.Arbitrary<unknown>
    >),
    date: text,
    title: text,
    place: text,
    systems: fc.array(name, { maxLength: 3 }),
    closes: fc.array(name, { maxLength: 3 }),
    done: fc.array(ref, { maxLength: 3 }),
    prose: text,
  })
  .map((made) => ({ ...emptyDraft(''), ...made }));

/** What an entry's front matter says, as answers: short forms written out, lists that are left out empty. */
function draftOf(data: Record<string, unknown>, body: string): Draft {
  const readings = (data['measurements'] ?? []) as Record<string, string>[];
  const measurements = readings.map((reading) => {
    const [[key, value] = ['', '']] = Object.entries(reading);
    return 'value' in reading ? reading : { point: key, value };
  });
  return { ...emptyDraft(''), ...data, measurements, prose: body.replace(/^\n/, '') } as unknown as Draft;
}

function expected(draft: Draft): Draft {
  return { ...draft, prose: bodyOf(draft.prose) };
}

describe('the text of an entry', () => {
  it('says what the draft says, whatever stands in it, to the parser that reads books', () => {
    fc.assert(
      fc.property(drafts, (draft) => {
        const made = entryText(draft, NONE);
        const close = thoroughMarkdown(made);
        expect(close.problems).toEqual([]);
        expect(draftOf(close.data as Record<string, unknown>, close.body)).toEqual(expected(draft));
        const quick = quickFrontMatter(made);
        if (quick !== null) expect(quick.data).toEqual(close.data);
      }),
      { numRuns: 400 },
    );
  });

  it('says the same to another reader of YAML 1.2 and to a strict one', () => {
    fc.assert(
      fc.property(drafts, (draft) => {
        const fenced = splitFences(entryText(draft, NONE));
        expect(fenced).not.toBeNull();
        const data = parse(fenced?.yaml ?? '', { strict: true, prettyErrors: false }) as Record<
          string,
          unknown
        >;
        expect(draftOf(data, fenced?.body ?? '')).toEqual(expected(draft));
      }),
      { numRuns: 150 },
    );
  });

  it('is the same for the same answers, in whatever order their fields came', () => {
    fc.assert(
      fc.property(drafts, (draft) => {
        const turned = Object.fromEntries(
          Object.entries(draft).map(([key, value]) => [
            key,
            LISTS.includes(key as 'hours')
              ? (value as object[]).map((item) => Object.fromEntries(Object.entries(item).reverse()))
              : value,
          ]),
        ) as unknown as Draft;
        expect(entryText(turned, NONE)).toBe(entryText(draft, NONE));
      }),
    );
  });

  it('has each answer on a line of its own, which is found again', () => {
    fc.assert(
      fc.property(drafts, fc.boolean(), (draft, hasModeline) => {
        const around = { modeline: hasModeline ? '# a line' : null, facts: null };
        const lines = entryText(draft, around).split('\n');
        for (const list of LISTS) {
          for (const index of draft[list].keys()) {
            const at = lines.findIndex((_, line) => {
              const path = answerAt(draft, around, line + 1);
              return path?.[0] === list && path[1] === index;
            });
            expect(lines[at]).toMatch(/^ {2}- /);
          }
        }
      }),
    );
  });

  it('looks as a person would write it', () => {
    const draft: Draft = {
      ...emptyDraft('2026-04-18'),
      title: "Oil: the engine's own",
      systems: ['engine', 'house-dc'],
      place: 'the yard, shed 2',
      hours: [{ by: 'owner', spent: '3.5 h' }],
      meters: [{ meter: 'engine.hours', reads: '1243.6 h' }],
      measurements: [
        { point: 'house-dc.capacity', value: '318 ± 6 Ah' },
        { under: { ambient: '19 °C' }, with: 'dmm', value: '12.71 V', point: 'house-dc.rest-voltage' },
        { what: 'battery box, inside length', value: '27 1/2 in', system: 'house-dc' },
      ],
      tests: [{ test: 'house-dc.capacity-test', readings: { capacity: '318 Ah', 'end-voltage': '10.5 V' } }],
      parts: [{ part: 'filter', move: 'fitted', what: 'oil filter', cost: '18.00 EUR' }],
      opens: [{ item: 'fix-leak', what: 'Stop the leak at the sump', by: '2026-06-01', safety: true }],
      closes: ['change-oil'],
      done: ['engine.oil'],
      photos: [{ file: 'photos/2026/2026-04-18-sump.jpg', alt: 'The sump, wet' }],
      prose: '\r\nAll out, all in.\r\n\r\nTwo litres more than the book says.  \n\n',
    };
    expect(entryText(draft, NONE)).toBe(`---
date: 2026-04-18
title: "Oil: the engine's own"
systems: [engine, house-dc]
place: "the yard, shed 2"
hours:
  - { by: owner, spent: 3.5 h }
meters:
  - { meter: engine.hours, reads: 1243.6 h }
measurements:
  - house-dc.capacity: 318 ± 6 Ah
  - { point: house-dc.rest-voltage, value: 12.71 V, with: dmm, under: { ambient: 19 °C } }
  - { what: "battery box, inside length", value: 27 1/2 in, system: house-dc }
tests:
  - { test: house-dc.capacity-test, readings: { capacity: 318 Ah, end-voltage: 10.5 V } }
parts:
  - { part: filter, move: fitted, what: oil filter, cost: 18.00 EUR }
opens:
  - { item: fix-leak, what: Stop the leak at the sump, by: 2026-06-01, safety: true }
closes:
  - change-oil
done:
  - engine.oil
photos:
  - { file: photos/2026/2026-04-18-sump.jpg, alt: "The sump, wet" }
---

All out, all in.

Two litres more than the book says.
`);
    const { prose: _, ...fields } = draft;
    // The compiler holds the draft to the format, and so does the schema.
    const asFile: Partial<EntryFile> = fields as EntryFile;
    expect(entrySchema.safeParse(asFile).success).toBe(true);
  });
});

describe('a draft that was kept', () => {
  it('comes back as it was', () => {
    fc.assert(
      fc.property(drafts, (draft) => {
        expect(readDraft(JSON.parse(JSON.stringify(draft)))).toEqual(draft);
      }),
    );
  });

  it('is read from anything at all without a fault, and holds nothing that is no field', () => {
    fc.assert(
      fc.property(
        fc.jsonValue(),
        fc.dictionary(fc.constantFrom(...LISTS, 'title'), fc.jsonValue()),
        (any, some) => {
          expect(() => readDraft(any)).not.toThrow();
          const read = readDraft({ date: '2026-04-18', extra: 1, ...some });
          expect(Object.keys(read ?? {}).sort()).toEqual(Object.keys(emptyDraft('')).sort());
          expect(() => entryText(read as Draft, NONE)).not.toThrow();
        },
      ),
    );
  });
});
