/**
 * How long a store takes to fill when the current that it accepts falls as it fills.
 *
 * The state of charge s goes up as ds/dt = η I(s) / C, where I(s) is the smaller of what the source gives and
 * what the store accepts. What it accepts is given at some states of charge and goes straight from one to the
 * next, so the time over each straight piece has a closed form and nothing is summed up in small steps.
 */

/** What a store accepts, and how much of what is put in it keeps. */
export interface Acceptance {
  /** Capacity in coulombs. */
  readonly capacity: number;
  /** Share of the charge put in that comes out again. */
  readonly efficiency: number;
  /** State of charge and largest current in amperes, in order of the first; empty: no limit. */
  readonly table: readonly (readonly [at: number, current: number])[];
}

/** The largest current that is accepted at a state of charge; beyond the ends of the table as at its ends. */
export function acceptedAt({ table }: Acceptance, at: number): number {
  const next = table.findIndex(([soc]) => soc >= at);
  const after = table[next === -1 ? table.length - 1 : next];
  const before = table[next - 1];
  if (after === undefined) return Number.POSITIVE_INFINITY;
  if (next === -1 || before === undefined || after[0] === before[0]) return after[1];
  return before[1] + ((after[1] - before[1]) * (at - before[0])) / (after[0] - before[0]);
}

/** A stretch of states of charge over which the current is a straight line. */
interface Piece {
  readonly from: number;
  readonly to: number;
  /** Current at its beginning and at its end, in amperes. */
  readonly a: number;
  readonly b: number;
}

/** The straight pieces of the current between two states of charge, from a source of so much current. */
function piecesOf(store: Acceptance, from: number, to: number, source: number): readonly Piece[] {
  const inner = [...store.table.map(([soc]) => soc), ...crossings(store, source)];
  const edges = [from, ...inner.filter((soc) => soc > from && soc < to), to].sort((x, y) => x - y);
  const current = (soc: number) => Math.min(source, acceptedAt(store, soc));
  return edges.slice(1).flatMap((end, index) => {
    const begin = edges[index] as number;
    return end > begin ? [{ from: begin, to: end, a: current(begin), b: current(end) }] : [];
  });
}

/** States of charge at which the store accepts just what the source gives. */
function crossings({ table }: Acceptance, source: number): readonly number[] {
  return table.slice(1).flatMap(([soc, current], index) => {
    const [before, was] = table[index] as readonly [number, number];
    if ((was - source) * (current - source) >= 0) return [];
    return [before + ((source - was) * (soc - before)) / (current - was)];
  });
}

/**
 * Seconds to fill a store from one state of charge to another; infinite where the current falls to nothing.
 *
 * @param source current that the source gives, in amperes; infinite: whatever is accepted.
 */
export function fillTime(store: Acceptance, from: number, to: number, source: number): number {
  return piecesOf(store, from, to, source).reduce((sum, piece) => sum + pieceTime(store, piece), 0);
}

/** Charge over mean current: the logarithmic mean for a straight line. */
function pieceTime({ capacity, efficiency }: Acceptance, { from, to, a, b }: Piece): number {
  if (a <= 0 || b <= 0) return Number.POSITIVE_INFINITY;
  if (a === Number.POSITIVE_INFINITY) return 0;
  return ((capacity / efficiency) * (to - from)) / logMean(a, b);
}

/** The logarithmic mean of two positive numbers, by its series where they are close. */
function logMean(a: number, b: number): number {
  const x = b / a - 1;
  return Math.abs(x) < 1e-6 ? a * (1 + x / 2) : (b - a) / Math.log1p(x);
}

/** The state of charge that is reached in so many seconds, `to` at most. */
export function filledIn(
  store: Acceptance,
  from: number,
  to: number,
  source: number,
  seconds: number,
): number {
  let left = seconds;
  for (const piece of piecesOf(store, from, to, source)) {
    const time = pieceTime(store, piece);
    if (time > left) return reached(store, piece, left);
    left -= time;
  }
  return Math.max(from, to);
}

/** The solution of ds/dt = η (a + k (s - from)) / C. */
function reached({ capacity, efficiency }: Acceptance, { from, to, a, b }: Piece, seconds: number): number {
  if (a <= 0) return from;
  const k = (b - a) / (to - from);
  const grown = (k * seconds * efficiency) / capacity;
  const gained = Math.abs(grown) < 1e-9 ? (a * seconds * efficiency) / capacity : (a / k) * Math.expm1(grown);
  return Math.min(to, from + gained);
}

/** A time in which a source may charge, and the current that it gives then. */
export interface Slot {
  /** Which source it is, by its place in the list. */
  readonly source: number;
  readonly seconds: number;
  /** Amperes. */
  readonly current: number;
}

/** A day's charging. */
export interface Charging {
  /** Seconds that each source runs. */
  readonly seconds: readonly number[];
  /** Coulombs that each source puts back, as they come out again. */
  readonly put: readonly number[];
  /** Coulombs that are left to put back at the end of the day. */
  readonly short: number;
  /** Coulombs that could have been put in on top, at the current with which it ended. */
  readonly spare: number;
}

/**
 * A day's charging by sources one after another, each as long as is needed or as it may run.
 *
 * The store begins at `level` less what was used. Where a day's use is more than lies between `level` and
 * `floor`, it is used and filled several times a day, and each time the same.
 *
 * @param used coulombs taken out in a day.
 * @param level state of charge to which it is filled, `floor` the one below which it must not be taken.
 */
export function chargeDay(
  store: Acceptance,
  used: number,
  level: number,
  floor: number,
  slots: readonly Slot[],
): Charging {
  const usable = Math.max((level - floor) * store.capacity, 0);
  const times = usable === 0 ? 1 : Math.max(1, used / usable);
  const count = Math.max(-1, ...slots.map((slot) => slot.source)) + 1;
  const seconds: number[] = new Array<number>(count).fill(0);
  const put: number[] = new Array<number>(count).fill(0);
  let at = level - used / times / store.capacity;
  let spare = 0;
  for (const slot of slots) {
    const allowed = slot.seconds / times;
    const next = filledIn(store, at, level, slot.current, allowed);
    const taken = next < level ? allowed : Math.min(allowed, fillTime(store, at, level, slot.current));
    seconds[slot.source] = (seconds[slot.source] ?? 0) + taken * times;
    put[slot.source] = (put[slot.source] ?? 0) + (next - at) * store.capacity * times;
    spare += (allowed - taken) * times * Math.min(slot.current, acceptedAt(store, level)) * store.efficiency;
    at = next;
  }
  return { seconds, put, short: (level - at) * store.capacity * times, spare };
}
