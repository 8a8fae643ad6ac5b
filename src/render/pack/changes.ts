import { addInterval } from '../../reckon/calendar.js';
import { earlierStates } from '../../reckon/earlier.js';
import type { Finding } from '../../reckon/findings.js';
import type { Standing } from '../../reckon/model.js';
import type { Link } from '../links.js';
import type { Site } from '../site-context.js';

/** What has changed in the year before the day of the pack. */
export interface ChangesView {
  /** The day that is compared with, a year before. */
  readonly since: string;
  readonly entries: number;
  /** Specs that stand otherwise than then; `from` is null for one that is stated since. */
  readonly moved: readonly { readonly spec: Link; readonly from: Standing | null; readonly to: Standing }[];
  readonly fitted: readonly Happening[];
  readonly removed: readonly Happening[];
  /** Findings that were not among those of that day, and those that are settled since. */
  readonly found: readonly string[];
  readonly settled: readonly string[];
  readonly opened: number;
  readonly closed: number;
}

/** Something that happened to a part on a day. */
export interface Happening {
  readonly part: Link;
  readonly date: string;
  readonly entry: Link;
}

const YEAR = { years: -1, months: 0, weeks: 0, days: 0 };

/** Compares the book with itself a year before. */
export function changesView(site: Site): ChangesView {
  const { reckoning, top: links } = site;
  const { asOf, book, specs, findings, items } = reckoning;
  const since = addInterval(asOf, YEAR);
  const late = book.entries.filter(({ date }) => date > since);
  const before = earlierStates(reckoning)(since);
  const moves = (move: 'fitted' | 'removed') =>
    late
      .flatMap((entry) => entry.parts)
      .filter((part) => part.move === move)
      .map(({ part, date, entry }) => ({ part: links.part(part), date, entry: links.entry(entry) }));
  return {
    since,
    entries: late.length,
    moved: [...specs.values()].flatMap((state) => {
      const from = before.specs.get(state.spec.ref)?.standing ?? null;
      return from === state.standing ? [] : [{ spec: links.spec(state.spec.ref), from, to: state.standing }];
    }),
    fitted: moves('fitted'),
    removed: moves('removed'),
    found: notIn(findings, before.findings),
    settled: notIn(before.findings, findings),
    opened: [...items.values()].filter(({ opened }) => opened.date > since).length,
    closed: [...items.values()].filter(({ closed }) => closed !== null && closed.date > since).length,
  };
}

/** Titles of the findings of one list none of whose facts is in the other. */
function notIn(list: readonly Finding[], other: readonly Finding[]): string[] {
  const known = new Set(other.flatMap(({ grounds }) => grounds.map(({ about }) => about.id)));
  return list
    .filter(({ grounds }) => grounds.every(({ about }) => !known.has(about.id)))
    .map(({ grounds }) => grounds[0].title);
}
