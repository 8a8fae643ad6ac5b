import { completed, nameFrom, photoFile, unitOfWritten } from '../../../src/draft/complete.js';
import {
  type Draft,
  type DraftDecision,
  type DraftPart,
  type DraftReading,
  emptyDraft,
  type PartMoveWord,
} from '../../../src/draft/draft.js';
import type { AnswerPath } from '../../../src/draft/entry-text.js';
import { isSpentOn, reliesOn } from '../../../src/draft/grounds.js';
import { oneLine } from '../../../src/draft/yaml.js';
import type { BookFacts, MeterFacts, PointFacts, SystemFacts, TestFacts } from '../../../src/reckon/facts.js';
import type { GroundFacts } from '../../../src/reckon/grounds.js';

/**
 * What stands in the form, as it was typed: kept as it is between two visits, and made into a draft by the same
 * functions that the prompts of the command line use.
 */

export interface ReadingRow {
  readonly id: number;
  /** Ref of a point; empty for a thing named in plain words. */
  readonly point: string;
  readonly what: string;
  readonly typed: string;
  readonly unit: string;
  readonly with: string;
  readonly under: Readonly<Record<string, string>>;
  readonly note: string;
}

export interface TestRow {
  readonly id: number;
  readonly test: string;
  /** Whether the cautions have been read; only then it is asked what was measured. */
  readonly isCautioned: boolean;
  readonly typed: Readonly<Record<string, string>>;
}

export interface PartRow {
  readonly id: number;
  /** Name of a part that the book knows; empty for a new one. */
  readonly part: string;
  readonly what: string;
  readonly move: PartMoveWord;
  readonly cost: string;
  readonly supplier: string;
  readonly due: string;
  /** Refs of what it was chosen by. */
  readonly rests: readonly string[];
}

export interface DecisionRow {
  readonly id: number;
  readonly question: string;
  readonly chose: string;
  readonly because: string;
  readonly rests: readonly string[];
}

export interface OpenRow {
  readonly id: number;
  readonly what: string;
  readonly size: string;
  readonly rests: readonly string[];
  readonly by: string;
  readonly safety: boolean;
}

export interface PhotoRow {
  readonly id: number;
  readonly alt: string;
}

export interface Form {
  /** The next number for a row. */
  readonly next: number;
  /** Tells this form from others, so that a server takes it once however often it is sent; empty until it has one. */
  readonly sentAs: string;
  readonly date: string;
  readonly title: string;
  readonly systems: readonly string[];
  readonly readings: readonly ReadingRow[];
  readonly meters: Readonly<Record<string, string>>;
  readonly tests: readonly TestRow[];
  readonly hours: Readonly<Record<string, string>>;
  readonly parts: readonly PartRow[];
  readonly decisions: readonly DecisionRow[];
  readonly opens: readonly OpenRow[];
  readonly closes: readonly string[];
  readonly done: readonly string[];
  readonly photos: readonly PhotoRow[];
  readonly prose: string;
}

export function emptyForm(date: string): Form {
  return {
    next: 1,
    sentAs: '',
    date,
    title: '',
    systems: [],
    readings: [],
    meters: {},
    tests: [],
    hours: {},
    parts: [],
    decisions: [],
    opens: [],
    closes: [],
    done: [],
    photos: [],
    prose: '',
  };
}

/** Whether anything was said yet. */
export function isEmpty(form: Form): boolean {
  return JSON.stringify({ ...form, date: '', next: 1, sentAs: '' }) === JSON.stringify(emptyForm(''));
}

/** The systems that are chosen, with what is known of them. */
export function chosen(form: Form, { systems }: BookFacts): readonly SystemFacts[] {
  return form.systems.flatMap((id) => systems.find((system) => system.id === id) ?? []);
}

export function pointOf(ref: string, { systems }: BookFacts): PointFacts | null {
  return systems.flatMap(({ points }) => points).find((point) => point.ref === ref) ?? null;
}

export function testOf(ref: string, { systems }: BookFacts): TestFacts | null {
  return systems.flatMap(({ tests }) => tests).find((test) => test.ref === ref) ?? null;
}

export function meterOf(ref: string, { systems }: BookFacts): MeterFacts | null {
  return systems.flatMap(({ meters }) => meters).find((meter) => meter.ref === ref) ?? null;
}

/** A draft, and from which row of the form each of its answers came. */
export interface FromForm {
  readonly draft: Draft;
  readonly rowAt: (path: AnswerPath) => string | null;
}

/** The draft that the form comes to. Rows in which nothing is written are left out. */
export function draftOf(form: Form, facts: BookFacts): FromForm {
  const systems = chosen(form, facts);
  const meters = systems.flatMap(({ meters: all }) => all);
  const rows = {
    measurements: form.readings.flatMap((row) => withRow(`reading-${row.id}`, readingFrom(row, facts))),
    meters: meters.flatMap(({ ref, unit }) => {
      const typed = form.meters[ref] ?? '';
      return withRow(
        `meter-${ref}`,
        typed.trim() === '' ? null : { meter: ref, reads: completed(typed, unit) },
      );
    }),
    tests: form.tests.flatMap((row) => withRow(`test-${row.id}`, testFrom(row, facts))),
    hours: facts.people.flatMap(({ id }) => {
      const typed = form.hours[id] ?? '';
      return withRow(`hours-${id}`, typed.trim() === '' ? null : { by: id, spent: completed(typed, 'h') });
    }),
    parts: partsFrom(form, facts),
    decisions: decisionsFrom(form, facts),
    opens: opensFrom(form, facts),
    photos: photosFrom(form),
  };
  const draft: Draft = {
    ...emptyDraft(form.date),
    title: oneLine(form.title),
    systems: systems.map(({ id }) => id),
    hours: rows.hours.map(itemOf),
    meters: rows.meters.map(itemOf),
    measurements: rows.measurements.map(itemOf),
    tests: rows.tests.map(itemOf),
    parts: rows.parts.map(itemOf),
    decisions: rows.decisions.map(itemOf),
    opens: rows.opens.map(itemOf),
    closes: systems.flatMap(({ items }) => items).flatMap(({ id }) => (form.closes.includes(id) ? [id] : [])),
    done: systems
      .flatMap(({ upkeep }) => upkeep)
      .flatMap(({ ref }) => (form.done.includes(ref) ? [ref] : [])),
    photos: rows.photos.map(itemOf),
    prose: form.prose,
  };
  return {
    draft,
    rowAt: ([field, index]) =>
      field in rows ? (rows[field as keyof typeof rows][index ?? -1]?.row ?? null) : null,
  };
}

interface Rowed<T> {
  readonly row: string;
  readonly item: T;
}

function withRow<T>(row: string, item: T | null): readonly Rowed<T>[] {
  return item === null ? [] : [{ row, item }];
}

function itemOf<T>({ item }: Rowed<T>): T {
  return item;
}

/** What a row says; null where nothing is written in it. */
export function readingFrom(row: ReadingRow, facts: BookFacts): DraftReading | null {
  if (row.typed.trim() === '') return null;
  const told = {
    value: completed(row.typed, row.unit),
    ...(row.with === '' ? {} : { with: row.with }),
    ...underFrom(row, facts),
    ...(oneLine(row.note) === '' ? {} : { note: oneLine(row.note) }),
  };
  if (row.point !== '') return { point: row.point, ...told };
  return { what: oneLine(row.what), ...told };
}

function underFrom({ under, point }: ReadingRow, facts: BookFacts): Pick<DraftReading, 'under'> {
  const conditions = pointOf(point, facts)?.conditions ?? [];
  const said = conditions.flatMap(({ name, written }) => {
    const typed = under[name] ?? '';
    return typed.trim() === '' ? [] : [[name, completed(typed, unitOfWritten(written))] as const];
  });
  return said.length === 0 ? {} : { under: Object.fromEntries(said) };
}

function testFrom(row: TestRow, facts: BookFacts): Draft['tests'][number] | null {
  const test = testOf(row.test, facts);
  if (test === null || !row.isCautioned) return null;
  const said = test.requires.flatMap(({ name, kind, unit }) => {
    const typed = row.typed[name] ?? '';
    if (typed.trim() === '') return [];
    return [[name, kind === null ? oneLine(typed) : completed(typed, unit)] as const];
  });
  return said.length === 0 ? null : { test: row.test, readings: Object.fromEntries(said) };
}

function partsFrom(form: Form, facts: BookFacts): readonly Rowed<DraftPart>[] {
  const taken = [...facts.taken.parts];
  return form.parts.flatMap((row) => {
    const what = oneLine(row.what);
    if (row.part === '' && what === '') return [];
    const part = row.part === '' ? nameFrom(what, taken) : row.part;
    taken.push(part);
    return [
      {
        row: `part-${row.id}`,
        item: {
          part,
          move: row.move,
          ...(row.part === '' ? { what } : {}),
          ...(row.cost.trim() === '' ? {} : { cost: completed(row.cost, facts.currency ?? '') }),
          ...(oneLine(row.supplier) === '' ? {} : { 'from-supplier': oneLine(row.supplier) }),
          ...(row.due === '' ? {} : { due: row.due }),
          ...(isSpentOn(row.move, row.part === '') ? reliesOn(row.rests, groundsFor(form, facts)) : {}),
        },
      },
    ];
  });
}

/** What there is to rest on: all of the chosen systems. */
export function groundsFor(form: Form, facts: BookFacts): readonly GroundFacts[] {
  return chosen(form, facts).flatMap(({ grounds }) => grounds);
}

function decisionsFrom(form: Form, facts: BookFacts): readonly Rowed<DraftDecision>[] {
  const taken = [...facts.taken.decisions];
  return form.decisions.flatMap((row) => {
    const [question, chose, because] = [row.question, row.chose, row.because].map(oneLine) as [
      string,
      string,
      string,
    ];
    if (question + chose + because === '') return [];
    const decision = nameFrom(question, taken);
    taken.push(decision);
    const rests = reliesOn(row.rests, groundsFor(form, facts));
    return [{ row: `decision-${row.id}`, item: { decision, question, chose, because, ...rests } }];
  });
}

function opensFrom(form: Form, facts: BookFacts): readonly Rowed<Draft['opens'][number]>[] {
  const taken = [...facts.taken.items];
  return form.opens.flatMap((row) => {
    const what = oneLine(row.what);
    if (what === '') return [];
    const item = nameFrom(what, taken);
    taken.push(item);
    const isSized = row.size.trim() !== '';
    const more = {
      ...(isSized ? { size: completed(row.size, 'h') } : {}),
      ...(isSized ? reliesOn(row.rests, groundsFor(form, facts)) : {}),
      ...(row.by === '' ? {} : { by: row.by }),
      ...(row.safety ? { safety: true as const } : {}),
    };
    return [{ row: `open-${row.id}`, item: { item, what, ...more } }];
  });
}

function photosFrom(form: Form): readonly Rowed<Draft['photos'][number]>[] {
  const taken: string[] = [];
  return form.photos.map(({ id, alt }) => {
    const file = photoFile(form.date, alt, taken);
    taken.push(file);
    return { row: `photo-${id}`, item: { file, alt: oneLine(alt) } };
  });
}

/** Takes for a form what was kept as one; what is not of its shape is left out. */
export function readForm(kept: unknown, today: string): Form {
  const empty = emptyForm(today);
  if (typeof kept !== 'object' || kept === null) return empty;
  const known = kept as Partial<Record<keyof Form, unknown>>;
  const taken = Object.entries(empty).map(([key, value]) => {
    const before: unknown = known[key as keyof Form];
    const isAlike =
      typeof before === typeof value && before !== null && Array.isArray(before) === Array.isArray(value);
    return [key, isAlike ? before : value] as const;
  });
  const form = Object.fromEntries(taken) as unknown as Form;
  // Rows that an earlier version kept have not all of the fields.
  return {
    ...form,
    parts: form.parts.map((row) => ({ ...row, rests: row.rests ?? [] })),
    opens: form.opens.map((row) => ({ ...row, size: row.size ?? '', rests: row.rests ?? [] })),
  };
}
