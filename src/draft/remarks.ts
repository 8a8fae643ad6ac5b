import { isDay, moneyOf, quantityOf } from '../check/build/values.js';
import { instrumentSaid } from '../check/instrument.js';
import * as m from '../check/messages.js';
import { farOff, implausible } from '../check/plausible.js';
import { collector, type Report, type Said } from '../check/problem.js';
import { backwards } from '../check/rules/meters.js';
import { misspeltSaid, moveSaid } from '../check/rules/parts.js';
import { type Kind, parseQuantity, type Quantity } from '../quantity/index.js';
import type { BookFacts, InstrumentFacts, MeterFacts, PointFacts } from '../reckon/facts.js';
import type { DraftPart, DraftReading } from './draft.js';

/**
 * What there is to say about an answer while it is typed, in the words of the checker and by the same
 * functions. What only the whole book can show is left for the checker.
 */

export interface Remark {
  /** An error keeps the entry from being written; a warning asks whether it is meant. */
  readonly severity: 'error' | 'warning';
  readonly message: string;
  readonly hint: string | null;
}

/** What the checker says of these does not keep an entry from being written. */
const WARNINGS: ReadonlySet<Said['code']> = new Set(['far-off', 'instrument-kind', 'part-misspelt']);

function remarkOf({ code, message, hint }: Said): Remark {
  return { severity: WARNINGS.has(code) ? 'warning' : 'error', message, hint };
}

function read<T>(take: (report: Report) => T): { readonly value: T; readonly remarks: readonly Remark[] } {
  const { problems, report } = collector('');
  const value = take(report);
  return { value, remarks: problems.map(remarkOf) };
}

/** A value of a kind, or of whatever kind its unit has. */
export function remarkValue(written: string, kind: Kind | null): readonly Remark[] {
  return read((report) => quantityOf(written, kind, [], report)).remarks;
}

/** An amount of money. */
export function remarkMoney(written: string): readonly Remark[] {
  return read((report) => moneyOf(written, [], report)).remarks;
}

/** A day: one that the calendar has and that is not to come. */
export function remarkDate(date: string, today: string): readonly Remark[] {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(date) || !isDay(date)) return [remarkOf(m.badDate(date))];
  return date > today ? [remarkOf(m.dateInFuture(date, today))] : [];
}

/** A reading of a point: its unit and kind, whether it can be true, whether the instrument can have shown it. */
export function remarkReading(
  { value, note }: Pick<DraftReading, 'value' | 'note'>,
  point: PointFacts,
  instrument: InstrumentFacts | null,
): readonly Remark[] {
  const { value: quantity, remarks } = read((report) => quantityOf(value, point.kind, [], report));
  if (quantity === null) return remarks;
  const untrue = implausible(quantity, point);
  const shown = instrument === null ? [] : instrumentSaid(quantity, instrument).map(remarkOf);
  if (untrue !== null) return [remarkOf(untrue), ...shown];
  const doubt = (note ?? '') === '' ? doubtful(quantity, point) : null;
  return doubt === null ? shown : [doubt, ...shown];
}

/** How many times the largest, or what part of the smallest, of all values so far is asked about. */
const TIMES = 5;

/** A value that is most likely a slip: far off the readings before it, or many times each of them. */
function doubtful(value: Quantity, point: PointFacts): Remark | null {
  const far = farOff(value, point, point.lately);
  const { last } = point;
  if (last === null || (far === null && !isManyTimes(value, point))) return null;
  return {
    severity: 'warning',
    message: `Last time ${last.written}; ${value.written}?`,
    hint: far?.hint ?? 'Correct it; if it is right, say so in a note.',
  };
}

/** A slip of the decimal point, where too few readings are known to tell by their scatter. Zero tells nothing. */
function isManyTimes(value: Quantity, point: PointFacts): boolean {
  // A temperature has no natural zero: 5 °C may well become 80 °C.
  if (value.siUnit === 'K' && point.kind === 'temperature') return false;
  const sizes = point.lately.map(Math.abs).filter((size) => size > 0);
  const now = Math.abs(value.si);
  if (sizes.length === 0 || now === 0) return false;
  return now >= TIMES * Math.max(...sizes) || now * TIMES <= Math.min(...sizes);
}

/** A reading of a meter: hours, and no fewer than the last time. */
export function remarkMeter(reads: string, meter: MeterFacts, isRestarted: boolean): readonly Remark[] {
  const { value, remarks } = read((report) => quantityOf(reads, 'time', [], report));
  if (value === null || meter.last === null || isRestarted) return remarks;
  const before = parseQuantity(meter.last.written, 'time');
  if (!before.ok) return remarks;
  const said = backwards(meter.ref, value, before.quantity, meter.last.date);
  if (said !== null) return [remarkOf(said)];
  return remarkRun(value, before.quantity, meter.last.written);
}

/** Hours of a season of running day and night: more since the last time are most likely a slip of the pen. */
const SEASON = 2000 * 3600;

function remarkRun(now: Quantity, before: Quantity, last: string): readonly Remark[] {
  if (now.si - before.si < SEASON) return [];
  return [{ severity: 'warning', message: `Last time ${last}; ${now.written}?`, hint: null }];
}

/** What was read in a test: a value of the kind that is required, or any text. */
export function remarkTestValue(
  written: string,
  kind: Kind | null,
  point: PointFacts | null,
  instrument: InstrumentFacts | null,
): readonly Remark[] {
  if (kind === null) return [];
  if (point === null) return remarkValue(written, kind);
  // An instrument that does not measure this kind is no fault here: a test takes several at once.
  const able = instrument?.abilities.some((ability) => ability.kind === kind) === true ? instrument : null;
  return remarkReading({ value: written }, point, able);
}

/** A move of a part: from where it is, with a cost that is money and a promised day that there is. */
export function remarkPart(
  part: DraftPart,
  facts: BookFacts,
  earlier: readonly DraftPart[],
): readonly Remark[] {
  const known = new Map(
    facts.systems.flatMap(({ parts }) => parts.map(({ id, lastMove }) => [id, lastMove] as const)),
  );
  const isOther = !known.has(part.part) && facts.taken.parts.includes(part.part);
  const before = new Map([...known, ...earlier.map((other) => [other.part, other.move] as const)]);
  const said = isOther ? null : (moveSaid(part.part, part.move, before) ?? misspeltSaid(part, before));
  const due = part.due === undefined || isDay(part.due) ? [] : [remarkOf(m.badDate(part.due))];
  return [
    ...(said === null ? [] : [remarkOf(said)]),
    ...(part.cost === undefined ? [] : remarkMoney(part.cost)),
    ...due,
  ];
}

/** Looks up an instrument. */
export function instrumentOf(id: string | undefined, { instruments }: BookFacts): InstrumentFacts | null {
  return instruments.find((instrument) => instrument.id === id) ?? null;
}
