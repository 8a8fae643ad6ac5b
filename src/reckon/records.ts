import type {
  CheckedBook,
  Claim,
  Condition,
  Decision,
  Entry,
  MeterReading,
  Opened,
  PartMove,
  Place,
  Provenance,
  Reading,
  Spec,
  Statement,
  TestReading,
  TestRun,
  Uncertainty,
} from '../check/model.js';
import { currencyDecimals, parseQuantity, printQuantity, type Quantity } from '../quantity/index.js';
import type {
  ItemState,
  LimitState,
  Outcome,
  Reckoning,
  Standing,
  TestResult,
  TimelinePoint,
} from './model.js';
import type { SeriesDay, SeriesState } from './series.js';

/** The sorts of things that can be found again. */
export type RecordSort = 'reading' | 'statement' | 'part' | 'item' | 'decision' | 'test';

/** Standings in the order in which they need looking at. */
const STANDINGS = ['contradicted', 'undecided', 'lapsed', 'unverified', 'verified'] as const;

/** One thing that the book tells, flat, with all that it can be found by. */
export interface BookRecord {
  readonly sort: RecordSort;
  /** Ref of the point, spec, meter or test; id of the part, item or decision; null for a thing in plain words. */
  readonly ref: string | null;
  /** The day; null for what a system's file states without one. */
  readonly date: string | null;
  readonly system: string;
  readonly title: string;
  /** The number: a reading, a stated value, the mass of a part, the size of a piece of work. */
  readonly quantity: Quantity | null;
  readonly uncertainty: Uncertainty | null;
  /** What it says in words, where that is not a number. */
  readonly says: string | null;
  /** Ref of the point; of a statement the point of its spec. */
  readonly point: string | null;
  readonly under: readonly Condition[];
  /** Instrument and person, or the basis and the source of a statement, in words. */
  readonly how: string | null;
  readonly note: string | null;
  /** Of the spec that it states; of a reading, of the spec that has its point, the worst where there are several. */
  readonly standing: Standing | null;
  /** Of a test, and of a reading taken in one. */
  readonly outcome: Outcome | null;
  readonly limit: LimitState | null;
  /** Whether it was taken under conditions other than those at which its point is compared. */
  readonly apart: boolean;
  /** How a part, a piece of work or a decision stands today, in words. */
  readonly state: string | null;
  /** Null for what a system's file states, and what a logger has read. */
  readonly entry: string | null;
  /** The id of its place in the page of the entry; null where it has none of its own. */
  readonly anchor: string | null;
  readonly place: Place;
}

/** The records of some months, or those that systems' files state: what is handed over together. */
export interface Stretch {
  /** Its first month as `2025-06`, or `systems`. Stays while later months come. */
  readonly name: string;
  /** Number of its records. */
  readonly count: number;
  /** Stands for all that the records show, together with what the systems' files and the book's declare. */
  readonly standsFor: () => unknown;
  /** Newest first. */
  readonly records: () => readonly BookRecord[];
}

/** Records of one stretch, when there are enough of them; a month is never cut in two. */
const STRETCH_SIZE = 2000;

/**
 * All records of a book in stretches, the newest first, and what the systems' files state last. Months are
 * taken together from the oldest on, so that a new entry changes the last stretch and leaves the others as
 * they are. Linear in the size of the book.
 */
export function stretchesOf(reckoning: Reckoning): readonly Stretch[] {
  let made: Facts | undefined;
  const facts = () => {
    made ??= factsOf(reckoning);
    return made;
  };
  const stretches: Stretch[] = [];
  let months: Month[] = [];
  for (const month of monthsOf(reckoning)) {
    months.push(month);
    if (months.reduce((sum, { count }) => sum + count, 0) < STRETCH_SIZE) continue;
    stretches.push(stretchOf(months, reckoning, facts));
    months = [];
  }
  if (months.length > 0) stretches.push(stretchOf(months, reckoning, facts));
  const stated: Stretch = {
    name: 'systems',
    count: reckoning.specs.size,
    standsFor: () => [...reckoning.specs.values()].map(({ spec, standing }) => [spec.ref, standing]),
    records: () => claims(facts()),
  };
  return [...stretches.reverse(), stated];
}

/**
 * Every reading, statement, part, piece of work, decision and run of a test of a book, newest first; what a
 * system's file states comes last.
 */
export function recordsOf(reckoning: Reckoning): readonly BookRecord[] {
  return stretchesOf(reckoning).flatMap(({ records }) => records());
}

/** What a month has to tell: entries, and days of loggers, the oldest first. */
interface Month {
  readonly name: string;
  readonly entries: Entry[];
  readonly days: Map<SeriesState, SeriesDay[]>;
  count: number;
}

/** The months in which there is anything, the oldest first. */
function monthsOf({ book, readings, series }: Reckoning): readonly Month[] {
  const months = new Map<string, Month>();
  // Things of one month mostly come together.
  let last: Month | undefined;
  const monthOf = (date: string): Month => {
    if (last !== undefined && date.startsWith(last.name)) return last;
    const name = date.slice(0, 7);
    last = months.get(name) ?? { name, entries: [], days: new Map(), count: 0 };
    months.set(name, last);
    return last;
  };
  for (const entry of book.entries) {
    const month = monthOf(entry.date);
    month.entries.push(entry);
    month.count += countWithoutReadings(entry, book);
  }
  for (const { date } of readings) monthOf(date).count += 1;
  for (const state of series.values())
    for (const day of state.days) {
      const month = monthOf(day.date);
      month.days.set(state, [...(month.days.get(state) ?? []), day]);
      month.count += extremesOf(day).length;
    }
  return [...months.values()].sort((a, b) => (a.name < b.name ? -1 : 1));
}

function countWithoutReadings(entry: Entry, book: CheckedBook): number {
  const { meters, statements, tests, parts, opens, decisions } = entry;
  return (
    meters.length +
    statements.length +
    tests.length +
    tests.reduce((unnamed, run) => unnamed + unnamedOf(run, book).length, 0) +
    parts.length +
    opens.length +
    decisions.length
  );
}

function stretchOf(months: readonly Month[], reckoning: Reckoning, facts: () => Facts): Stretch {
  const entries = months.flatMap((month) => month.entries);
  const read = months.flatMap((month) => [...month.days]);
  return {
    name: months[0]?.name ?? '',
    count: months.reduce((sum, { count }) => sum + count, 0),
    standsFor: () => [
      entries.map((entry) => [entry.id, entry.hash, elsewhere(entry, reckoning)]),
      read.map(([{ series }, days]) => [series.point, series.hash, days.length]),
    ],
    records: () =>
      newestFirst(
        [...entries].reverse().flatMap((entry) => ofEntry(entry, facts())),
        read.flatMap(([{ series }, days]) => ofSeries({ series, days }, facts())),
      ),
  };
}

/** What the records of an entry show that neither it nor the systems' files say: other entries do. */
function elsewhere(entry: Entry, reckoning: Reckoning): unknown {
  const { timelines, specs, parts, items, decisions } = reckoning;
  const points = new Set(entry.readings.map(({ point }) => point));
  for (const { test, readings } of entry.tests)
    for (const { name } of readings) points.add(`${systemOf(test)}.${name}`);
  return [
    [...points].map((point) => worst(timelines.get(point ?? '')?.specs ?? [], { reckoning })),
    entry.statements.map(({ spec }) => specs.get(spec)?.standing),
    entry.parts.map(({ part }) => {
      const state = parts.get(part);
      return [state?.what, state?.late, state?.now];
    }),
    entry.opens.map(({ id }) => {
      const state = items.get(id);
      return state === undefined ? null : itemWords(state);
    }),
    entry.decisions.map(({ id }) => [
      decisions.get(id)?.undoneBy ?? null,
      decisions.get(id)?.holding?.verdict,
    ]),
  ];
}

/** Two lists as one. What entries tell is in order already, and comes first within a day. */
function newestFirst(told: readonly BookRecord[], read: readonly BookRecord[]): readonly BookRecord[] {
  if (read.length === 0) return told;
  return [...told, ...read].sort((a, b) =>
    (a.date ?? '') < (b.date ?? '') ? 1 : a.date === b.date ? 0 : -1,
  );
}

/** The place of something in the page of its entry: its sort and its number in the entry. */
export function anchorOf(sort: RecordSort, index: number): string {
  return `${sort}-${index + 1}`;
}

type Facts = ReturnType<typeof factsOf>;

function factsOf(reckoning: Reckoning) {
  const limits = new Map<Reading, TimelinePoint>();
  for (const { readings } of reckoning.timelines.values())
    for (const one of readings) limits.set(one.reading, one);
  const results = new Map<TestRun, TestResult>();
  for (const state of reckoning.tests.values())
    for (const result of state.results) results.set(result.run, result);
  const byEntry = new Map<string, Reading[]>();
  for (const reading of reckoning.readings) {
    const known = byEntry.get(reading.entry);
    if (known === undefined) byEntry.set(reading.entry, [reading]);
    else known.push(reading);
  }
  return { reckoning, limits, results, byEntry };
}

function ofEntry(entry: Entry, facts: Facts): BookRecord[] {
  const readings = facts.byEntry.get(entry.id) ?? [];
  let own = 0;
  const runs = entry.tests.map((run) => run.place.path.join(' '));
  return [
    ...readings.map((reading) => {
      if (reading.test === null) return ofReading(reading, anchorOf('reading', own++), facts);
      const run = runs.findIndex((path) => reading.place.path.join(' ').startsWith(`${path} `));
      return ofReading(reading, anchorOf('test', Math.max(0, run)), facts);
    }),
    ...entry.tests.flatMap((run, index) => ofUnnamed(run, anchorOf('test', index), facts)),
    ...entry.meters.map((reading) => ofMeter(reading, facts)),
    ...entry.statements.map((one, index) => ofStatement(one, anchorOf('statement', index), facts)),
    ...entry.tests.map((run, index) => ofRun(run, anchorOf('test', index), facts)),
    ...entry.parts.map((move, index) => ofMove(move, anchorOf('part', index), facts)),
    ...entry.opens.map((opened, index) => ofItem(opened, anchorOf('item', index), facts)),
    ...entry.decisions.map((one, index) => ofDecision(one, anchorOf('decision', index), facts)),
  ];
}

/** What a record is where it is nothing else. */
const NOTHING = {
  ref: null,
  quantity: null,
  uncertainty: null,
  says: null,
  point: null,
  under: [],
  how: null,
  note: null,
  standing: null,
  outcome: null,
  limit: null,
  apart: false,
  state: null,
  anchor: null,
} as const;

function ofReading(reading: Reading, anchor: string, facts: Facts): BookRecord {
  const { point, what, date, system, quantity, uncertainty, under, note, entry, place } = reading;
  const timeline = point === null ? undefined : facts.reckoning.timelines.get(point);
  // Written out, since an object that begins with a spread costs many times one that does not, and there are
  // more readings than anything else.
  return {
    sort: 'reading',
    ref: point,
    date,
    system,
    title: timeline?.point.title ?? what ?? point ?? '',
    quantity,
    uncertainty,
    says: null,
    point,
    under,
    how: taken(reading, reading.basis === 'measured' ? null : reading.basis, facts),
    note,
    standing: worst(timeline?.specs ?? [], facts),
    outcome: reading.test === null ? null : outcomeIn(reading, facts),
    limit: facts.limits.get(reading)?.limit ?? null,
    apart: facts.limits.get(reading)?.comparable === false,
    state: null,
    entry,
    anchor,
    place,
  };
}

function worst(specs: readonly string[], { reckoning }: Pick<Facts, 'reckoning'>): Standing | null {
  const standings = new Set(specs.map((spec) => reckoning.specs.get(spec)?.standing));
  return STANDINGS.find((standing) => standings.has(standing)) ?? null;
}

/** How the reading of a point did in its test: by the requirement of the same name, else as the whole test did. */
function outcomeIn({ test, point, entry, place }: Reading, { reckoning }: Facts): Outcome | null {
  const results = reckoning.tests.get(test ?? '')?.results ?? [];
  const path = place.path.join(' ');
  const result = results.find(
    ({ run }) => run.entry === entry && path.startsWith(`${run.place.path.join(' ')} `),
  );
  const name = point?.slice(point.indexOf('.') + 1);
  return result?.results.find((one) => one.name === name)?.outcome ?? result?.outcome ?? null;
}

/** Numbers of a test that belong to no point: they are readings of things named in plain words. */
function ofUnnamed(run: TestRun, anchor: string, facts: Facts): BookRecord[] {
  const system = systemOf(run.test);
  const test = facts.reckoning.tests.get(run.test)?.test;
  return unnamedOf(run, facts.reckoning.book).map(
    ({ name, quantity, uncertainty }): BookRecord => ({
      ...NOTHING,
      sort: 'reading',
      date: run.date,
      system,
      title: `${test?.title ?? run.test}: ${name.replaceAll('-', ' ')}`,
      quantity,
      uncertainty,
      under: run.under,
      how: taken(run, run.basis === 'measured' ? null : run.basis, facts),
      note: run.note,
      outcome: facts.results.get(run)?.results.find((one) => one.name === name)?.outcome ?? null,
      entry: run.entry,
      anchor,
      place: { file: run.place.file, path: [...run.place.path, 'readings', name] },
    }),
  );
}

function unnamedOf({ test, readings }: TestRun, { systems }: CheckedBook) {
  const points = systems.get(systemOf(test))?.points;
  return readings.flatMap(({ name, value, uncertainty }) =>
    value.type === 'text' || points?.has(name) === true
      ? []
      : [{ name, quantity: value.quantity, uncertainty }],
  );
}

/** What a logger has read, by its days: the lowest and the highest of each, or the one value that it had. */
function ofSeries(
  { series, days }: Pick<SeriesState, 'series' | 'days'>,
  { reckoning }: Facts,
): BookRecord[] {
  const point = reckoning.timelines.get(series.point)?.point;
  if (point === undefined) return [];
  return days.flatMap((day) =>
    extremesOf(day).flatMap(([which, value]): BookRecord[] => {
      const result = parseQuantity(`${value} ${point.unit}`, point.kind);
      if (!result.ok) return [];
      return [
        {
          ...NOTHING,
          sort: 'reading',
          ref: point.ref,
          date: day.date,
          system: point.system,
          title: point.title,
          quantity: result.quantity,
          uncertainty: { si: null, from: 'unknown' },
          point: point.ref,
          how: 'by a logger',
          note: `${which} of ${day.count} on that day`,
          entry: null,
          place: { file: series.file, path: [] },
        },
      ];
    }),
  );
}

function extremesOf({ min, max }: SeriesDay): readonly (readonly [which: string, value: number])[] {
  return min === max
    ? [['the same in all', min]]
    : [
        ['the highest', max],
        ['the lowest', min],
      ];
}

function ofMeter({ meter, reads, date, entry, place, replaced }: MeterReading, facts: Facts): BookRecord {
  return {
    ...NOTHING,
    sort: 'reading',
    ref: meter,
    date,
    system: systemOf(meter),
    title: facts.reckoning.meters.get(meter)?.title ?? meter,
    quantity: reads,
    uncertainty: { si: null, from: 'unknown' },
    note: replaced ? 'the meter was replaced' : null,
    entry,
    place,
  };
}

function ofStatement(statement: Statement, anchor: string, facts: Facts): BookRecord {
  const state = facts.reckoning.specs.get(statement.spec);
  return {
    ...NOTHING,
    ...claimOf(statement.says),
    sort: 'statement',
    ref: statement.spec,
    date: statement.date,
    system: systemOf(statement.spec),
    title: state?.spec.title ?? statement.spec,
    uncertainty: statement.uncertainty,
    point: state?.spec.point ?? null,
    under: statement.under,
    how: taken(statement, statement.basis, facts),
    note: statement.note,
    standing: state?.standing ?? null,
    entry: statement.entry,
    anchor,
    place: statement.place,
  };
}

function claimOf(claim: Claim): Pick<BookRecord, 'quantity' | 'says'> {
  return claim.type === 'text'
    ? { quantity: null, says: claim.text }
    : { quantity: claim.quantity, says: null };
}

/** What the systems' files state. */
function claims({ reckoning }: Facts): BookRecord[] {
  return [...reckoning.specs.values()].map(({ spec, standing }) => ofSpec(spec, standing));
}

function ofSpec(spec: Spec, standing: Standing): BookRecord {
  const { claim } = spec;
  return {
    ...NOTHING,
    ...claimOf(claim),
    sort: 'statement',
    ref: spec.ref,
    date: spec.since,
    system: spec.system,
    title: spec.title,
    uncertainty:
      claim.type === 'text'
        ? null
        : {
            si: claim.quantity.siUncertainty,
            from: claim.quantity.siUncertainty === null ? 'unknown' : 'written',
          },
    point: spec.point,
    how: [spec.basis, spec.source].filter((text) => text !== null).join(', '),
    note: null,
    standing,
    entry: null,
    place: spec.place,
  };
}

function ofRun(run: TestRun, anchor: string, facts: Facts): BookRecord {
  const test = facts.reckoning.tests.get(run.test)?.test;
  return {
    ...NOTHING,
    sort: 'test',
    ref: run.test,
    date: run.date,
    system: systemOf(run.test),
    title: test?.title ?? run.test,
    says: run.readings.map(readingWords).join(', '),
    under: run.under,
    how: taken(run, run.basis === 'measured' ? null : run.basis, facts),
    note: run.note,
    outcome: facts.results.get(run)?.outcome ?? null,
    entry: run.entry,
    anchor,
    place: run.place,
  };
}

function readingWords({ name, value }: TestReading): string {
  const said = value.type === 'text' ? value.text : printQuantity(value.quantity);
  return `${name.replaceAll('-', ' ')} ${said}`;
}

function ofMove(move: PartMove, anchor: string, facts: Facts): BookRecord {
  const part = facts.reckoning.parts.get(move.part);
  const { cost, supplier, quantity, serial, mass } = move;
  const said = [
    move.move,
    quantity !== null && quantity > 1 ? `${quantity} pieces` : null,
    cost === null ? null : `${cost.amount.toFixed(currencyDecimals(cost.currency))} ${cost.currency}`,
    supplier === null ? null : `from ${supplier}`,
    serial === null ? null : `serial ${serial}`,
  ];
  return {
    ...NOTHING,
    sort: 'part',
    ref: move.part,
    date: move.date,
    system: move.system,
    title: move.what ?? part?.what ?? move.part,
    quantity: mass,
    uncertainty: mass === null ? null : { si: mass.siUncertainty, from: spreadOf(mass) },
    says: said.filter((text) => text !== null).join(', '),
    note: move.note,
    state: part === undefined ? null : part.late ? 'on order, late' : PLACES[part.now],
    entry: move.entry,
    anchor,
    place: move.place,
  };
}

const PLACES = {
  ordered: 'on order',
  ashore: 'here, not fitted',
  fitted: 'fitted',
  removed: 'removed',
  returned: 'returned',
  sold: 'sold',
  scrapped: 'scrapped',
} as const;

function spreadOf({ siUncertainty }: Quantity): Uncertainty['from'] {
  return siUncertainty === null ? 'unknown' : 'written';
}

function ofItem(opened: Opened, anchor: string, facts: Facts): BookRecord {
  const state = facts.reckoning.items.get(opened.id);
  return {
    ...NOTHING,
    sort: 'item',
    ref: opened.id,
    date: opened.date,
    system: opened.system,
    title: opened.what,
    quantity: opened.size,
    uncertainty: opened.size === null ? null : { si: opened.size.siUncertainty, from: spreadOf(opened.size) },
    says: opened.by === null ? null : `due ${opened.by}`,
    state: state === undefined ? null : itemWords(state),
    entry: opened.entry,
    anchor,
    place: opened.place,
  };
}

function itemWords({ status, overdue, closed }: ItemState): string {
  if (closed !== null) return `done ${closed.date}`;
  return overdue ? `${status}, overdue` : status;
}

const VERDICTS = {
  holds: 'holds',
  fails: 'does not hold',
  undecided: 'undecided',
  unknown: 'cannot say',
} as const;

function ofDecision(decision: Decision, anchor: string, { reckoning }: Facts): BookRecord {
  const state = reckoning.decisions.get(decision.id);
  const holding = state?.holding ?? null;
  return {
    ...NOTHING,
    sort: 'decision',
    ref: decision.id,
    date: decision.date,
    system: decision.system,
    title: decision.question,
    says: `chosen: ${decision.chose}`,
    note: decision.because,
    state:
      (state?.undoneBy ?? null) !== null ? 'taken back' : holding === null ? null : VERDICTS[holding.verdict],
    entry: decision.entry,
    anchor,
    place: decision.place,
  };
}

/** Instrument and person by the names that the book gives them, after what else there is to say. */
function taken(
  how: Pick<Provenance, 'with' | 'by'>,
  first: string | null,
  { reckoning }: Facts,
): string | null {
  const { people, instruments } = reckoning.book;
  const parts = [
    first,
    how.with === null ? null : (instruments.get(how.with)?.name ?? how.with),
    how.by === null ? null : `by ${people.get(how.by)?.name ?? how.by}`,
  ].filter((part) => part !== null);
  return parts.length === 0 ? null : parts.join(', ');
}

function systemOf(ref: string): string {
  return ref.slice(0, ref.indexOf('.'));
}
