import type { LedgerLine, WeightsReckoning } from '../../reckon/weights/model.js';

/** A place in metres: forward, to starboard, up. */
export type Place = readonly [number, number, number];

/** What has come to one place, or gone from it, all together. */
export interface WeightMark {
  /** Number of the mark, as in the ledger. */
  readonly number: number;
  readonly at: Place;
  readonly kg: number;
}

/** Weights where they sit, to scale, in metres. The template draws it from the side and from above. */
export interface HullChart {
  readonly marks: readonly WeightMark[];
  /** What was aboard before and is on the ledger, so that it is seen where there was something already. */
  readonly before: readonly { readonly at: Place; readonly kg: number }[];
  readonly moves: readonly { readonly from: Place; readonly to: Place }[];
  /** Draught at the marks, as floated and now; `now` is null where it is not given. */
  readonly draughts: {
    readonly aft: { readonly x: number; readonly before: number; readonly now: number | null };
    readonly fwd: { readonly x: number; readonly before: number; readonly now: number | null };
  } | null;
  readonly centre: {
    readonly before: { readonly x: number; readonly z: number | null } | null;
    readonly now: { readonly x: number; readonly y: number | null; readonly z: number | null } | null;
  };
  readonly low: Place;
  readonly high: Place;
  readonly alternative: string;
}

/** Masses below this, in kilograms, are none: what came took the place of what went. */
const NOTHING_LEFT = 0.05;

/** The marks of a ledger: lines that count, taken together where they are in one place. */
export function marksOf({ lines }: WeightsReckoning): {
  readonly marks: readonly WeightMark[];
  /** The mark of each line, where it has one. */
  readonly numberOf: ReadonlyMap<LedgerLine, number>;
} {
  const places = new Map<string, LedgerLine[]>();
  for (const line of lines) {
    if (!line.counts) continue;
    const key = placeOf(line)
      .map((metres) => metres.toFixed(2))
      .join(' ');
    const there = places.get(key);
    if (there === undefined) places.set(key, [line]);
    else there.push(line);
  }
  const numberOf = new Map<LedgerLine, number>();
  const marks: WeightMark[] = [];
  for (const there of places.values()) {
    const kg = there.reduce((sum, line) => sum + line.mass.quantity.si, 0);
    const [first] = there;
    if (first === undefined || Math.abs(kg) < NOTHING_LEFT) continue;
    const number = marks.length + 1;
    marks.push({ number, at: placeOf(first), kg });
    for (const line of there) numberOf.set(line, number);
  }
  return { marks, numberOf };
}

/** The drawing of where weights sit; null where there is nothing on the ledger. */
export function hullChart(weights: WeightsReckoning, marks: readonly WeightMark[]): HullChart | null {
  const before = weights.lines.filter(({ counts }) => !counts);
  if (weights.lines.length === 0) return null;
  const places = [...marks.map(({ at }) => at), ...before.map(placeOf)];
  const draughts = draughtsOf(weights);
  const xs = draughts === null ? [] : [draughts.aft.x, draughts.fwd.x];
  const axis = (of: 0 | 1 | 2, more: readonly number[]) => [...places.map((place) => place[of]), ...more];
  const [x, y, z] = [axis(0, [...xs, 0]), axis(1, [0]), axis(2, [0])];
  return {
    marks,
    before: before.map((line) => ({ at: placeOf(line), kg: Math.abs(line.mass.quantity.si) })),
    moves: movesOf(weights.lines),
    draughts,
    centre: centreOf(weights),
    low: [Math.min(...x), Math.min(...y), Math.min(...z)],
    high: [Math.max(...x), Math.max(...y), Math.max(...z)],
    alternative: alternative(marks),
  };
}

function placeOf({ at: [x, y, z] }: LedgerLine): Place {
  return [x.quantity.si, y.quantity.si, z.quantity.si];
}

function movesOf(lines: readonly LedgerLine[]): HullChart['moves'] {
  return lines.flatMap((line, index) => {
    const next = lines[index + 1];
    if (!line.counts || line.sort !== 'moved-from' || next?.sort !== 'moved-to' || next.id !== line.id)
      return [];
    return [{ from: placeOf(line), to: placeOf(next) }];
  });
}

function draughtsOf({ floated, effect }: WeightsReckoning): HullChart['draughts'] {
  if (floated === null) return null;
  const given = effect.status === 'given' ? effect : null;
  const aft = floated.aftMark.quantity.si;
  return {
    aft: { x: aft, before: floated.draughtAft.quantity.si, now: given?.draughtAft.quantity.si ?? null },
    fwd: {
      x: aft + floated.length.quantity.si,
      before: floated.draughtFwd.quantity.si,
      now: given?.draughtFwd.quantity.si ?? null,
    },
  };
}

function centreOf({ floated, centre }: WeightsReckoning): HullChart['centre'] {
  const { forward, starboard, up } = centre;
  return {
    before: floated?.lcg == null ? null : { x: floated.lcg.quantity.si, z: floated.kg?.quantity.si ?? null },
    now:
      forward === null
        ? null
        : { x: forward.quantity.si, y: starboard?.quantity.si ?? null, z: up?.quantity.si ?? null },
  };
}

function alternative(marks: readonly WeightMark[]): string {
  const [on, off] = [marks.filter(({ kg }) => kg > 0).length, marks.filter(({ kg }) => kg < 0).length];
  return `Weights where they sit, from the side and from above, to one scale: ${on} places that became heavier and ${off} that became lighter. The ledger names each.`;
}
