import { type Kind, kindInfo, parseQuantity, unitOf } from '../quantity/index.js';
import { AS_POINT, type ConditionData, type FindHead, type FindPart, firstTexts, NONE } from './data.js';
import { type Steps, stretches } from './steps.js';
import { LIMITS, OUTCOMES, PLURALS, SORTS, STANDINGS } from './vocabulary.js';
import { type Lexicon, lexicon } from './words.js';

/** One condition as a search sees it; `si` is NaN for a text. */
export interface TableCondition {
  readonly name: string;
  readonly kind: number;
  readonly si: number;
  readonly words: string;
}

/** Records in columns, as far as they have come. Columns have room for all of them from the beginning. */
export interface Table {
  readonly head: FindHead;
  /** How many records have come. */
  readonly rows: number;
  readonly sort: Uint8Array;
  /** Days since 1970; NO_DAY where it is not known. */
  readonly day: Int32Array;
  readonly entry: Int32Array;
  readonly anchor: Int32Array;
  readonly system: Int32Array;
  readonly point: Int32Array;
  readonly ref: Int32Array;
  readonly title: Int32Array;
  readonly unit: Int32Array;
  readonly kind: Int32Array;
  /** The value in SI; NaN where there is none. */
  readonly si: Float64Array;
  /** Half-width in SI; NaN where it is not known. */
  readonly spread: Float64Array;
  /** Half-width that comes from the instrument, in SI; NaN elsewhere. */
  readonly instrument: Float64Array;
  /** The number as it was written; NaN where it is more than a number. */
  readonly plain: Float64Array;
  readonly under: Int32Array;
  readonly says: Int32Array;
  readonly how: Int32Array;
  readonly note: Int32Array;
  readonly state: Int32Array;
  readonly standing: Int8Array;
  readonly outcome: Int8Array;
  readonly limit: Int8Array;
  /** 1 where it was taken under other conditions than its point is compared at. */
  readonly apart: Int8Array;
  readonly written: readonly string[];
  readonly texts: readonly string[];
  readonly entries: readonly (readonly [id: string, title: number])[];
  readonly conditions: readonly (readonly TableCondition[])[];
  readonly index: TextIndex;
  /** Takes the next part in; until its last step the table is as it was. */
  readonly add: (part: FindPart) => Steps<void>;
}

/** The words of all texts, and which text is where among them. Text 0 is empty. */
export interface TextIndex {
  readonly lexicon: Lexicon;
  /** Numbers of the words of all texts behind each other, and where each text begins. */
  readonly words: () => readonly number[];
  readonly starts: () => readonly number[];
  /** The places in the index of a book's texts, entries' titles and sets of conditions. */
  readonly text: readonly number[];
  readonly under: readonly number[];
  readonly system: readonly number[];
  readonly point: readonly number[];
  readonly kind: readonly number[];
  readonly sort: readonly number[];
  readonly standing: readonly number[];
  readonly outcome: readonly number[];
  readonly limit: readonly number[];
}

const LIMIT_WORDS: Readonly<Record<(typeof LIMITS)[number], string>> = {
  inside: 'inside',
  outside: 'outside, out of limits',
  undecided: 'undecided',
  'no-limit': '',
  former: 'former, of what was there before',
};

const OUTCOME_WORDS: Readonly<Record<(typeof OUTCOMES)[number], string>> = {
  pass: 'pass passed',
  fail: 'fail failed',
  undecided: 'undecided',
};

/** Texts whose words are taken in in one step. */
const TEXT_STEP = 512;

/** An empty table for the records of a head. */
export function openTable(head: FindHead): Table {
  const size = head.records;
  const { index, addText } = openIndex(head);
  const texts = firstTexts(head.points);
  for (const text of texts) index.text.push(addText(text));
  const places = new Map(texts.map((text, at) => [text, at]));
  /** The place of a text, which other parts may have brought before. */
  const placeOf = (text: string): number => {
    const known = places.get(text);
    if (known !== undefined) return known;
    places.set(text, texts.length);
    index.text.push(addText(text));
    return texts.push(text) - 1;
  };
  const written: string[] = [];
  const entries: (readonly [string, number])[] = [];
  const conditions: (readonly TableCondition[])[] = [];
  const int = () => new Int32Array(size);
  const real = () => new Float64Array(size).fill(Number.NaN);
  const small = () => new Int8Array(size).fill(NONE);
  const columns = {
    sort: new Uint8Array(size),
    day: int(),
    entry: int(),
    anchor: int(),
    system: int(),
    point: int(),
    ref: int(),
    title: int(),
    unit: int(),
    kind: int(),
    si: real(),
    spread: real(),
    instrument: real(),
    plain: real(),
    under: int(),
    says: int(),
    how: int(),
    note: int(),
    state: int(),
    standing: small(),
    outcome: small(),
    limit: small(),
    apart: small(),
  };
  const table = {
    head,
    rows: 0,
    ...columns,
    written,
    texts,
    entries,
    conditions,
    index,
    *add(part: FindPart) {
      const text = new Int32Array(part.texts.length);
      for (const [at, words] of part.texts.entries()) {
        text[at] = placeOf(words);
        if (at % TEXT_STEP === 0) yield;
      }
      const units = unitsOf(head, part.name);
      const from = { text, units, entry: entries.length, under: conditions.length };
      for (const [id, title] of part.entries) entries.push([id, text[title] as number]);
      for (const set of part.under) {
        const read = set.map((condition) => conditionOf(head, units, condition));
        conditions.push(read);
        index.under.push(addText(read.map(({ name, words }) => `${name} ${words}`).join(' ')));
      }
      yield;
      table.rows = yield* addColumns(table, part, from);
    },
  };
  return table;
}

function openIndex(head: FindHead) {
  const words: number[] = [];
  const starts: number[] = [0];
  const all = lexicon();
  const addText = (text: string): number => {
    for (const word of all.add(text)) words.push(word);
    starts.push(words.length);
    return starts.length - 2;
  };
  addText('');
  const index = {
    lexicon: all,
    words: () => words,
    starts: () => starts,
    text: [] as number[],
    under: [] as number[],
    system: head.systems.map(({ id, title }) => addText(`${title} ${id}`)),
    point: head.points.map(({ ref, title, where }) =>
      addText(`${title} ${ref.slice(ref.indexOf('.') + 1)} ${where ?? ''}`),
    ),
    kind: head.kinds.map((kind) => addText(kindInfo(kind).title)),
    sort: SORTS.map((sort) => addText(`${sort} ${PLURALS[sort]}`)),
    standing: STANDINGS.map(addText),
    outcome: OUTCOMES.map((outcome) => addText(OUTCOME_WORDS[outcome])),
    limit: LIMITS.map((limit) => addText(LIMIT_WORDS[limit])),
  };
  return { index, addText };
}

type Filling = { -readonly [Name in keyof Table]: Table[Name] };

/** Where what a part names by its own places lies in the table. */
interface Origins {
  /** Places of its texts and its units. */
  readonly text: Int32Array;
  readonly units: readonly number[];
  /** Entries and sets of conditions that were there before. */
  readonly entry: number;
  readonly under: number;
}

/** The places of a part's units in the list of all. */
function unitsOf({ units, kinds, parts }: FindHead, name: string): readonly number[] {
  const places = new Map(units.map(([kind, unit], at) => [`${kinds[kind]} ${unit}`, at]));
  const own = parts.find((part) => part.name === name)?.units ?? [];
  return own.map(([kind, unit]) => places.get(`${kind} ${unit}`) ?? NONE);
}

/** Copies a part's columns behind those that are there. @returns the number of rows then */
function* addColumns(table: Filling, part: FindPart, origins: Origins): Steps<number> {
  const { columns } = part;
  const from = table.rows;
  for (const name of COPIED) table[name].set(columns[name], from);
  for (const name of TEXTS) addPlaced(table[name], from, columns[name], (place) => origins.text[place]);
  yield;
  addPlaced(table.unit, from, columns.unit, (place) => origins.units[place]);
  addPlaced(table.under, from, columns.under, (place) => origins.under + place);
  addDifferences(table.day, from, columns.day, 0);
  addDifferences(table.entry, from, columns.entry, origins.entry);
  yield;
  addFromPoints(table, from, from + columns.sort.length);
  yield;
  yield* addValues(table, part, from);
  return from + columns.sort.length;
}

/** Copies places in a part's own list; what is no place stays as it is. */
function addPlaced(
  column: Int32Array,
  from: number,
  values: readonly number[],
  placed: (place: number) => number | undefined,
): void {
  for (let at = 0; at < values.length; at++) {
    const place = values[at] as number;
    column[from + at] = place < 0 ? place : (placed(place) ?? NONE);
  }
}

/** Adds up differences; what is not below zero counts from an origin. */
function addDifferences(column: Int32Array, from: number, values: readonly number[], origin: number): void {
  let value = 0;
  for (let at = 0; at < values.length; at++) {
    value += values[at] as number;
    column[from + at] = value < 0 ? value : value + origin;
  }
}

const COPIED = ['sort', 'anchor', 'system', 'point', 'standing', 'outcome', 'limit', 'apart'] as const;
const TEXTS = ['ref', 'title', 'says', 'how', 'note', 'state'] as const;

/** Puts in what the points of the records say already, and the kinds of their units. */
function addFromPoints(table: Filling, from: number, to: number): void {
  const { head, point, system, title, ref, unit, kind } = table;
  const systems = new Map(head.systems.map(({ id }, at) => [id, at]));
  const units = new Map(head.units.map(([of, symbol], at) => [`${head.kinds[of]} ${symbol}`, at]));
  const points = head.points.map((name) => ({
    system: systems.get(name.ref.slice(0, name.ref.indexOf('.'))) ?? NONE,
    unit: units.get(`${name.kind} ${name.unit}`) ?? NONE,
  }));
  for (let row = from; row < to; row++) {
    const at = point[row] as number;
    if (system[row] === AS_POINT) system[row] = points[at]?.system ?? NONE;
    if (unit[row] === AS_POINT) unit[row] = points[at]?.unit ?? NONE;
    if (title[row] === AS_POINT) title[row] = 2 * at;
    if (ref[row] === AS_POINT) ref[row] = 2 * at + 1;
    kind[row] = head.units[unit[row] as number]?.[0] ?? NONE;
  }
}

function* addValues(table: Filling, part: FindPart, from: number): Steps<void> {
  const { head } = table;
  const units = head.units.map(([kind, symbol]) => {
    const unit = unitOf(symbol);
    const isTemperature = head.kinds[kind] === 'temperature';
    return { factor: unit?.factor ?? Number.NaN, offset: isTemperature ? (unit?.offset ?? 0) : 0 };
  });
  const values = part.values.split('\n');
  const addValue = (at: number) => {
    const row = from + at;
    const value = values[at] as string;
    (table.written as string[]).push(value);
    const unit = units[table.unit[row] as number];
    if (unit === undefined) return;
    const number = Number(value);
    if (Number.isNaN(number)) addWritten(table, row, value);
    else {
      table.plain[row] = number;
      table.si[row] = unit.offset === 0 ? number * unit.factor : number * unit.factor + unit.offset;
    }
    const half = part.columns.spread[at] as number;
    if (half > 0) {
      table.spread[row] = half;
      table.instrument[row] = half;
    }
  };
  yield* stretches(values.length, (start, end) => {
    for (let at = start; at < end; at++) addValue(at);
  });
}

/** A value that is more than a number: with its own ±, a fraction, feet and inches, a wire gauge. */
function addWritten(table: Filling, row: number, value: string): void {
  const kind = table.head.kinds[table.kind[row] as number] as Kind;
  const result = parseQuantity(value, kind);
  if (!result.ok) return;
  table.si[row] = result.quantity.si;
  if (result.quantity.siUncertainty !== null) table.spread[row] = result.quantity.siUncertainty;
}

function conditionOf(
  head: FindHead,
  units: readonly number[],
  [name, unit, value]: ConditionData,
): TableCondition {
  const plainName = name.replaceAll('-', ' ');
  const known = head.units[units[unit] ?? NONE];
  if (known === undefined) return { name: plainName, kind: NONE, si: Number.NaN, words: value };
  const [kind, symbol] = known;
  const words = /^-?[\d.]+$/.test(value) ? `${value} ${symbol}`.trim() : value;
  const result = parseQuantity(words, head.kinds[kind]);
  return { name: plainName, kind, si: result.ok ? result.quantity.si : Number.NaN, words };
}

/** A record's value as it was written, with its unit; empty where it has none. */
export function writtenValue(table: Table, row: number): string {
  const value = table.written[row] ?? '';
  const unit = table.head.units[table.unit[row] as number]?.[1];
  if (unit === undefined || Number.isNaN(table.plain[row])) return value;
  return unit === '1' ? value : `${value} ${unit}`;
}

/** A text by its place; empty for none. */
export function textAt(table: Table, place: number): string {
  return table.texts[place] ?? '';
}
