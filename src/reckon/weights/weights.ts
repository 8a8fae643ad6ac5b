import type { WeightsPlanFile } from '../../../schemas/weights-plan.js';
import type { CheckedBook } from '../../check/model.js';
import { type DisplayPreference, type Kind, printQuantity } from '../../quantity/index.js';
import { isMissing, type PlanReader, planReader } from '../plan-values.js';
import {
  exactly,
  type Figure,
  figureOf,
  product,
  restingOn,
  restsOf,
  sumOf,
  type Uncertain,
} from '../uncertain.js';
import type { Values } from '../values.js';
import {
  centreAfter,
  gmAfter,
  type Hydrostatics,
  heelOf,
  immersionOf,
  LARGEST_HEEL,
  type Limited,
  outsideLimits,
  type Validity,
} from './floating.js';
import { type Entry, type Place, partLedger, type Totals, totalsOf } from './ledger.js';
import {
  type Effect,
  type Floated,
  type LedgerLine,
  type Moments,
  type NotWeighed,
  STABILITY_CAUTION,
  type WeightsReckoning,
} from './model.js';

/**
 * Reckons the weights: what was put aboard, taken off and shifted since the boat floated as the hydrostatics
 * say, and what that does to how she floats.
 *
 * What happened on that day itself is taken to have been aboard already. Weights of the plan without a day are
 * always aboard and change nothing.
 *
 * @param book the book as it stood on the day.
 * @param asOf the day; weights of the plan that come later are left out.
 * @returns null for a book without a weights plan.
 */
export function reckonWeights(book: CheckedBook, values: Values, asOf: string): WeightsReckoning | null {
  const file = book.plans.weights;
  if (file === null) return null;
  const reader = planReader(book.systems, values, 'unknown');
  const water = file.hydrostatics === undefined ? null : readWater(file.hydrostatics, reader);
  const base = water?.on ?? null;
  const parts = partLedger(book.entries.flatMap((entry) => entry.parts));
  const entries = [...planEntries(file, reader, asOf), ...parts.entries].sort(byDate);
  const since = (date: string | null) =>
    base === null || base > asOf ? base === null : date !== null && date > base;
  const counted = entries.filter(({ date }) => since(date));
  const notWeighed = parts.notWeighed.filter(({ date }) => since(date));
  const change = totalsOf(counted);
  const known = base !== null && base <= asOf ? water : null;
  return {
    title: file.title ?? 'Weights',
    origin: file.origin,
    floated: water && floatedOf(water, values),
    lines: entries.map((entry) => lineOf(entry, since(entry.date), values)),
    notWeighed,
    massChange: figureOf(change.mass, 'kg', values),
    moments: momentsOf(change, values),
    ...massesOf(known, change, values),
    effect: effectOf(known, change, base, { values, display: book.display }),
    remarks: remarksOf(known, notWeighed),
    caution: STABILITY_CAUTION,
    restsOn: restsOf(
      [...(water?.water.displacement.rests ?? []), ...counted.flatMap(({ mass }) => [...mass.rests])],
      values,
    ),
  };
}

type WaterFile = NonNullable<WeightsPlanFile['hydrostatics']>;

/** The hydrostatics of the plan in SI. */
interface Water {
  readonly on: string;
  readonly source: string | null;
  readonly water: Hydrostatics;
  readonly validity: Validity;
}

function readWater(file: WaterFile, reader: PlanReader): Water | null {
  const rests = (file['rests-on'] ?? []).flatMap((ref) => [ref, ...(reader.values.of(ref)?.restsOn ?? [])]);
  const read = <K extends Kind>(written: string | number, kind: K) => {
    const value = reader.value(written, kind);
    return isMissing(value) ? null : restingOn(value, rests);
  };
  const optional = <K extends Kind>(written: string | number | undefined, kind: K) =>
    written === undefined ? null : read(written, kind);
  const length = read(file.length, 'length');
  const displacement = read(file.displacement, 'mass');
  const draughtFwd = read(file['draught-fwd'], 'length');
  const draughtAft = read(file['draught-aft'], 'length');
  const tpc = read(file.tpc, 'immersion');
  const mctc = read(file.mctc, 'trim-moment');
  const lcf = read(file.lcf, 'length');
  const massChange = read(file.valid['mass-change'], 'ratio');
  if (
    length === null ||
    displacement === null ||
    draughtFwd === null ||
    draughtAft === null ||
    tpc === null ||
    mctc === null ||
    lcf === null ||
    massChange === null
  )
    return null;
  return {
    on: file.on,
    source: file.source ?? null,
    water: {
      length,
      displacement,
      draughtFwd,
      draughtAft,
      tpc,
      mctc,
      lcf,
      aftMark: optional(file['aft-mark'], 'length') ?? exactly('length', 0),
      lcg: optional(file.lcg, 'length'),
      kg: optional(file.kg, 'length'),
      gm: optional(file.gm, 'length'),
    },
    validity: {
      massChange,
      trimChange: optional(file.valid['trim-change'], 'length'),
      heel: optional(file.valid.heel, 'angle') ?? LARGEST_HEEL,
    },
  };
}

function planEntries(file: WeightsPlanFile, reader: PlanReader, asOf: string): readonly Entry[] {
  return Object.entries(file.weights ?? {}).flatMap(([id, weight]): Entry[] => {
    if (weight.since !== undefined && weight.since > asOf) return [];
    const rests = (weight['rests-on'] ?? []).flatMap((ref) => [
      ref,
      ...(reader.values.of(ref)?.restsOn ?? []),
    ]);
    const mass = reader.value(weight.mass, 'mass');
    const [x, y, z] = weight.at.map((axis) => reader.value(axis, 'length'));
    if (isMissing(mass) || x === undefined || y === undefined || z === undefined) return [];
    if (isMissing(x) || isMissing(y) || isMissing(z)) return [];
    return [
      {
        sort: 'plan',
        id,
        title: weight.title ?? id,
        system: weight.system ?? null,
        date: weight.since ?? null,
        entry: null,
        note: weight.note ?? null,
        mass: restingOn(mass, rests),
        at: [x, y, z],
      },
    ];
  });
}

function byDate(a: Entry, b: Entry): number {
  const [x, y] = [a.date ?? '', b.date ?? ''];
  return x < y ? -1 : x > y ? 1 : 0;
}

function lineOf({ mass, at, ...entry }: Entry, counts: boolean, values: Values): LedgerLine {
  const axis = (place: Place, n: 0 | 1 | 2): Figure<'length'> => figureOf(place[n], 'm', values);
  return {
    ...entry,
    mass: figureOf(mass, 'kg', values),
    at: [axis(at, 0), axis(at, 1), axis(at, 2)],
    moments: momentsOf(totalsOf([{ mass, at }]), values),
    counts,
  };
}

function momentsOf({ forward, starboard, up }: Totals, values: Values): Moments {
  const figure = (moment: Uncertain<'moment-of-mass'>) => figureOf(moment, 'kg·m', values);
  return { forward: figure(forward), starboard: figure(starboard), up: figure(up) };
}

function floatedOf({ on, source, water }: Water, values: Values): Floated {
  const metres = (value: Uncertain<'length'>) => figureOf(value, 'm', values);
  return {
    on,
    source,
    length: metres(water.length),
    aftMark: metres(water.aftMark),
    displacement: figureOf(water.displacement, 't', values),
    draughtFwd: metres(water.draughtFwd),
    draughtAft: metres(water.draughtAft),
    lcf: metres(water.lcf),
    lcg: water.lcg && metres(water.lcg),
    kg: water.kg && metres(water.kg),
    gm: water.gm && metres(water.gm),
  };
}

/** Displacement and centre of gravity now. She is taken to have floated upright before. */
function massesOf(
  known: Water | null,
  change: Totals,
  values: Values,
): Pick<WeightsReckoning, 'displacement' | 'centre'> {
  if (known === null) return { displacement: null, centre: { forward: null, starboard: null, up: null } };
  const { displacement, lcg, kg } = known.water;
  const after = (at: Uncertain<'length'> | null, moment: Uncertain<'moment-of-mass'>) =>
    at && figureOf(centreAfter(displacement, at, change.mass, moment), 'm', values);
  return {
    displacement: figureOf(sumOf('mass', [displacement, change.mass]), 't', values),
    centre: {
      forward: after(lcg, change.forward),
      starboard: after(exactly('length', 0), change.starboard),
      up: after(kg, change.up),
    },
  };
}

interface Telling {
  readonly values: Values;
  readonly display: DisplayPreference;
}

function effectOf(known: Water | null, change: Totals, base: string | null, telling: Telling): Effect {
  if (known === null) return { status: 'no-hydrostatics', reasons: [unknownWater(base)] };
  const { water, validity } = known;
  const { values } = telling;
  const immersion = immersionOf(water, change);
  const gm = gmAfter(water, change);
  const displacement = sumOf('mass', [water.displacement, change.mass]);
  const heel = gm === null || gm.si <= 0 ? null : heelOf(change.starboard, displacement, gm);
  const outside = outsideLimits(water, validity, change, { immersion, heel, gm });
  if (outside.length > 0)
    return {
      status: 'outside-limits',
      reasons: outside.map((limited) => outsideInWords(limited, known, telling)),
    };
  const metres = (value: Uncertain<'length'>) => figureOf(value, 'm', values);
  const fwd = sumOf('length', [water.draughtFwd, immersion.fwdChange]);
  const aft = sumOf('length', [water.draughtAft, immersion.aftChange]);
  const before = sumOf('length', [water.draughtAft, negated(water.draughtFwd)]);
  return {
    status: 'given',
    sinkage: figureOf(immersion.sinkage, 'cm', values),
    trimChange: figureOf(immersion.trimChange, 'cm', values),
    trim: metres(sumOf('length', [before, immersion.trimChange])),
    draughtFwd: metres(fwd),
    draughtAft: metres(aft),
    draughtFwdChange: figureOf(immersion.fwdChange, 'cm', values),
    draughtAftChange: figureOf(immersion.aftChange, 'cm', values),
    heel: heel && figureOf(heel, '°', values),
    gm: gm && metres(gm),
  };
}

function negated(length: Uncertain<'length'>): Uncertain<'length'> {
  return product('length', length, exactly('ratio', -1));
}

function unknownWater(base: string | null): string {
  return base === null
    ? 'The plan does not say how the boat floated, so no draught, trim or heel can be given.'
    : `How the boat floated is on record for ${base} only, which is later than this day.`;
}

function outsideInWords(
  { what, certain }: Limited,
  { validity }: Water,
  { values, display }: Telling,
): string {
  const told = (value: Uncertain<Kind>, unit: string) =>
    printQuantity(figureOf(value, unit, values).quantity, display);
  const is = certain ? 'is' : 'may be';
  switch (what) {
    case 'mass':
      return `The change of displacement ${is} more than ${told(validity.massChange, '%')}, for which the hydrostatics hold.`;
    case 'trim':
      return `The change of trim ${is} more than ${validity.trimChange === null ? 'allowed' : told(validity.trimChange, 'cm')}, for which the hydrostatics hold.`;
    case 'heel':
      return `The heel ${is} more than ${told(validity.heel, '°')}, up to which it can be reckoned from GM.`;
    case 'gm':
      return certain
        ? 'By these figures no metacentric height is left: have somebody look at it who knows stability before she goes anywhere.'
        : 'By these figures the metacentric height may be nought or less: have somebody look at it who knows stability before she goes anywhere.';
  }
}

/** What was left out or taken for granted. */
function remarksOf(known: Water | null, notWeighed: readonly NotWeighed[]): readonly string[] {
  const gaps =
    notWeighed.length === 0
      ? []
      : [
          `${notWeighed.length} ${notWeighed.length === 1 ? 'move of a part is' : 'moves of parts are'} left out, since a mass or a position is not on record.`,
        ];
  if (known === null) return gaps;
  const { gm, kg, lcg } = known.water;
  return [
    ...gaps,
    'Stores, fuel, water and people are in it only where they are on the ledger.',
    'The waterplane and the metacentre are taken to stay as they were; free liquids and hanging weights are not counted.',
    ...(gm === null ? ['No GM is on record, so no heel is given.'] : []),
    ...(gm !== null && kg === null
      ? ['GM is taken as it was, since the height of the centre of gravity is not on record.']
      : []),
    ...(lcg === null ? ['Where the centre of gravity lay lengthways is not on record.'] : []),
    ...(gm === null ? [] : ['She is taken to have floated upright before.']),
  ];
}
