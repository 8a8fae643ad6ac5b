import {
  atMost,
  exactly,
  type Fit,
  larger,
  minus,
  product,
  quotient,
  smaller,
  sumOf,
  through,
  timesNumber,
  type Uncertain,
} from '../uncertain.js';
import { type Acceptance, type Charging, chargeDay, fillTime, type Slot } from './charge.js';
import { common, lengthOf, lies, type Span } from './day.js';
import { type PlanCase, type PlanSource, type PlanStore, runsIn } from './plan.js';
import { meanIn, NO_POWER, share, type Working } from './profile.js';
import { type Rated, ratedOf } from './sources.js';

/**
 * Putting back what a day takes out of a store.
 *
 * Conventions, all on the safe side of what happens aboard:
 *  - The whole of a day's use is put back by charging, also what is used while charging.
 *  - Sources charge one after another, in the order of the plan, each for as long as is needed or as it may.
 *  - A source that feeds loads of its own charges with what all of these leave of its rating while they run,
 *    and with the whole of it for the rest of its time. Their hours come first, since it runs then anyway.
 *  - Loads with the same windows are taken to run at the same time where they run only part of them.
 */

/** A store with all its values known. */
export interface Known {
  readonly store: PlanStore;
  readonly capacity: Uncertain<'charge'>;
  readonly voltage: Uncertain<'voltage'>;
  readonly chargingVoltage: Uncertain<'voltage'>;
  readonly acceptance: NonNullable<PlanStore['acceptance']>;
}

/** A store with its values, or null where one is missing. */
export function knownStore(store: PlanStore): Known | null {
  const { capacity, voltage, chargingVoltage, acceptance } = store;
  return capacity === null || voltage === null || chargingVoltage === null || acceptance === null
    ? null
    : { store, capacity, voltage, chargingVoltage, acceptance };
}

/** A time in which a source may charge, with what it gives then. */
interface PowerSlot {
  readonly seconds: Uncertain<'time'>;
  readonly power: Uncertain<'power'>;
}

/** A source that fills a store, with the loads that it feeds besides. */
export interface Filling {
  readonly source: PlanSource;
  readonly slots: readonly PowerSlot[];
  /** Whether it is there all day without burning fuel for it. */
  readonly always: boolean;
}

/** Seconds that a source runs for its loads in one piece of the day: as long as the one that runs longest. */
function ownSeconds(piece: Span, loads: readonly Working[]): Uncertain<'time'> {
  const here = loads.filter(({ use }) => lies(piece, use.spans));
  const times = here.map(({ use }) =>
    share(use) >= 1
      ? exactly('time', piece.to - piece.from)
      : timesNumber(use.hours, (piece.to - piece.from) / lengthOf(use.spans)),
  );
  return times.reduce((most, time) => larger(most, time), exactly('time', 0));
}

/** Seconds a day that its loads keep a source running. */
export function ownTime(loads: readonly Working[], pieces: readonly Span[]): Uncertain<'time'> {
  return sumOf(
    'time',
    pieces.map((piece) => ownSeconds(piece, loads)),
  );
}

/** What a source has left for charging beside so much active and apparent power. */
function left(rated: Rated, loads: readonly Working[]): Uncertain<'power'> {
  const active = minus(
    rated.active,
    sumOf(
      'power',
      loads.map((one) => one.active),
    ),
  );
  if (rated.apparent === 'unlimited') return larger(active, NO_POWER);
  const apparent = minus(
    rated.apparent,
    sumOf(
      'apparent-power',
      loads.map((one) => one.apparent),
    ),
  );
  // A charger is taken to have a power factor of 1.
  const asActive = product('power', apparent, exactly('power-factor', 1));
  return larger(smaller(active, asActive), NO_POWER);
}

/** The times in which a source may charge in a case; null where its rating is missing. */
export function fillingOf(
  source: PlanSource,
  loads: readonly Working[],
  pieces: readonly Span[],
  one: PlanCase,
): Filling | null {
  const rated = ratedOf(source);
  if (rated === null) return null;
  const runs = runsIn(source, one.id);
  const allowed = pieces.filter((piece) => lies(piece, runs.spans));
  const busy = allowed.map((piece): PowerSlot => {
    const here = loads.filter(({ use }) => lies(piece, use.spans));
    return { seconds: ownSeconds(piece, loads), power: left(rated, here) };
  });
  const own = sumOf(
    'time',
    busy.map((slot) => slot.seconds),
  );
  const rest = larger(minus(runs.hours, own), exactly('time', 0));
  const through = source.drains === null ? source.efficiency : exactly('ratio', 1);
  const slots = [...busy.filter(({ seconds }) => seconds.si > 0), { seconds: rest, power: rated.active }];
  return {
    source,
    slots: slots.map(({ seconds, power }) => ({ seconds, power: product('power', power, through) })),
    always: source.fuel === null && !source.runs.has(one.id),
  };
}

/** Whether one source gives what is drawn from a store at every moment, so that it stays at its level. */
export function carriesAlways(filling: Filling, pieces: readonly Span[], drawn: readonly Working[]): Fit {
  if (!filling.always) return 'fails';
  const least = filling.slots.reduce(
    (weakest, { power }) => smaller(weakest, power),
    filling.slots[0]?.power ?? NO_POWER,
  );
  const peak = pieces.reduce((most, piece) => larger(most, meanIn(piece, drawn)), NO_POWER);
  return atMost(peak, least);
}

/** A day's charging of one store, with uncertainties. */
export interface DayOfCharging {
  /** For each source in turn. */
  readonly seconds: readonly Uncertain<'time'>[];
  readonly puts: readonly Uncertain<'charge'>[];
  /** Left to put back at the end of the day; never below nought. */
  readonly short: Uncertain<'charge'>;
  /** By interval: whether the sources put back what a day takes. */
  readonly fit: Fit;
  /** Fills that a day's use takes; more than one where it is more than may be taken out at once. */
  readonly times: number;
}

/** Everything that the charging of a store hangs on, laid out in a row so that derivatives can be taken. */
function inputsOf(
  known: Known,
  used: Uncertain<'charge'>,
  level: Uncertain<'ratio'>,
  fillings: readonly Filling[],
) {
  const slots = fillings.flatMap((filling, source) => filling.slots.map((slot) => ({ source, ...slot })));
  const steps = known.acceptance;
  const inputs = [
    used,
    level,
    known.capacity,
    known.store.usable,
    known.store.chargeEfficiency,
    ...steps.flatMap(({ at, current }) => [at, current]),
    ...slots.flatMap(({ seconds, power }) => [seconds, quotient('current', power, known.chargingVoltage)]),
  ];
  const unpack = (si: readonly number[]) => {
    const at = (index: number) => si[index] as number;
    const table = steps.map((_, n): [number, number] => [at(5 + 2 * n), at(6 + 2 * n)]);
    const from = 5 + 2 * steps.length;
    const store: Acceptance = { capacity: at(2), efficiency: at(4), table };
    return {
      store,
      used: at(0),
      level: at(1),
      floor: 1 - at(3),
      slots: slots.map(
        ({ source }, n): Slot => ({
          source,
          seconds: at(from + 2 * n),
          current: at(from + 2 * n + 1),
        }),
      ),
    };
  };
  return { inputs, unpack };
}

/**
 * A day's charging of a store by some sources.
 *
 * @param used what is taken out in a day.
 * @param level state of charge to which it is filled.
 */
export function chargingOf(
  known: Known,
  used: Uncertain<'charge'>,
  level: Uncertain<'ratio'>,
  fillings: readonly Filling[],
): DayOfCharging {
  const { inputs, unpack } = inputsOf(known, used, level, fillings);
  const day = (si: readonly number[]): Charging => {
    const of = unpack(si);
    return chargeDay(of.store, of.used, of.level, of.floor, of.slots);
  };
  const pick = <K extends 'time' | 'charge'>(kind: K, of: (charging: Charging) => number) =>
    through(kind, inputs, (si) => of(day(si)));
  const margin = pick('charge', ({ short, spare }) => spare - short);
  const usable = usableOf(known, level);
  return {
    seconds: fillings.map((_, n) => pick('time', ({ seconds }) => seconds[n] ?? 0)),
    puts: fillings.map((_, n) => pick('charge', ({ put }) => put[n] ?? 0)),
    short: pick('charge', ({ short }) => short),
    fit: atMost(exactly('charge', 0), margin),
    times: usable.si > 0 ? Math.max(1, used.si / usable.si) : 1,
  };
}

/** The charge between the level to which a store is filled and the one below which it must not be taken. */
export function usableOf({ capacity, store }: Known, level: Uncertain<'ratio'>): Uncertain<'charge'> {
  const floor = minus(exactly('ratio', 1), store.usable);
  return larger(product('charge', capacity, minus(level, floor)), exactly('charge', 0));
}

/**
 * Seconds in which a store takes a day's use again at the most that it accepts, whatever the sources give.
 * Infinite where it accepts nothing before it is full.
 */
export function fastestFill(
  known: Known,
  used: Uncertain<'charge'>,
  level: Uncertain<'ratio'>,
): Uncertain<'time'> {
  const { inputs, unpack } = inputsOf(known, used, level, []);
  return through('time', inputs, (si) => {
    const of = unpack(si);
    const once = Math.min(of.used, (of.level - of.floor) * of.store.capacity);
    if (once <= 0) return 0;
    const from = of.level - once / of.store.capacity;
    return (fillTime(of.store, from, of.level, Number.POSITIVE_INFINITY) * of.used) / once;
  });
}

/** Time that declared windows of a load lie outside the times at which its source runs. */
export function outsideRuns(spans: readonly Span[], runs: readonly Span[]): number {
  return lengthOf(spans) - lengthOf(common(spans, runs));
}
