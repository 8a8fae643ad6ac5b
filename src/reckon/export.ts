import { EXPORT_VERSION, type ExportDocument } from '../../schemas/export.js';
import type {
  CheckedBook,
  Claim,
  Condition,
  Decision,
  Entry,
  Hours,
  PartMove,
  Place,
  Reading,
  System,
} from '../check/model.js';
import { printInterval } from '../quantity/index.js';
import { computedRows, holdingRow } from './export-computed.js';
import { quantityRow, uncertaintyIn } from './export-values.js';
import { checkOverdueSince } from './instruments.js';
import type {
  DecisionState,
  Evidence,
  ItemState,
  PartState,
  Reckoning,
  SpecState,
  TestResult,
  TestState,
  Timeline,
} from './model.js';
import type { SeriesState } from './series.js';
import type { Trend } from './trend-model.js';
import { trendsOf } from './trends.js';

/** The line of a file of the book on which a place stands, counted from 1; null where nobody looked. */
export type LineOf = (place: Place) => number | null;

type Row<List extends keyof ExportDocument> = ExportDocument[List] extends readonly (infer Item)[]
  ? Item
  : never;

/**
 * The checked and computed book as one plain document, as `schemas/export.ts` describes it.
 *
 * @param lineOf finds lines; a reckoning knows only paths of keys.
 */
export function exportDocument(reckoning: Reckoning, lineOf: LineOf): ExportDocument {
  return {
    ...exportHead(reckoning),
    entries: reckoning.book.entries.map((entry) => entryRow(entry, lineOf)),
    readings: reckoning.readings.map((reading) => readingRow(reading, lineOf)),
    ...exportRest(reckoning, lineOf, trendsOf(reckoning)),
  };
}

/** What the document says of itself and of its book. */
export function exportHead({ book, asOf }: Reckoning): Pick<ExportDocument, Head> {
  return {
    format: 'ribband-export',
    version: EXPORT_VERSION,
    asOf,
    book: {
      id: book.id,
      name: book.subject.name,
      type: book.subject.type,
      language: book.language,
      currency: book.currency,
    },
  };
}

type Head = 'format' | 'version' | 'asOf' | 'book';

/** All of the document but its head, entries and readings. */
export function exportRest(
  reckoning: Reckoning,
  lineOf: LineOf,
  trends: ReadonlyMap<string, Trend>,
): Omit<ExportDocument, Head | 'entries' | 'readings'> {
  const { book } = reckoning;
  return {
    systems: [...book.systems.values()].map(systemRow),
    points: [...reckoning.timelines.values()].map((timeline) =>
      pointRow(timeline, reckoning.series.get(timeline.point.ref)),
    ),
    specs: [...reckoning.specs.values()].map((state) => specRow(state, book, lineOf)),
    tests: [...reckoning.tests.values()].map((state) => testRow(state, lineOf)),
    parts: [...reckoning.parts.values()].map((state) => partRow(state, lineOf)),
    items: [...reckoning.items.values()].map((state) => itemRow(state, lineOf)),
    decisions: [...reckoning.decisions.values()].map((state) => decisionRow(state, lineOf)),
    hours: book.entries.flatMap((entry) => entry.hours.map((hours) => hoursRow(hours, lineOf))),
    ...computedRows(reckoning, trends),
  };
}

/** An entry as a row of the document. */
export function entryRow(entry: Entry, lineOf: LineOf): Row<'entries'> {
  return {
    id: entry.id,
    file: entry.file,
    sha256: entry.hash,
    date: entry.date,
    title: entry.title,
    systems: [...entry.systems],
    place: entry.location,
    meters: entry.meters.map(({ meter, reads, replaced, wrapped, place }) => ({
      meter,
      reads: quantityRow(reads),
      replaced,
      wrapped,
      line: lineOf(place),
    })),
    statements: entry.statements.map(({ spec, says, basis, by, with: instrument, see, note, place }) => ({
      spec,
      says: claimText(says),
      basis,
      by,
      with: instrument,
      see,
      note,
      line: lineOf(place),
    })),
    opens: entry.opens.map((open) => open.id),
    closes: [...entry.closes],
    done: [...entry.done],
    photos: entry.photos.map(({ file, alt, caption }) => ({ file, alt, caption })),
    private: [...entry.private],
    body: entry.body,
  };
}

function systemRow(system: System): Row<'systems'> {
  return {
    id: system.id,
    file: system.file,
    title: system.title,
    group: system.group,
    inService: system.inService,
    hazards: [...system.hazards],
    meters: [...system.meters.values()].map((meter) => meter.ref),
    derived: [...system.derived.values()].map(({ ref, title, from, kind, unit, uses }) => ({
      id: ref,
      title,
      from,
      kind,
      unit,
      uses: [...uses],
    })),
    upkeep: [...system.upkeep.values()].map(({ ref, what, everyWritten, meter, safety }) => ({
      id: ref,
      what,
      every: everyWritten,
      meter,
      safety,
    })),
    body: system.body,
  };
}

function pointRow(
  { point, readings, last, specs }: Timeline,
  series: SeriesState | undefined,
): Row<'points'> {
  return {
    id: point.ref,
    system: point.system,
    title: point.title,
    kind: point.kind,
    unit: point.unit,
    atLeast: maybe(point.atLeast, quantityRow),
    atMost: maybe(point.atMost, quantityRow),
    expect: point.expect,
    where: point.where,
    since: point.since,
    until: point.until,
    readings: readings.length,
    last: maybe(last, ({ reading, limit }) => ({
      date: reading.date,
      written: reading.quantity.written,
      limit,
    })),
    specs: [...specs],
    logged: series === undefined ? null : loggedRow(series),
  };
}

function loggedRow({ series, days, lowest, mean, highest }: SeriesState): Row<'points'>['logged'] {
  return {
    file: series.file,
    sha256: series.hash,
    rows: series.times.length,
    from: days[0]?.date ?? null,
    to: days.at(-1)?.date ?? null,
    lowest: lowest?.value ?? null,
    mean,
    highest: highest?.value ?? null,
  };
}

/** A reading as a row of the document. */
export function readingRow(reading: Reading, lineOf: LineOf): Row<'readings'> {
  return {
    date: reading.date,
    system: reading.system,
    point: reading.point,
    what: reading.what,
    ...quantityRow(reading.quantity),
    uncertainty: uncertaintyIn(reading.quantity, reading.uncertainty),
    uncertaintyFrom: reading.uncertainty.from,
    basis: reading.basis,
    test: reading.test,
    with: reading.with,
    by: reading.by,
    under: reading.under.map(conditionRow),
    see: reading.see,
    note: reading.note,
    entry: reading.entry,
    line: lineOf(reading.place),
  };
}

function specRow(state: SpecState, { instruments }: CheckedBook, lineOf: LineOf): Row<'specs'> {
  const { spec } = state;
  return {
    id: spec.ref,
    system: spec.system,
    title: spec.title,
    value: claimText(spec.claim),
    quantity: spec.claim.type === 'quantity' ? quantityRow(spec.claim.quantity) : null,
    basis: spec.basis,
    source: spec.source,
    since: spec.since,
    within: spec.bandWritten,
    means: spec.means,
    point: spec.point,
    needs: spec.needs,
    againEvery: maybe(spec.againEvery, printInterval),
    standing: state.standing,
    because: state.because,
    holds: claimText(state.holds),
    lapsesOn: state.lapsesOn,
    evidence: state.evidence.map((piece) => evidenceRow(piece, instruments)),
    file: spec.place.file,
    line: lineOf(spec.place),
  };
}

function evidenceRow(
  piece: Evidence,
  instruments: CheckedBook['instruments'],
): Row<'specs'>['evidence'][number] {
  const { date, basis, value, agreement, from, by, with: instrument, see, note, entry } = piece;
  const overdue = instrument === null ? null : checkOverdueSince(instruments.get(instrument), date);
  return {
    ...{ date, basis, value: claimText(value), agreement, from, by, with: instrument },
    instrumentOverdueSince: overdue,
    ...{ see, note, entry },
  };
}

function testRow({ test, results, last }: TestState, lineOf: LineOf): Row<'tests'> {
  return {
    id: test.ref,
    system: test.system,
    title: test.title,
    requires: test.requires.map(({ name, written }) => ({ name, required: written })),
    steps: [...test.steps],
    hazards: [...test.hazards],
    againEvery: maybe(test.againEvery, printInterval),
    outcome: last?.outcome ?? null,
    runs: results.map((result) => testRunRow(result, lineOf)),
  };
}

function testRunRow({ run, outcome, results }: TestResult, lineOf: LineOf): Row<'tests'>['runs'][number] {
  return {
    date: run.date,
    outcome,
    basis: run.basis,
    results: results.map((result) => ({
      name: result.name,
      required: result.required,
      value: maybe(result.value, claimText),
      outcome: result.outcome,
    })),
    with: run.with,
    by: run.by,
    under: run.under.map(conditionRow),
    see: run.see,
    note: run.note,
    entry: run.entry,
    line: lineOf(run.place),
  };
}

function partRow(state: PartState, lineOf: LineOf): Row<'parts'> {
  return {
    id: state.id,
    what: state.what,
    system: state.system,
    now: state.now,
    since: state.since,
    ordered: state.ordered,
    arrived: state.arrived,
    due: state.due,
    late: state.late,
    cameLateDays: state.cameLateDays,
    leadDays: state.leadDays,
    supplier: state.supplier,
    serial: state.serial,
    costs: state.costs.map(({ amount, currency }) => ({ amount, currency })),
    restsOn: [...state.restsOn],
    moves: state.moves.map((move) => moveRow(move, lineOf)),
  };
}

function moveRow(move: PartMove, lineOf: LineOf): Row<'parts'>['moves'][number] {
  return {
    date: move.date,
    move: move.move,
    quantity: move.quantity,
    cost: maybe(move.cost, ({ amount, currency }) => ({ amount, currency })),
    mass: maybe(move.mass, quantityRow),
    note: move.note,
    entry: move.entry,
    line: lineOf(move.place),
  };
}

function itemRow(state: ItemState, lineOf: LineOf): Row<'items'> {
  const { opened } = state;
  return {
    id: opened.id,
    what: opened.what,
    system: opened.system,
    status: state.status,
    overdue: state.overdue,
    size: maybe(opened.size, quantityRow),
    by: opened.by,
    goal: opened.goal,
    defect: opened.defect,
    safety: opened.safety,
    waitsOn: opened.waitsOn.map(({ kind, id }) => ({ kind, id })),
    blockedBy: [...state.blockedBy],
    waitsFor: [...state.waitsFor],
    undecided: [...state.undecided],
    waitsOnHidden: state.waitsOnHidden,
    holdsUp: [...state.holdsUp],
    restsOn: [...opened.restsOn],
    opened: opened.date,
    entry: opened.entry,
    line: lineOf(opened.place),
    closed: state.closed,
  };
}

function decisionRow(state: DecisionState, lineOf: LineOf): Row<'decisions'> {
  const { decision, undoneBy, restsOn } = state;
  return {
    id: decision.id,
    date: decision.date,
    system: decision.system,
    question: decision.question,
    options: decision.options.map(optionRow),
    chose: decision.chose,
    because: decision.because,
    restsOn: restsOn.map(({ ref, standing }) => ({ ref, standing })),
    holdsWhile: decision.holdsWhile,
    undoes: decision.undoes,
    undoneBy,
    holding: holdingRow(state),
    entry: decision.entry,
    line: lineOf(decision.place),
  };
}

function optionRow(option: Decision['options'][number]): Row<'decisions'>['options'][number] {
  return { option: option.option, figures: option.figures.map(conditionRow), note: option.note };
}

function hoursRow({ date, by, spent, on, entry, place }: Hours, lineOf: LineOf): Row<'hours'> {
  return { date, by, hours: spent, system: on, entry, line: lineOf(place) };
}

function conditionRow({ name, value }: Condition) {
  return { name, value: claimText(value) };
}

function claimText(claim: Claim): string {
  return claim.type === 'quantity' ? claim.quantity.written : claim.text;
}

function maybe<From, To>(value: From | null, to: (value: From) => To): To | null {
  return value === null ? null : to(value);
}
