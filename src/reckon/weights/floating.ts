import {
  atMost,
  exactly,
  minus,
  product,
  quotient,
  sumOf,
  through,
  timesNumber,
  type Uncertain,
} from '../uncertain.js';
import type { Totals } from './ledger.js';

/**
 * How a change of weights changes the way a boat floats, by the metacentric method for small changes: the
 * waterplane is taken as it was, so that tonnes per centimetre immersion, moment to change trim and centre of
 * flotation stay as they were. Sources: Nicholls's Seamanship and Nautical Knowledge, cargo and trim; Derrett
 * and Barrass, Ship Stability for Masters and Mates, 5th edition, chapters on KG, list, TPC and trim; both are
 * held to by the tests of published values.
 */

/** How the boat floated, in SI. Lengths forward of and above the origin. */
export interface Hydrostatics {
  /** Between the draught marks. */
  readonly length: Uncertain<'length'>;
  readonly aftMark: Uncertain<'length'>;
  readonly displacement: Uncertain<'mass'>;
  readonly draughtFwd: Uncertain<'length'>;
  readonly draughtAft: Uncertain<'length'>;
  /** Mass per length of immersion. */
  readonly tpc: Uncertain<'immersion'>;
  /** Moment of mass per length of trim. */
  readonly mctc: Uncertain<'trim-moment'>;
  /** Centre of flotation. */
  readonly lcf: Uncertain<'length'>;
  readonly lcg: Uncertain<'length'> | null;
  readonly kg: Uncertain<'length'> | null;
  readonly gm: Uncertain<'length'> | null;
}

/** Sinkage and trim that follow from a change. Trim is draught aft less draught forward. */
export interface Immersion {
  readonly sinkage: Uncertain<'length'>;
  readonly trimChange: Uncertain<'length'>;
  readonly fwdChange: Uncertain<'length'>;
  readonly aftChange: Uncertain<'length'>;
}

/**
 * Sinkage is mass over TPC, at the centre of flotation. The change of trim is the moment of the change about
 * the centre of flotation over MCT; it is shared between the marks as their distances from that centre.
 */
export function immersionOf(water: Hydrostatics, change: Totals): Immersion {
  const { length, aftMark, tpc, mctc, lcf } = water;
  const aboutFlotation = minus(change.forward, product('moment-of-mass', lcf, change.mass));
  const sinkage = quotient('length', change.mass, tpc);
  // What is forward of the centre of flotation takes the bow down, which is a trim by the stern below nought.
  const trimChange = timesNumber(quotient('length', aboutFlotation, mctc), -1);
  const aftShare = quotient('ratio', minus(lcf, aftMark), length);
  const aft = product('length', trimChange, aftShare);
  return {
    sinkage,
    trimChange,
    aftChange: sumOf('length', [sinkage, aft]),
    fwdChange: sumOf('length', [sinkage, minus(aft, trimChange)]),
  };
}

/** A centre of gravity moved by a change: old moment and change over the new mass. */
export function centreAfter(
  mass: Uncertain<'mass'>,
  at: Uncertain<'length'>,
  change: Uncertain<'mass'>,
  moment: Uncertain<'moment-of-mass'>,
): Uncertain<'length'> {
  const before = product('moment-of-mass', mass, at);
  return quotient('length', sumOf('moment-of-mass', [before, moment]), sumOf('mass', [mass, change]));
}

/**
 * The metacentric height after a change. The metacentre stays where it was (KM as before), so GM falls by as
 * much as the centre of gravity rises. Where the height of the centre of gravity is not known GM is taken as
 * it was. Null where none is on record.
 */
export function gmAfter(water: Hydrostatics, change: Totals): Uncertain<'length'> | null {
  const { gm, kg, displacement } = water;
  if (gm === null || kg === null) return gm;
  return minus(sumOf('length', [gm, kg]), centreAfter(displacement, kg, change.mass, change.up));
}

/**
 * Angle of heel: tan θ = transverse moment / (displacement × GM). For small angles only.
 *
 * @param moment moment of mass about the centreline, to starboard.
 */
export function heelOf(
  moment: Uncertain<'moment-of-mass'>,
  displacement: Uncertain<'mass'>,
  gm: Uncertain<'length'>,
): Uncertain<'angle'> {
  return through('angle', [moment, displacement, gm], ([m = 0, d = 1, g = 1]) => Math.atan(m / (d * g)));
}

/** Limits outside which no number is given. */
export interface Validity {
  /** Largest change of displacement, as a share of it. */
  readonly massChange: Uncertain<'ratio'>;
  readonly trimChange: Uncertain<'length'> | null;
  readonly heel: Uncertain<'angle'>;
}

/**
 * The largest angle for which the metacentric method is used where the plan states none: 10° (from memory; the
 * books call it small up to 7° to 15°).
 */
export const LARGEST_HEEL = exactly('angle', (10 * Math.PI) / 180);

/** Something that has to stay within a limit. */
export interface Limited {
  readonly what: 'mass' | 'trim' | 'heel' | 'gm';
  /** Whether it is outside for certain, rather than perhaps. */
  readonly certain: boolean;
}

/** What is not for certain within the limits. A boat that has no positive GM is outside them. */
export function outsideLimits(
  water: Hydrostatics,
  validity: Validity,
  change: Totals,
  after: {
    readonly immersion: Immersion;
    readonly heel: Uncertain<'angle'> | null;
    readonly gm: Uncertain<'length'> | null;
  },
): readonly Limited[] {
  const { immersion, heel, gm } = after;
  const fits = [
    {
      what: 'mass' as const,
      fit: atMost(size(change.mass), product('mass', validity.massChange, water.displacement)),
    },
    {
      what: 'trim' as const,
      fit: validity.trimChange === null ? 'works' : atMost(size(immersion.trimChange), validity.trimChange),
    },
    {
      what: 'gm' as const,
      fit: gm === null ? 'works' : gm.si <= 0 ? 'fails' : atMost(exactly('length', 0), gm),
    },
    { what: 'heel' as const, fit: heel === null ? 'works' : atMost(size(heel), validity.heel) },
  ];
  return fits
    .filter(({ fit }) => fit !== 'works')
    .map(({ what, fit }) => ({ what, certain: fit === 'fails' }));
}

function size<K extends 'mass' | 'length' | 'angle'>(value: Uncertain<K>): Uncertain<K> {
  return value.si < 0 ? timesNumber(value, -1) : value;
}
