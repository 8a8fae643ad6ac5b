import type { CheckedBook } from '../../check/model.js';

/** Standards and rules that the pack, or the book, refers to. */

/** What the figures of the pack are reckoned by. */
export const METHODS: readonly (readonly [what: string, source: string])[] = [
  [
    'Whether a value agrees with what is stated or required, by its whole interval',
    'JCGM 106:2012, clause 8',
  ],
  ['Uncertainty of values worked out from others', 'JCGM 100:2008, clause 5'],
  ['Kinds of quantity and their names', 'ISO 80000'],
  ['Whether there is a trend at all', 'Mann 1945; Kendall 1975'],
  ['How fast it goes', 'Theil 1950; Sen 1968'],
];

/** Bodies whose papers go by a number. */
const NUMBERED =
  /\b(?:ABYC [A-Z]-\d+|(?:ISO(?:\/IEC)?|IEC|EN(?: ISO)?|BS(?: EN)?(?: ISO)?|DIN|NFPA|JCGM|\d+ CFR) ?\d[\d.:-]*\d)\b/g;

/** Standards that the book itself names, in its specs, tests, notes and prose: each once, in order. */
export function standardsNamed(book: CheckedBook): readonly string[] {
  const texts = [
    ...[...book.systems.values()].flatMap((system) => [
      system.body,
      ...[...system.specs.values()].flatMap(({ source, title }) => [source ?? '', title]),
      ...[...system.tests.values()].flatMap(({ title, steps }) => [title, ...steps]),
      ...[...system.upkeep.values()].map(({ what }) => what),
    ]),
    ...book.entries.flatMap((entry) => [
      entry.title,
      entry.body,
      ...[...entry.readings, ...entry.statements, ...entry.tests].map(({ note }) => note ?? ''),
    ]),
  ];
  return [...new Set(texts.flatMap((text) => text.match(NUMBERED) ?? []))].sort();
}
