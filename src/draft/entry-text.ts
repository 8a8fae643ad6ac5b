import type { BookFacts } from '../reckon/facts.js';
import { type Draft, FIELDS, type FieldValue, LISTS, type ListName } from './draft.js';
import { toFillIn } from './to-fill-in.js';
import { flowMap, scalar } from './yaml.js';

/** From the answers to the text of an entry. */

/** Where an answer stands: the list it is in and its number there, or the name of a field of the entry. */
export type AnswerPath = readonly [field: keyof Draft, index?: number];

interface Line {
  readonly text: string;
  readonly path: AnswerPath | null;
}

/** What stands around the answers. */
export interface Around {
  /** The line by which an editor finds the schema of the file, or null. */
  readonly modeline: string | null;
  /** The book, for what can still be filled in; null leaves that out. */
  readonly facts: BookFacts | null;
}

/**
 * The text of an entry. The same answers give the same bytes. An entry that says nothing yet but what it is
 * about is one that somebody goes on with in an editor: what can be filled in stands in it as comments.
 */
export function entryText(draft: Draft, around: Around): string {
  const lines = layout(draft, around).map(({ text }) => text);
  return `${['---', ...lines, '---', ''].join('\n')}\n${bodyOf(draft.prose)}`;
}

/** The answer that stands in a line of the text, from 1; null for a line without one. */
export function answerAt(draft: Draft, around: Around, line: number): AnswerPath | null {
  const lines = layout(draft, around);
  const found = lines[line - 2];
  if (found !== undefined) return found.path;
  return line > lines.length + 2 ? ['prose'] : null;
}

/** Whether nothing is said yet but what the entry is about and what is done with it. */
export function isBare(draft: Draft): boolean {
  return (
    LISTS.every((name) => draft[name].length === 0) && draft.done.length === 0 && bodyOf(draft.prose) === ''
  );
}

/** What stands between the two lines of hyphens: in the order of the format, each answer on one line. */
function layout(draft: Draft, { modeline, facts }: Around): readonly Line[] {
  const open = facts !== null && isBare(draft) ? toFillIn(draft, facts) : { before: [], after: [] };
  const remarks = (texts: readonly string[]) => texts.map((text): Line => ({ text, path: null }));
  return [
    ...remarks(modeline === null ? [] : [modeline]),
    ...headLines(draft),
    ...remarks(open.before),
    ...listLines(draft, 'hours'),
    ...listLines(draft, 'meters'),
    ...listLines(draft, 'measurements'),
    ...listLines(draft, 'tests'),
    ...listLines(draft, 'parts'),
    ...listLines(draft, 'decisions'),
    ...listLines(draft, 'opens'),
    ...wordLines(draft, 'closes'),
    ...remarks(open.after),
    ...wordLines(draft, 'done'),
    ...listLines(draft, 'photos'),
  ];
}

function headLines({ date, title, systems, place }: Draft): readonly Line[] {
  return [
    { text: `date: ${scalar(date)}`, path: ['date'] },
    { text: `title: ${scalar(title)}`, path: ['title'] },
    { text: `systems: [${systems.map(scalar).join(', ')}]`, path: ['systems'] },
    ...(place === '' ? [] : [{ text: `place: ${scalar(place)}`, path: ['place'] } as const]),
  ];
}

function listLines(draft: Draft, name: ListName): readonly Line[] {
  const items: readonly object[] = draft[name];
  if (items.length === 0) return [];
  return [
    { text: `${name}:`, path: [name] },
    ...items.map((item, index): Line => ({ text: `  - ${answer(item, name)}`, path: [name, index] })),
  ];
}

function wordLines(draft: Draft, name: 'closes' | 'done'): readonly Line[] {
  if (draft[name].length === 0) return [];
  return [
    { text: `${name}:`, path: [name] },
    ...draft[name].map((word, index): Line => ({ text: `  - ${scalar(word)}`, path: [name, index] })),
  ];
}

/** One answer: a reading of a point and nothing besides in the short form, all others in full. */
function answer(item: object, name: ListName): string {
  const fields = Object.entries(item) as [string, FieldValue][];
  const { point, value } = Object.fromEntries(fields);
  if (
    name === 'measurements' &&
    fields.length === 2 &&
    typeof point === 'string' &&
    typeof value === 'string'
  )
    return `${scalar(point)}: ${scalar(value)}`;
  const order = Object.keys(FIELDS[name]);
  return flowMap(
    fields
      .sort(([a], [b]) => order.indexOf(a) - order.indexOf(b))
      .map(([key, said]) => [key, written(said)] as const),
  );
}

function written(value: FieldValue): string {
  if (value === true) return 'true';
  if (typeof value === 'string') return scalar(value);
  if (isNames(value)) return `[${value.map(scalar).join(', ')}]`;
  return flowMap(Object.entries(value).map(([key, said]) => [scalar(key), scalar(said)] as const));
}

function isNames(value: FieldValue): value is readonly string[] {
  return Array.isArray(value);
}

/**
 * Prose as the body of a file: line ends of one sort, nothing that is no letter, no blank lines around it.
 * Empty where there is none.
 */
export function bodyOf(prose: string): string {
  const clean = prose
    .replaceAll(/\r\n?|[\u2028\u2029]/g, '\n')
    .replaceAll(/[^\P{Cc}\n\t]|\ufeff/gu, '')
    .replaceAll(/\p{Cs}/gu, '\ufffd')
    .replace(/^(?:[ \t]*\n)+/, '')
    .trimEnd();
  return clean.trim() === '' ? '' : `${clean}\n`;
}
