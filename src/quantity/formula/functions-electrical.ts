/** Trade functions: cables, and power of direct and alternating current. */
import { knownUnit, toSi } from '../units.js';
import {
  argument,
  between,
  celsius,
  type Domain,
  NOT_NEGATIVE,
  POSITIVE,
  type TradeFunction,
} from './function-model.js';

/** Resistivity of annealed copper at 20 °C, Ω·m: IEC 60028:1925. */
const COPPER = 0.017241e-6;
/** Its temperature coefficient at 20 °C, per K, as handbooks tabulate it for 100 % IACS. */
const COPPER_RISE = 0.00393;
const TWENTY = 293.15;

const AREA = argument('area', 'area', 'cross-section of the conductor, in mm² or as an AWG size', POSITIVE);
const LENGTH = argument(
  'length',
  'length',
  'all the conductor that the current goes through: out and back for a load on two wires',
  NOT_NEGATIVE,
);
const CURRENT = argument('current', 'current', 'current in the conductor', NOT_NEGATIVE);
const CONDUCTOR_TEMPERATURE = argument(
  'temperature',
  'temperature',
  'temperature of the conductor, not of the air about it',
  celsius(-50, 200),
);

/** Resistance in Ω with its derivatives by area, length and temperature. */
function copper(area: number, length: number, temperature: number) {
  const warmth = 1 + COPPER_RISE * (temperature - TWENTY);
  const perArea = (COPPER * length) / area;
  const value = perArea * warmth;
  return { value, slopes: [-value / area, (COPPER * warmth) / area, perArea * COPPER_RISE] as const };
}

const conductorResistance: TradeFunction = {
  name: 'conductor-resistance',
  about: 'Resistance of a copper conductor.',
  arguments: [AREA, LENGTH, CONDUCTOR_TEMPERATURE],
  gives: 'resistance',
  relation: 'R = ρ · length / area · (1 + 0.00393/K · (temperature − 20 °C)), ρ = 0.017241 Ω·mm²/m',
  source:
    'IEC 60028:1925, annealed copper; AWG sizes by ASTM B258. Tinned and stranded cable has somewhat more.',
  example: 'conductor-resistance(10 AWG, 12 m, 30 °C)',
  reckon: (area = 0, length = 0, temperature = 0) => copper(area, length, temperature),
};

const voltageDrop: TradeFunction = {
  name: 'voltage-drop',
  about: 'Voltage lost in a copper cable run.',
  arguments: [AREA, LENGTH, CURRENT, CONDUCTOR_TEMPERATURE],
  gives: 'voltage',
  relation: 'U = current · R, R as of `conductor-resistance`',
  source: 'Ohm’s law with the resistance of IEC 60028:1925.',
  example: 'voltage-drop(10 AWG, 12 m, 15 A, 30 °C)',
  reckon: (area = 0, length = 0, current = 0, temperature = 0) => {
    const { value, slopes } = copper(area, length, temperature);
    return {
      value: current * value,
      slopes: [current * slopes[0], current * slopes[1], value, current * slopes[2]],
    };
  },
};

/** 10.75 Ω per circular mil and foot, in Ω·m. */
const MARINE_K = 10.75 * toSi(1, knownUnit('cmil'), 'area') * (1 / 0.3048);

const cableArea: TradeFunction = {
  name: 'cable-area',
  about: 'Cross-section that keeps the drop of a copper cable run to a given voltage, by the marine rule.',
  arguments: [
    LENGTH,
    CURRENT,
    argument(
      'drop',
      'voltage',
      'drop that is allowed: 3 % of the voltage for what matters, 10 % else',
      POSITIVE,
    ),
  ],
  gives: 'area',
  relation: 'area = K · current · length / drop, K = 10.75 Ω·cmil/ft',
  source:
    'CM = K · I · L / E of ABYC E-11, as quoted by cable sellers. K is about that of copper at 30 °C. Take the next larger size.',
  example: 'cable-area(12 m, 15 A, 3 % * 12 V)',
  reckon: (length = 0, current = 0, drop = 0) => {
    const value = (MARINE_K * current * length) / drop;
    return { value, slopes: [(MARINE_K * current) / drop, (MARINE_K * length) / drop, -value / drop] };
  },
};

/** Ratings of insulation in °C: the columns of Table 5. */
const RATINGS = [60, 75, 80, 90, 105, 125, 200] as const;

/** 33 CFR 183.425, Table 5: AWG number (0 is 1/0, −3 is 4/0), then amperes by rating. */
const TABLE_5: readonly (readonly [number, ...number[]])[] = [
  [18, 10, 10, 15, 20, 20, 25, 25],
  [16, 15, 15, 20, 25, 25, 30, 35],
  [14, 20, 20, 25, 30, 35, 40, 45],
  [12, 25, 25, 35, 40, 45, 50, 55],
  [10, 40, 40, 50, 55, 60, 70, 70],
  [8, 55, 65, 70, 70, 80, 90, 100],
  [6, 80, 95, 100, 100, 120, 125, 135],
  [4, 105, 125, 130, 135, 160, 170, 180],
  [3, 120, 145, 150, 155, 180, 195, 210],
  [2, 140, 170, 175, 180, 210, 225, 240],
  [1, 165, 195, 210, 210, 245, 265, 280],
  [0, 195, 230, 245, 245, 285, 305, 325],
  [-1, 225, 265, 285, 285, 330, 355, 370],
  [-2, 260, 310, 330, 330, 385, 410, 430],
  [-3, 300, 360, 385, 385, 445, 475, 510],
];

/**
 * 33 CFR 183.425, Table 5, note 1: factors inside an engine space, by rating. 0.85 at 105 °C is as published by
 * cable sellers; the others are from memory.
 */
const ENGINE_SPACE = [0.58, 0.75, 0.78, 0.82, 0.85, 0.89, 1] as const;

/** A size that was measured or converted may be a hair below its nominal area. */
const ROUNDING = 1 - 1e-9;

const SIZES = TABLE_5.map(([gauge, ...amperes]) => ({
  area: toSi(gauge, knownUnit('AWG'), 'area') * ROUNDING,
  amperes,
}));

const TABLE_AREA: Domain = {
  holds: (si) => si >= (SIZES[0]?.area ?? 0) && si <= (SIZES.at(-1)?.area ?? 0) / ROUNDING ** 2,
  words: 'between 18 AWG and 4/0 AWG, where the table begins and ends',
};

function columnOf(rating: number): number {
  return RATINGS.findIndex((column) => Math.abs(rating - 273.15 - column) < 0.01);
}

const RATING: Domain = {
  holds: (si) => columnOf(si) >= 0,
  words: 'one of 60, 75, 80, 90, 105, 125 and 200 °C, the columns of the table',
};

const TABLE_ARGUMENTS = [
  argument('area', 'area', 'size of the conductor; one between two sizes counts as the smaller', TABLE_AREA),
  argument('rating', 'temperature', 'temperature rating of its insulation, as printed on it', RATING),
];

function tabled(area: number, rating: number): number {
  return SIZES.findLast((size) => area >= size.area)?.amperes[columnOf(rating)] ?? Number.NaN;
}

const ADVISES = 'A table has steps: an uncertain size or rating is not carried on.';

const allowableCurrent: TradeFunction = {
  name: 'allowable-current',
  about: `Allowable current of a conductor outside engine spaces. ${ADVISES}`,
  arguments: TABLE_ARGUMENTS,
  gives: 'current',
  relation: 'Table 5 of 33 CFR 183.425',
  source: '33 CFR 183.425, Table 5.',
  example: 'allowable-current(10 AWG, 105 °C)',
  reckon: (area = 0, rating = 0) => ({ value: tabled(area, rating), slopes: [0, 0] }),
};

const allowableCurrentInEngineSpace: TradeFunction = {
  name: 'allowable-current-in-engine-space',
  about: `Allowable current of a conductor inside an engine space. ${ADVISES}`,
  arguments: TABLE_ARGUMENTS,
  gives: 'current',
  relation: 'Table 5 of 33 CFR 183.425, times 0.58, 0.75, 0.78, 0.82, 0.85, 0.89 or 1 by the rating',
  source: '33 CFR 183.425, Table 5, note 1; the factors other than 0.85 (105 °C) are not checked against it.',
  example: 'allowable-current-in-engine-space(10 AWG, 105 °C)',
  reckon: (area = 0, rating = 0) => {
    const factor = ENGINE_SPACE[columnOf(rating)] ?? Number.NaN;
    return { value: factor * tabled(area, rating), slopes: [0, 0] };
  },
};

/** Fewest conductors of a bundle, and the factor from there on. */
const BUNDLES = [
  [1, 1],
  [3, 0.7],
  [4, 0.6],
  [7, 0.5],
  [25, 0.4],
] as const;

const bundleFactor: TradeFunction = {
  name: 'bundle-factor',
  about: 'By what the allowable current shrinks where conductors of 50 V or more are bundled.',
  arguments: [
    argument('conductors', 'count', 'conductors in the bundle that carry current', {
      holds: (si) => si >= 1,
      words: 'one or more',
    }),
  ],
  gives: 'ratio',
  relation: '3: 0.7; 4 to 6: 0.6; 7 to 24: 0.5; 25 and more: 0.4',
  source: '33 CFR 183.425, Table 5, note 2.',
  example: 'allowable-current(12 AWG, 90 °C) * bundle-factor(4)',
  reckon: (conductors = 0) => ({
    value: BUNDLES.findLast(([fewest]) => conductors >= fewest)?.[1] ?? Number.NaN,
    slopes: [0],
  }),
};

const POWER_FACTOR = argument('power-factor', 'power-factor', 'power factor, 0 to 1', between(0, 1));
const VOLTAGE = argument('voltage', 'voltage', 'voltage at the load', NOT_NEGATIVE);
const LINE_VOLTAGE = argument('voltage', 'voltage', 'voltage between two phases', NOT_NEGATIVE);
const LINE_CURRENT = argument('current', 'current', 'current of one phase, all three alike', NOT_NEGATIVE);
const ROOT_3 = Math.sqrt(3);

function product(a: number, b: number, factor: number) {
  return { value: factor * a * b, slopes: [factor * b, factor * a] };
}

function productOfThree(a: number, b: number, c: number, factor: number) {
  return { value: factor * a * b * c, slopes: [factor * b * c, factor * a * c, factor * a * b] };
}

const singlePhasePower: TradeFunction = {
  name: 'single-phase-power',
  about: 'Active power of a single-phase load, in watts.',
  arguments: [VOLTAGE, CURRENT, POWER_FACTOR],
  gives: 'power',
  relation: 'P = voltage · current · power factor',
  source: 'IEC 80000-6:2022 (active power, power factor).',
  example: 'single-phase-power(230 V, 8 A, 0.9)',
  reckon: (voltage = 0, current = 0, factor = 0) => productOfThree(voltage, current, factor, 1),
};

const threePhasePower: TradeFunction = {
  name: 'three-phase-power',
  about: 'Active power of a balanced three-phase load, in watts.',
  arguments: [LINE_VOLTAGE, LINE_CURRENT, POWER_FACTOR],
  gives: 'power',
  relation: 'P = √3 · voltage · current · power factor',
  source: 'Engineering ToolBox, three-phase power equations.',
  example: 'three-phase-power(400 V, 20 A, 0.85)',
  reckon: (voltage = 0, current = 0, factor = 0) => productOfThree(voltage, current, factor, ROOT_3),
};

const singlePhaseApparentPower: TradeFunction = {
  name: 'single-phase-apparent-power',
  about: 'Apparent power of a single-phase load, in volt-amperes: what sizes an inverter or a generator.',
  arguments: [VOLTAGE, CURRENT],
  gives: 'apparent-power',
  relation: 'S = voltage · current',
  source: 'IEC 80000-6:2022 (apparent power).',
  example: 'single-phase-apparent-power(230 V, 8 A)',
  reckon: (voltage = 0, current = 0) => product(voltage, current, 1),
};

const threePhaseApparentPower: TradeFunction = {
  name: 'three-phase-apparent-power',
  about: 'Apparent power of a balanced three-phase load, in volt-amperes.',
  arguments: [LINE_VOLTAGE, LINE_CURRENT],
  gives: 'apparent-power',
  relation: 'S = √3 · voltage · current',
  source: 'Engineering ToolBox, three-phase power equations.',
  example: 'three-phase-apparent-power(400 V, 20 A)',
  reckon: (voltage = 0, current = 0) => product(voltage, current, ROOT_3),
};

/** In the order of the reference page. */
export const ELECTRICAL: readonly TradeFunction[] = [
  conductorResistance,
  voltageDrop,
  cableArea,
  allowableCurrent,
  allowableCurrentInEngineSpace,
  bundleFactor,
  singlePhasePower,
  singlePhaseApparentPower,
  threePhasePower,
  threePhaseApparentPower,
];
