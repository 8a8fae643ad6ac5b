import type { Interval } from '../quantity/index.js';
import { addInterval, daysBetween } from './calendar.js';
import type { Reckoning } from './model.js';

/** Sorts of things that come due. */
export type DueSort = 'upkeep' | 'check' | 'test' | 'item' | 'part' | 'instrument';

/** Something that has to be done, or to come, by a day. */
export interface Due {
  readonly sort: DueSort;
  /** A full ref for upkeep, checks and tests; the id for the others. */
  readonly id: string;
  readonly what: string;
  readonly system: string | null;
  /** The day; null where it is due by hours and nothing tells when that is. */
  readonly on: string | null;
  /** Days from the day asked about; negative where it is past. */
  readonly inDays: number | null;
  readonly overdue: boolean;
  readonly safety: boolean;
  readonly because: string;
}

/**
 * Everything that is overdue or comes due within some days: upkeep, checks and tests that lapse, open items
 * with a day, parts on order, instruments to be calibrated. What is overdue comes first, then by day.
 *
 * @param until the last day that still counts, `YYYY-MM-DD`; null for all that has a day.
 */
export function dueList(reckoning: Reckoning, until: string | null): readonly Due[] {
  const all = [
    ...upkeepDue(reckoning),
    ...checksDue(reckoning),
    ...testsDue(reckoning),
    ...itemsDue(reckoning),
    ...partsDue(reckoning),
    ...instrumentsDue(reckoning),
  ];
  return all
    .filter((due) => due.overdue || (due.on !== null && (until === null || due.on <= until)))
    .sort(byDay);
}

function byDay(a: Due, b: Due): number {
  return Number(b.overdue) - Number(a.overdue) || compare(a.on ?? '', b.on ?? '') || compare(a.id, b.id);
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function upkeepDue({ upkeep, asOf }: Reckoning): readonly Due[] {
  return [...upkeep.values()].map((state): Due => {
    const { ref, what, system, safety } = state.upkeep;
    const overdue = state.overdueByDate || state.overdueByHours;
    return {
      sort: 'upkeep',
      id: ref,
      what,
      system,
      on: state.dueOn,
      inDays: daysTo(asOf, state.dueOn),
      overdue,
      safety,
      because: state.because,
    };
  });
}

function checksDue({ specs, asOf }: Reckoning): readonly Due[] {
  return [...specs.values()].flatMap((state): Due[] => {
    const { lapsesOn, spec, because } = state;
    if (lapsesOn === null) return [];
    return [
      {
        sort: 'check',
        id: spec.ref,
        what: `Check again: ${spec.title}`,
        system: spec.system,
        on: lapsesOn,
        inDays: daysTo(asOf, lapsesOn),
        overdue: state.standing === 'lapsed',
        safety: false,
        because,
      },
    ];
  });
}

function testsDue({ tests, asOf }: Reckoning): readonly Due[] {
  return [...tests.values()].flatMap(({ test, last }): Due[] => {
    if (test.againEvery === null || last === null) return [];
    return [
      again('test', test.ref, `Test again: ${test.title}`, test.system, last.run.date, test.againEvery, asOf),
    ];
  });
}

function again(
  sort: DueSort,
  id: string,
  what: string,
  system: string | null,
  date: string,
  every: Interval,
  asOf: string,
): Due {
  const on = addInterval(date, every);
  return {
    sort,
    id,
    what,
    system,
    on,
    inDays: daysTo(asOf, on),
    overdue: on < asOf,
    safety: false,
    because: `Last done on ${date}.`,
  };
}

function itemsDue({ items, asOf }: Reckoning): readonly Due[] {
  return [...items.values()].flatMap(({ opened, status, overdue }): Due[] => {
    if (opened.by === null || status === 'done') return [];
    return [
      {
        sort: 'item',
        id: opened.id,
        what: opened.what,
        system: opened.system,
        on: opened.by,
        inDays: daysTo(asOf, opened.by),
        overdue,
        safety: opened.safety,
        because: `To be done by ${opened.by}; ${status}.`,
      },
    ];
  });
}

function partsDue({ parts, asOf }: Reckoning): readonly Due[] {
  return [...parts.values()].flatMap((part): Due[] => {
    if (part.now !== 'ordered' || part.due === null) return [];
    const from = part.supplier === null ? '' : ` from ${part.supplier}`;
    return [
      {
        sort: 'part',
        id: part.id,
        what: `To come${from}: ${part.what ?? part.id}`,
        system: part.system,
        on: part.due,
        inDays: daysTo(asOf, part.due),
        overdue: part.late,
        safety: false,
        because: `Ordered on ${part.ordered ?? part.since}, promised for ${part.due}.`,
      },
    ];
  });
}

function instrumentsDue({ book, asOf }: Reckoning): readonly Due[] {
  return [...book.instruments.values()].flatMap(({ id, name, checked, againEvery }): Due[] => {
    if (checked === null || againEvery === null) return [];
    return [again('instrument', id, `Compare or calibrate: ${name}`, null, checked, againEvery, asOf)];
  });
}

function daysTo(asOf: string, on: string | null): number | null {
  return on === null ? null : daysBetween(asOf, on);
}
