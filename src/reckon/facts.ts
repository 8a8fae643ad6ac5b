import type {
  Ability,
  Claim,
  Hazard,
  Instrument,
  PartMoveName,
  Requirement,
  System,
} from '../check/model.js';
import { implausible, lastOf } from '../check/plausible.js';
import type { Kind } from '../quantity/index.js';
import { type GroundFacts, groundsOf } from './grounds.js';
import type { ItemStatus, Outcome, Reckoning, Timeline } from './model.js';

/**
 * What a form has to know of a book to help with the next entry: everything that can be measured, ticked or
 * tested, with what was found last. Plain data and small, since the writing page carries all of it.
 */

/** A bound or a last value: as written, and where a comparison needs it, in SI. */
interface Bound {
  readonly si: number;
  readonly written: string;
}

/** A point, with its last values. */
export interface PointFacts {
  readonly ref: string;
  readonly title: string;
  readonly kind: Kind;
  readonly unit: string;
  readonly where: string | null;
  /** Conditions at which its readings are compared, such as `ambient`; with what was noted last. */
  readonly conditions: readonly { readonly name: string; readonly written: string }[];
  readonly plausible: { readonly low: Bound; readonly high: Bound } | null;
  readonly last: { readonly written: string; readonly date: string; readonly with: string | null } | null;
  /** The last values in SI, sorted by size, as the checker holds the next one against them. */
  readonly lately: readonly number[];
}

export interface MeterFacts {
  readonly ref: string;
  readonly title: string;
  readonly unit: string;
  readonly last: { readonly written: string; readonly date: string } | null;
}

export interface TestFacts {
  readonly ref: string;
  readonly title: string;
  /** What has to be read; `kind` is null where a text is due. */
  readonly requires: readonly {
    readonly name: string;
    readonly kind: Kind | null;
    readonly written: string;
    readonly unit: string;
  }[];
  readonly steps: readonly string[];
  /** Those of its system and its own. */
  readonly hazards: readonly Hazard[];
  readonly last: { readonly date: string; readonly outcome: Outcome } | null;
}

export interface TickFacts {
  readonly ref: string;
  readonly what: string;
  readonly due: string | null;
  readonly overdue: boolean;
  readonly because: string;
  readonly hazards: readonly Hazard[];
}

export interface ItemFacts {
  readonly id: string;
  readonly what: string;
  readonly status: ItemStatus;
  readonly overdue: boolean;
}

export interface PartFacts {
  readonly id: string;
  readonly what: string | null;
  readonly lastMove: PartMoveName;
  readonly on: string;
}

export interface SystemFacts {
  readonly id: string;
  readonly title: string;
  /** Day of the last entry about it. */
  readonly lately: string | null;
  readonly hazards: readonly Hazard[];
  readonly points: readonly PointFacts[];
  readonly meters: readonly MeterFacts[];
  readonly tests: readonly TestFacts[];
  readonly upkeep: readonly TickFacts[];
  /** Those that are open. */
  readonly items: readonly ItemFacts[];
  /** Those that are or were aboard or on order; sold, returned and scrapped ones left out. */
  readonly parts: readonly PartFacts[];
  /** What something new can be said to rest on. */
  readonly grounds: readonly GroundFacts[];
}

export interface InstrumentFacts {
  readonly id: string;
  readonly name: string;
  readonly abilities: readonly { readonly kind: Kind; readonly range: { low: Bound; high: Bound } | null }[];
}

/** What a form has to know of a book. */
export interface BookFacts {
  readonly asOf: string;
  readonly subject: string;
  readonly currency: string | null;
  readonly people: readonly { readonly id: string; readonly name: string }[];
  readonly instruments: readonly InstrumentFacts[];
  /** Those worked on last first. */
  readonly systems: readonly SystemFacts[];
  /** Every name of an item, a part or a decision that is taken. */
  readonly taken: {
    readonly items: readonly string[];
    readonly parts: readonly string[];
    readonly decisions: readonly string[];
  };
}

/** Gathers what a form has to know. */
export function bookFacts(reckoning: Reckoning): BookFacts {
  const { book, items, parts, decisions, asOf } = reckoning;
  return {
    asOf,
    subject: book.subject.name,
    currency: book.currency,
    people: [...book.people.values()].map(({ id, name }) => ({ id, name })),
    instruments: [...book.instruments.values()].map(instrumentFacts),
    systems: lately(reckoning).map(([system, date]) => systemFacts(system, date, reckoning)),
    taken: { items: [...items.keys()], parts: [...parts.keys()], decisions: [...decisions.keys()] },
  };
}

/** All systems, those worked on last first, each with the day of its last entry. */
function lately({ book }: Reckoning): (readonly [System, string | null])[] {
  const last = new Map<string, string>();
  for (const entry of book.entries.toReversed())
    for (const id of entry.systems) if (!last.has(id)) last.set(id, entry.date);
  const ids = new Set([...last.keys(), ...book.systems.keys()]);
  return [...ids].flatMap((id) => {
    const system = book.systems.get(id);
    return system === undefined ? [] : [[system, last.get(id) ?? null] as const];
  });
}

function instrumentFacts({ id, name, abilities }: Instrument): InstrumentFacts {
  return { id, name, abilities: abilities.map(abilityFacts) };
}

function abilityFacts({ kind, range }: Ability): InstrumentFacts['abilities'][number] {
  return { kind, range: range === null ? null : { low: bound(range.low), high: bound(range.high) } };
}

function bound({ si, written }: Bound): Bound {
  return { si, written };
}

function systemFacts(system: System, last: string | null, reckoning: Reckoning): SystemFacts {
  const of = <T extends { readonly ref: string }>(map: ReadonlyMap<string, T>) => [...map.values()];
  return {
    id: system.id,
    title: system.title,
    lately: last,
    hazards: system.hazards,
    // What is no longer there is not asked about, nor a point that only a logger has read so far.
    points: of(system.points).flatMap(({ ref, series }) => {
      const timeline = reckoning.timelines.get(ref);
      return timeline === undefined || timeline.gone || (series !== null && timeline.last === null)
        ? []
        : [pointFacts(timeline)];
    }),
    meters: of(system.meters).map((meter) => meterFacts(meter.ref, reckoning)),
    tests: of(system.tests).map(({ ref }) => testFacts(ref, system, reckoning)),
    upkeep: of(system.upkeep).map(({ ref }) => tickFacts(ref, system, reckoning)),
    items: itemFacts(system.id, reckoning),
    parts: partFacts(system.id, reckoning),
    grounds: groundsOf(system, reckoning),
  };
}

function pointFacts({ point, readings, last }: Timeline): PointFacts {
  const { ref, title, kind, unit, where, plausible } = point;
  return {
    ref,
    title,
    kind,
    unit,
    where,
    conditions: point.compareAt.map(({ condition }) => ({
      name: condition,
      written: wordsOf(last?.reading.under.find(({ name }) => name === condition)?.value),
    })),
    plausible: plausible === null ? null : { low: bound(plausible.low), high: bound(plausible.high) },
    last:
      last === null
        ? null
        : { written: last.reading.quantity.written, date: last.reading.date, with: last.reading.with },
    lately: lastOf(readings, ({ reading: { quantity } }) =>
      implausible(quantity, point) === null ? quantity.si : null,
    ),
  };
}

function wordsOf(claim: Claim | undefined): string {
  if (claim === undefined) return '';
  return claim.type === 'text' ? claim.text : claim.quantity.written;
}

function meterFacts(ref: string, { meters }: Reckoning): MeterFacts {
  const state = meters.get(ref);
  const last = state?.readings.at(-1);
  return {
    ref,
    title: state?.title ?? ref,
    unit: state?.unit ?? 'h',
    last: last === undefined ? null : { written: last.reads.written, date: last.date },
  };
}

function testFacts(ref: string, system: System, { tests, timelines }: Reckoning): TestFacts {
  const state = tests.get(ref);
  const requires = state?.test.requires ?? [];
  return {
    ref,
    title: state?.test.title ?? ref,
    requires: requires.map((requirement) => ({
      name: requirement.name,
      kind: requirement.type === 'text' ? null : requirement.kind,
      written: requirement.written,
      unit: unitOfRequirement(requirement, timelines),
    })),
    steps: state?.test.steps ?? [],
    hazards: union(system.hazards, state?.test.hazards ?? []),
    last: state?.last == null ? null : { date: state.last.run.date, outcome: state.last.outcome },
  };
}

/** The unit in which a required value is most likely read: its point's, else the one it is required in. */
function unitOfRequirement(requirement: Requirement, timelines: Reckoning['timelines']): string {
  if (requirement.type === 'text') return '';
  const point = requirement.point === null ? undefined : timelines.get(requirement.point)?.point;
  if (point !== undefined) return point.unit;
  return /\d\s*([^\d\s][^\d]*?)\s*$/.exec(requirement.written)?.[1] ?? '';
}

function tickFacts(ref: string, system: System, { upkeep }: Reckoning): TickFacts {
  const state = upkeep.get(ref);
  return {
    ref,
    what: state?.upkeep.what ?? ref,
    due: state?.dueOn ?? null,
    overdue: state !== undefined && (state.overdueByDate || state.overdueByHours),
    because: state?.because ?? '',
    hazards: union(system.hazards, state?.upkeep.hazards ?? []),
  };
}

function union<T>(first: readonly T[], second: readonly T[]): readonly T[] {
  return [...new Set([...first, ...second])];
}

function itemFacts(system: string, { items }: Reckoning): readonly ItemFacts[] {
  return [...items.values()]
    .filter(({ opened, status }) => opened.system === system && status !== 'done')
    .map(({ opened, status, overdue }) => ({ id: opened.id, what: opened.what, status, overdue }));
}

function partFacts(system: string, { parts }: Reckoning): readonly PartFacts[] {
  return [...parts.values()].flatMap(({ id, what, moves, now, system: of }): PartFacts[] => {
    const last = moves.at(-1);
    const isGone = now === 'sold' || now === 'returned' || now === 'scrapped';
    return last === undefined || of !== system || isGone
      ? []
      : [{ id, what, lastMove: last.move, on: last.date }];
  });
}
