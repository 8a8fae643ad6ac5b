/**
 * The kinds of quantity a book can record. A kind is more than a dimension: torque and energy are both
 * newton metres and are still two kinds. Names follow ISO 80000 where it names the quantity; the SI unit is
 * the coherent one, so that formulas can reckon in SI without factors.
 */

/** Exponents of length, mass, time, electric current, temperature and luminous intensity. */
export type Dimension = readonly [number, number, number, number, number, number];

/**
 * How the values of a kind add up.
 *  - `amount`: they add and scale (a mass).
 *  - `plain`: they add, and leave the kind of what they multiply as it is (a ratio).
 *  - `point`: places on a scale without a natural zero; only their differences add (a temperature in °C).
 *  - `level`: logarithmic; they are compared and averaged, never added (pH).
 */
type Nature = 'amount' | 'plain' | 'point' | 'level';

interface KindRow {
  readonly title: string;
  readonly symbol?: string;
  readonly siUnit: string;
  readonly ucum: string;
  readonly dimension: Dimension;
  readonly about: string;
  readonly nature?: Nature;
  /** The unit of a number written without one; absent where a unit is due. */
  readonly bare?: string;
  /** The unit shown where nothing else is asked; the first of the table that fits, where absent. */
  readonly commonest?: string;
  /** The kind of a difference between two values, where it is another one. */
  readonly difference?: string;
}

const KINDS = {
  length: {
    title: 'length',
    symbol: 'l',
    siUnit: 'm',
    ucum: 'm',
    dimension: [1, 0, 0, 0, 0, 0],
    about: 'A length, width, depth, thickness, draught or distance.',
  },
  area: {
    title: 'area',
    symbol: 'A',
    siUnit: 'm²',
    ucum: 'm2',
    dimension: [2, 0, 0, 0, 0, 0],
    about: 'An area: of a sail, a plate, or the cross-section of a conductor (AWG sizes too).',
  },
  volume: {
    title: 'volume',
    symbol: 'V',
    siUnit: 'm³',
    ucum: 'm3',
    dimension: [3, 0, 0, 0, 0, 0],
    about: 'A volume: of a tank, or of what is in it.',
  },
  mass: {
    title: 'mass',
    symbol: 'm',
    siUnit: 'kg',
    ucum: 'kg',
    dimension: [0, 1, 0, 0, 0, 0],
    about: 'A mass, which everyday speech calls weight.',
  },
  force: {
    title: 'force',
    symbol: 'F',
    siUnit: 'N',
    ucum: 'N',
    dimension: [1, 1, -2, 0, 0, 0],
    about: 'A force: a pull, a breaking load, a tension of a stay.',
  },
  torque: {
    title: 'torque',
    symbol: 'M',
    siUnit: 'N·m',
    ucum: 'N.m',
    dimension: [2, 1, -2, 0, 0, 0],
    about: 'A torque, as set on a torque wrench. Not an energy, though both come in newton metres.',
  },
  energy: {
    title: 'energy',
    symbol: 'E',
    siUnit: 'J',
    ucum: 'J',
    dimension: [2, 1, -2, 0, 0, 0],
    about: 'An energy or an amount of work or heat.',
  },
  power: {
    title: 'power',
    symbol: 'P',
    siUnit: 'W',
    ucum: 'W',
    dimension: [2, 1, -3, 0, 0, 0],
    about: 'A power; with alternating current the active power, in watts.',
  },
  'apparent-power': {
    title: 'apparent power',
    symbol: 'S',
    siUnit: 'VA',
    ucum: 'V.A',
    dimension: [2, 1, -3, 0, 0, 0],
    about: 'Volts times amperes of alternating current. Times the power factor it is the (active) power.',
  },
  'reactive-power': {
    title: 'reactive power',
    symbol: 'Q',
    siUnit: 'var',
    ucum: 'V.A',
    dimension: [2, 1, -3, 0, 0, 0],
    about: 'The part of alternating-current power that only swings to and fro.',
  },
  'power-factor': {
    title: 'power factor',
    symbol: 'λ',
    siUnit: '1',
    ucum: '1',
    dimension: [0, 0, 0, 0, 0, 0],
    about: 'Active power divided by apparent power, 0 to 1.',
    bare: '1',
  },
  voltage: {
    title: 'voltage',
    symbol: 'U',
    siUnit: 'V',
    ucum: 'V',
    dimension: [2, 1, -3, -1, 0, 0],
    about: 'A voltage.',
  },
  current: {
    title: 'current',
    symbol: 'I',
    siUnit: 'A',
    ucum: 'A',
    dimension: [0, 0, 0, 1, 0, 0],
    about: 'An electric current.',
  },
  resistance: {
    title: 'resistance',
    symbol: 'R',
    siUnit: 'Ω',
    ucum: 'Ohm',
    dimension: [2, 1, -3, -2, 0, 0],
    about: 'An electrical resistance, insulation resistance too.',
  },
  conductance: {
    title: 'conductance',
    symbol: 'G',
    siUnit: 'S',
    ucum: 'S',
    dimension: [-2, -1, 3, 2, 0, 0],
    about: 'An electrical conductance, such as a battery tester shows.',
  },
  charge: {
    title: 'charge',
    symbol: 'Q',
    siUnit: 'C',
    ucum: 'C',
    dimension: [0, 0, 1, 1, 0, 0],
    about: 'An electric charge: the capacity of a battery in ampere hours.',
  },
  capacitance: {
    title: 'capacitance',
    symbol: 'C',
    siUnit: 'F',
    ucum: 'F',
    dimension: [-2, -1, 4, 2, 0, 0],
    about: 'The capacitance of a capacitor.',
  },
  inductance: {
    title: 'inductance',
    symbol: 'L',
    siUnit: 'H',
    ucum: 'H',
    dimension: [2, 1, -2, -2, 0, 0],
    about: 'The inductance of a coil.',
  },
  resistivity: {
    title: 'resistivity',
    symbol: 'ρ',
    siUnit: 'Ω·m',
    ucum: 'Ohm.m',
    dimension: [3, 1, -3, -2, 0, 0],
    about: 'The resistivity of a material.',
  },
  conductivity: {
    title: 'conductivity',
    symbol: 'γ',
    siUnit: 'S/m',
    ucum: 'S/m',
    dimension: [-3, -1, 3, 2, 0, 0],
    about: 'The electrical conductivity of a liquid, such as coolant or watermaker product.',
  },
  'linear-resistance': {
    title: 'resistance per length',
    siUnit: 'Ω/m',
    ucum: 'Ohm/m',
    dimension: [1, 1, -3, -2, 0, 0],
    about: 'The resistance of a cable per length.',
  },
  frequency: {
    title: 'frequency',
    symbol: 'f',
    siUnit: 'Hz',
    ucum: 'Hz',
    dimension: [0, 0, -1, 0, 0, 0],
    about: 'A frequency, such as that of the mains. Not a speed of rotation.',
  },
  'rotational-speed': {
    title: 'speed of rotation',
    symbol: 'n',
    siUnit: 'rad/s',
    ucum: 'rad/s',
    dimension: [0, 0, -1, 0, 0, 0],
    about: 'A speed of rotation. In SI as radians a second, so that torque times speed is power.',
  },
  speed: {
    title: 'speed',
    symbol: 'v',
    siUnit: 'm/s',
    ucum: 'm/s',
    dimension: [1, 0, -1, 0, 0, 0],
    about: 'A speed: of the boat, the wind or a flow.',
  },
  acceleration: {
    title: 'acceleration',
    symbol: 'a',
    siUnit: 'm/s²',
    ucum: 'm/s2',
    dimension: [1, 0, -2, 0, 0, 0],
    about: 'An acceleration.',
  },
  time: {
    title: 'time',
    symbol: 't',
    siUnit: 's',
    ucum: 's',
    dimension: [0, 0, 1, 0, 0, 0],
    about: 'A length of time in hours, minutes, seconds or days of 24 hours. Months and years are periods.',
  },
  temperature: {
    title: 'temperature',
    symbol: 'T',
    siUnit: 'K',
    ucum: 'K',
    dimension: [0, 0, 0, 0, 1, 0],
    about: 'A temperature. Two of them differ by a temperature difference.',
    nature: 'point',
    difference: 'temperature-difference',
  },
  'temperature-difference': {
    title: 'temperature difference',
    symbol: 'ΔT',
    siUnit: 'K',
    ucum: 'K',
    dimension: [0, 0, 0, 0, 1, 0],
    about: 'A rise, a fall or a tolerance of temperature. Written in K; 1 K is 1 °C of difference.',
    commonest: 'K',
  },
  'gauge-pressure': {
    title: 'gauge pressure',
    symbol: 'p',
    siUnit: 'Pa',
    ucum: 'Pa',
    dimension: [-1, 1, -2, 0, 0, 0],
    about: 'A pressure above (or, negative, below) that of the air around: what most gauges show.',
    nature: 'point',
    difference: 'pressure-difference',
  },
  'absolute-pressure': {
    title: 'absolute pressure',
    symbol: 'p',
    siUnit: 'Pa',
    ucum: 'Pa',
    dimension: [-1, 1, -2, 0, 0, 0],
    about: 'A pressure above a perfect vacuum, such as a barometer shows.',
    nature: 'point',
    difference: 'pressure-difference',
  },
  'pressure-difference': {
    title: 'pressure difference',
    symbol: 'Δp',
    siUnit: 'Pa',
    ucum: 'Pa',
    dimension: [-1, 1, -2, 0, 0, 0],
    about: 'A difference of pressure, such as across a filter, or a drop in a leak test.',
  },
  stress: {
    title: 'stress',
    symbol: 'σ',
    siUnit: 'Pa',
    ucum: 'Pa',
    dimension: [-1, 1, -2, 0, 0, 0],
    about: 'A mechanical stress, strength or modulus of a material.',
    commonest: 'MPa',
  },
  density: {
    title: 'density',
    symbol: 'ρ',
    siUnit: 'kg/m³',
    ucum: 'kg/m3',
    dimension: [-3, 1, 0, 0, 0, 0],
    about: 'A mass per volume; the strength of a solution in mg/L too.',
  },
  'specific-gravity': {
    title: 'specific gravity',
    symbol: 'd',
    siUnit: '1',
    ucum: '1',
    dimension: [0, 0, 0, 0, 0, 0],
    about: 'Density relative to water, as a hydrometer shows: 1.265, not 1265.',
    bare: 'SG',
  },
  'volume-flow': {
    title: 'volume flow',
    symbol: 'qV',
    siUnit: 'm³/s',
    ucum: 'm3/s',
    dimension: [3, 0, -1, 0, 0, 0],
    about: 'A volume per time: a pump, a leak, fuel an hour.',
  },
  'mass-flow': {
    title: 'mass flow',
    symbol: 'qm',
    siUnit: 'kg/s',
    ucum: 'kg/s',
    dimension: [0, 1, -1, 0, 0, 0],
    about: 'A mass per time.',
  },
  'specific-consumption': {
    title: 'specific consumption',
    siUnit: 'kg/J',
    ucum: 'kg/J',
    dimension: [-2, 0, 2, 0, 0, 0],
    about: 'The mass of fuel an engine burns per energy it gives.',
  },
  'fuel-per-distance': {
    title: 'fuel per distance',
    siUnit: 'm³/m',
    ucum: 'm3/m',
    dimension: [2, 0, 0, 0, 0, 0],
    about: 'The volume of fuel burnt per distance made.',
  },
  angle: {
    title: 'angle',
    symbol: 'α',
    siUnit: 'rad',
    ucum: 'rad',
    dimension: [0, 0, 0, 0, 0, 0],
    about: 'An angle: heel, trim, deadrise, a bevel.',
  },
  ratio: {
    title: 'ratio',
    siUnit: '1',
    ucum: '1',
    dimension: [0, 0, 0, 0, 0, 0],
    about: 'A plain ratio or factor, also in %, ‰ or ppm.',
    nature: 'plain',
    bare: '1',
  },
  count: {
    title: 'count',
    siUnit: '1',
    ucum: '1',
    dimension: [0, 0, 0, 0, 0, 0],
    about: 'A number of things or events.',
    nature: 'plain',
    bare: '1',
  },
  moisture: {
    title: 'moisture content',
    siUnit: '1',
    ucum: '1',
    dimension: [0, 0, 0, 0, 0, 0],
    about: 'Moisture content of wood: water by the mass of the dry wood.',
  },
  'relative-humidity': {
    title: 'relative humidity',
    siUnit: '1',
    ucum: '1',
    dimension: [0, 0, 0, 0, 0, 0],
    about: 'Relative humidity of the air.',
  },
  ph: {
    title: 'pH',
    symbol: 'pH',
    siUnit: 'pH',
    ucum: '[pH]',
    dimension: [0, 0, 0, 0, 0, 0],
    about: 'Acidity on the pH scale.',
    nature: 'level',
    bare: 'pH',
  },
  'sound-level': {
    title: 'sound level',
    symbol: 'L',
    siUnit: 'dB(A)',
    ucum: 'dB[SPL]',
    dimension: [0, 0, 0, 0, 0, 0],
    about: 'An A-weighted sound pressure level. Levels are compared, never added.',
    nature: 'level',
  },
  'luminous-intensity': {
    title: 'luminous intensity',
    symbol: 'Iv',
    siUnit: 'cd',
    ucum: 'cd',
    dimension: [0, 0, 0, 0, 0, 1],
    about: 'The luminous intensity of a lamp, such as a navigation light.',
  },
  'luminous-flux': {
    title: 'luminous flux',
    symbol: 'Φv',
    siUnit: 'lm',
    ucum: 'lm',
    dimension: [0, 0, 0, 0, 0, 1],
    about: 'All the light a lamp gives.',
  },
  illuminance: {
    title: 'illuminance',
    symbol: 'Ev',
    siUnit: 'lx',
    ucum: 'lx',
    dimension: [-2, 0, 0, 0, 0, 1],
    about: 'Light falling on a place.',
  },
  irradiance: {
    title: 'irradiance',
    symbol: 'Ee',
    siUnit: 'W/m²',
    ucum: 'W/m2',
    dimension: [0, 1, -3, 0, 0, 0],
    about: 'Power of the sun on an area.',
  },
  viscosity: {
    title: 'viscosity',
    symbol: 'η',
    siUnit: 'Pa·s',
    ucum: 'Pa.s',
    dimension: [-1, 1, -1, 0, 0, 0],
    about: 'Dynamic viscosity, of resin or paint.',
  },
  'kinematic-viscosity': {
    title: 'kinematic viscosity',
    symbol: 'ν',
    siUnit: 'm²/s',
    ucum: 'm2/s',
    dimension: [2, 0, -1, 0, 0, 0],
    about: 'Viscosity by density, as oils are graded.',
  },
  'area-density': {
    title: 'mass per area',
    siUnit: 'kg/m²',
    ucum: 'kg/m2',
    dimension: [-2, 1, 0, 0, 0, 0],
    about: 'Mass per area, of cloth or plate.',
  },
  'mass-per-length': {
    title: 'mass per length',
    siUnit: 'kg/m',
    ucum: 'kg/m',
    dimension: [-1, 1, 0, 0, 0, 0],
    about: 'Mass per length, of chain, cable or section.',
  },
  'spreading-rate': {
    title: 'spreading rate',
    siUnit: 'm²/m³',
    ucum: 'm2/m3',
    dimension: [-1, 0, 0, 0, 0, 0],
    about: 'The area that a volume of paint covers.',
  },
  stiffness: {
    title: 'stiffness',
    siUnit: 'N/m',
    ucum: 'N/m',
    dimension: [0, 1, -2, 0, 0, 0],
    about: 'Force per travel, of a spring or an engine mount.',
  },
  'moment-of-mass': {
    title: 'moment of mass',
    siUnit: 'kg·m',
    ucum: 'kg.m',
    dimension: [1, 1, 0, 0, 0, 0],
    about: 'A mass times its distance from a datum, as in a reckoning of trim.',
  },
  immersion: {
    title: 'mass per immersion',
    symbol: 'TPC',
    siUnit: 'kg/m',
    ucum: 'kg/m',
    dimension: [-1, 1, 0, 0, 0, 0],
    about: 'The mass that sinks the boat by a length: tonnes per centimetre immersion (TPC).',
  },
  'trim-moment': {
    title: 'moment to change trim',
    symbol: 'MCT',
    siUnit: 'kg·m/m',
    ucum: 'kg.m/m',
    dimension: [0, 1, 0, 0, 0, 0],
    about: 'The moment of mass that changes the trim by a length (MCT 1 cm).',
  },
} as const satisfies Record<string, KindRow>;

/** The name of a kind of quantity, as written after `quantity:` in a book. */
export type Kind = keyof typeof KINDS;

/** What there is to know about a kind. */
export interface KindInfo {
  readonly kind: Kind;
  readonly title: string;
  readonly symbol?: string;
  /** The coherent SI unit, in the spelling this module prints. */
  readonly siUnit: string;
  /** The UCUM code of `siUnit`. */
  readonly ucum: string;
  readonly about: string;
  /** Canonical symbols of the units that fit, commonest first. */
  readonly units: readonly string[];
}

/** Every kind, in the order of the reference page. */
export const ALL_KINDS: readonly Kind[] = Object.freeze(Object.keys(KINDS) as Kind[]);

const rows: ReadonlyMap<string, KindRow> = new Map(Object.entries(KINDS));

/** Whether a text is the name of a kind. */
export function isKind(text: string): text is Kind {
  return rows.has(text);
}

/** The row of a kind; every `Kind` has one. */
export function kindRow(kind: Kind): KindRow {
  return rows.get(kind) as KindRow;
}

/** How the values of a kind add up. */
export function natureOf(kind: Kind): Nature {
  return kindRow(kind).nature ?? 'amount';
}

/** The kind of the difference of two values of a kind, and of their uncertainty: K for temperatures. */
export function differenceKind(kind: Kind): Kind {
  return (kindRow(kind).difference ?? kind) as Kind;
}

/** The title of a kind with its article: `a voltage`, `an angle`. */
export function aKind(kind: Kind): string {
  const { title } = kindRow(kind);
  return `${/^[aeiou]/.test(title) ? 'an' : 'a'} ${title}`;
}
