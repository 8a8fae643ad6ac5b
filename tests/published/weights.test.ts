import { describe, expect, it } from 'vitest';
import type { Kind } from '../../src/quantity/index.js';
import { exactly, sumOf, timesNumber, type Uncertain } from '../../src/reckon/uncertain.js';
import {
  centreAfter,
  gmAfter,
  type Hydrostatics,
  heelOf,
  immersionOf,
} from '../../src/reckon/weights/floating.js';
import { totalsOf } from '../../src/reckon/weights/ledger.js';

/**
 * Stability and trim against worked examples of textbooks. The formulas hold in any units that go together, so
 * the cases are reckoned in those in which they are printed: tons and feet, or tonnes and metres.
 */

const of = <K extends Kind>(kind: K, si: number): Uncertain<K> => exactly(kind, si);

/** A mass at a place forward of the origin and above it. */
function weight(mass: number, forward: number, up = 0, starboard = 0) {
  const at = [of('length', forward), of('length', starboard), of('length', up)] as const;
  return { mass: of('mass', mass), at };
}

/** A ship between marks `length` apart, origin at the aft mark; what a case does not say is left plain. */
function ship(given: Partial<Record<keyof Hydrostatics, number>>): Hydrostatics {
  const length = given.length ?? 100;
  const optional = (si: number | undefined) => (si === undefined ? null : of('length', si));
  return {
    length: of('length', length),
    aftMark: of('length', given.aftMark ?? 0),
    displacement: of('mass', given.displacement ?? 1000),
    draughtFwd: of('length', given.draughtFwd ?? 10),
    draughtAft: of('length', given.draughtAft ?? 10),
    tpc: of('immersion', given.tpc ?? 1),
    mctc: of('trim-moment', given.mctc ?? 1),
    lcf: of('length', given.lcf ?? length / 2),
    lcg: null,
    kg: optional(given.kg),
    gm: optional(given.gm),
  };
}

/** Height of the centre of gravity of masses at heights. */
function kgOf(masses: readonly (readonly [mass: number, kg: number])[]): number {
  const all = totalsOf(masses.map(([mass, kg]) => weight(mass, 0, kg)));
  return centreAfter(of('mass', 0), of('length', 0), all.mass, all.up).si;
}

const degrees = (angle: number) => (angle * 180) / Math.PI;
const NICHOLLS = "Nicholls's Seamanship and Nautical Knowledge, Cargo and Trim exercises";
const DERRETT = 'Derrett and Barrass, Ship Stability for Masters and Mates, 5th edition';

describe('height of the centre of gravity and GM', () => {
  it(`100 tons shifted 30 ft heel 9000 tons by 8°: GM 2.37 ft (${NICHOLLS}, p. 532 no. 18; seen)`, () => {
    const heel = (gm: number) =>
      degrees(heelOf(of('moment-of-mass', 3000), of('mass', 9000), of('length', gm)).si);
    // The tolerance is half of the last digit printed.
    expect(heel(2.365)).toBeGreaterThan(8);
    expect(heel(2.375)).toBeLessThan(8);
  });

  it(`6000 tons at 16 ft less 1500 at 21, 2000 at 17, 1200 at 12, KM 13.5 ft: GM 1.1 ft (${NICHOLLS}, p. 532 no. 21; seen)`, () => {
    const water = ship({ displacement: 6000, kg: 16, gm: 13.5 - 16 });
    const gm = gmAfter(water, totalsOf([weight(-1500, 0, 21), weight(-2000, 0, 17), weight(-1200, 0, 12)]));
    expect(Math.abs((gm?.si ?? 0) - 1.1)).toBeLessThan(0.05);
  });

  it(`2000 tons at 17 ft, 5000 at 16, 300 at 10, 100 at 20: KG 16.1 ft (${NICHOLLS}, p. 535 no. 31; seen)`, () => {
    const kg = kgOf([
      [2000, 17],
      [5000, 16],
      [300, 10],
      [100, 20],
    ]);
    expect(Math.abs(kg - 16.1)).toBeLessThan(0.05);
  });

  it(`650 t at KG 9 m on 5000 t at 4.5, 2000 at 3.7, 1000 at 7.5, KM 5.3 m: GM 0.3 m (${DERRETT}, p. 96 example 2; seen)`, () => {
    const masses = [
      [5000, 4.5],
      [2000, 3.7],
      [1000, 7.5],
    ] as const;
    const displacement = 8000;
    const kg = kgOf(masses);
    const water = ship({ displacement, kg, gm: 5.3 - kg });
    const gm = (cargo: number) => gmAfter(water, totalsOf([weight(cargo, 0, 9)]))?.si ?? 0;
    // The tolerance is half a tonne of cargo either way.
    expect(gm(649.5)).toBeGreaterThan(0.3);
    expect(gm(650.5)).toBeLessThan(0.3);
  });
});

describe('heel', () => {
  it(`8 tons 20 ft out, 1600 tons, KG 10 ft, KM 11.5 ft: 3° 49′ (${NICHOLLS}, p. 536 no. 42; seen)`, () => {
    const heel = heelOf(of('moment-of-mass', 160), of('mass', 1600), of('length', 1.5));
    expect(Math.abs(degrees(heel.si) - (3 + 49 / 60))).toBeLessThan(0.02);
  });

  it(`5000 tons, KG 15.8 ft, KM 18 ft at 7°: righting moment 1340 foot-tons (${NICHOLLS}, p. 536 no. 44; seen)`, () => {
    // Heeled to 7° by a weight that shifts with the ship, the moment that holds her there is W GM tan θ; the
    // book's righting moment is W GM sin θ, that is the same by cos θ.
    const heel = heelOf(
      of('moment-of-mass', 1340 / Math.cos((7 * Math.PI) / 180)),
      of('mass', 5000),
      of('length', 2.2),
    );
    const perFootTon = degrees(heel.si) / 1340;
    expect(Math.abs(degrees(heel.si) - 7)).toBeLessThan(perFootTon);
  });
});

describe('draught and trim', () => {
  it(`25 tons shifted aft 30 ft, 210 ft, 10 ft even keel, 250 ft tons an inch: 9.875 ft and 10.125 ft (${NICHOLLS}, p. 536 no. 38; seen)`, () => {
    const water = ship({ length: 210, mctc: 250 * 12 });
    const { sinkage, fwdChange, aftChange } = immersionOf(
      water,
      totalsOf([weight(-25, 120), weight(25, 90)]),
    );
    expect(sinkage.si).toBe(0);
    expect(Math.abs(10 + fwdChange.si - 9.875)).toBeLessThan(0.005);
    expect(Math.abs(10 + aftChange.si - 10.125)).toBeLessThan(0.005);
  });

  it(`78 tons 50 ft abaft the tipping centre, 21 tons and 275 ft tons an inch: 16 ft 8.6 in and 17 ft 4.8 in (${NICHOLLS}, p. 536 no. 45; seen)`, () => {
    const water = ship({ length: 300, displacement: 3330, tpc: 21 * 12, mctc: 275 * 12 });
    const { fwdChange, aftChange } = immersionOf(water, totalsOf([weight(78, 100)]));
    expect(Math.abs(17 + fwdChange.si - 16.716666666666665)).toBeLessThan(0.01);
    expect(Math.abs(16.5 + aftChange.si - 17.4)).toBeLessThan(0.01);
  });

  describe(`220 t discharged 24 m forward, then a shift from 5 m aft to 20 m forward (${DERRETT}, exercise, solution on sailorsknowit.com; seen)`, () => {
    // 6.7 m forward, 7.3 m aft, MCT 1 cm 250 t m, TPC 10 t, centre of flotation amidships. The forward draught
    // that the page ends with, 6.75 m, is wrong (it adds the whole change of trim forward) and is not used.
    const water = ship({ length: 100, tpc: 10 * 100, mctc: 250 * 100 });
    const discharge = immersionOf(water, totalsOf([weight(-220, 50 + 24)]));

    it('rises by 22 cm and trims by 21.12 cm', () => {
      expect(Math.abs(discharge.sinkage.si * 100 + 22)).toBeLessThan(0.02);
      expect(Math.abs(discharge.trimChange.si * 100 - 21.12)).toBeLessThan(0.02);
    });

    it('needs 380 t shifted for 7.0 m aft, from the draught rounded to 7.19 m as the page has it', () => {
      expect(7.3 + discharge.aftChange.si).toBeCloseTo(7.19, 2);
      const shifted = immersionOf(water, totalsOf([weight(-380, 50 - 5), weight(380, 50 + 20)]));
      expect(7.19 + shifted.aftChange.si).toBeCloseTo(7.0, 9);
      // Without that rounding it is 371.2 t (worked out here).
      const unrounded = immersionOf(water, totalsOf([weight(-371.2, 45), weight(371.2, 70)]));
      expect(sumOf('length', [discharge.aftChange, unrounded.aftChange]).si).toBeCloseTo(-0.3, 4);
    });
  });

  it('TPC 24 in salt water is 23.53 in water of 1.005 (imunotes.in; seen)', () => {
    // TPC = A ρ / 100 for an area in m² and a density in t/m³, so 2341 m² of waterplane. What sinks her by 1 cm
    // in the one water sinks her by 1 cm × 24 / 23.53 in the other.
    const area = (24 * 100) / 1.025;
    expect(Math.abs(area - 2341)).toBeLessThan(0.6);
    const tonnes = timesNumber(of('mass', area), 1.005 / 100);
    expect(tonnes.si).toBeCloseTo(23.53, 2);
    const sinkage = immersionOf(ship({ tpc: (area * 1.005) / 100 }), totalsOf([weight(23.53, 50)])).sinkage;
    expect(sinkage.si).toBeCloseTo(1, 3);
  });
});
