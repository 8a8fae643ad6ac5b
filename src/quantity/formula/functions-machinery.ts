/** Trade functions: engines, tanks, batteries and windings. */
import {
  argument,
  between,
  celsius,
  NOT_NEGATIVE,
  POSITIVE,
  type Sloped,
  type TradeFunction,
} from './function-model.js';

const shaftPower: TradeFunction = {
  name: 'shaft-power',
  about: 'Power that a shaft carries.',
  arguments: [
    argument('torque', 'torque', 'torque of the shaft', NOT_NEGATIVE),
    argument('speed', 'rotational-speed', 'its speed of rotation', NOT_NEGATIVE),
  ],
  gives: 'power',
  relation: 'P = torque · speed; in kW, N·m and 1/min: torque · speed / 9549.3',
  source: 'Definition (ISO 80000-4:2019); worked values in Böge, Technische Mechanik (2017).',
  example: 'shaft-power(234 N·m, 4200 rpm)',
  reckon: (torque = 0, speed = 0) => ({ value: torque * speed, slopes: [speed, torque] }),
};

const specificConsumption: TradeFunction = {
  name: 'specific-consumption',
  about: 'Fuel that an engine burns for the energy it gives.',
  arguments: [
    argument('fuel', 'mass-flow', 'fuel by mass and time; by volume, times its density', NOT_NEGATIVE),
    argument('power', 'power', 'power at the shaft', POSITIVE),
  ],
  gives: 'specific-consumption',
  relation: 'b = fuel / power',
  source: 'Definition (brake specific fuel consumption).',
  example: 'specific-consumption(2.4 L/h * 835 kg/m³, 9.5 kW)',
  reckon: (fuel = 0, power = 0) => ({ value: fuel / power, slopes: [1 / power, -fuel / power ** 2] }),
};

const contentsMass: TradeFunction = {
  name: 'contents-mass',
  about: 'Mass of what is in a tank.',
  arguments: [
    argument('volume', 'volume', 'volume of the contents', NOT_NEGATIVE),
    argument(
      'density',
      'density',
      'their density: diesel at 15 °C 820 to 845 kg/m³ (EN 590), sea water 1025 kg/m³',
      POSITIVE,
    ),
  ],
  gives: 'mass',
  relation: 'm = volume · density',
  source: 'Definition (ISO 80000-4:2019); the density of diesel from EN 590.',
  example: 'contents-mass(180 L, 835 kg/m³)',
  reckon: (volume = 0, density = 0) => ({ value: volume * density, slopes: [density, volume] }),
};

/** The exponent of a lead–acid battery is 1.1 to 1.3, an ideal one's is 1. */
const EXPONENT = argument(
  'exponent',
  'ratio',
  'Peukert’s exponent, 1.1 to 1.3 for lead and acid',
  between(1, 2),
);
const DRAWN = argument('current', 'current', 'current drawn, steady', POSITIVE);

/** hours · (capacity / (current · hours)) ^ exponent; by capacity, hours, current and exponent. */
function peukert(capacity: number, hours: number, current: number, exponent: number): Sloped {
  const share = capacity / (current * hours);
  const value = hours * share ** exponent;
  return {
    value,
    slopes: [
      (exponent * value) / capacity,
      ((1 - exponent) * value) / hours,
      (-exponent * value) / current,
      value * Math.log(share),
    ],
  };
}

const peukertTime: TradeFunction = {
  name: 'peukert-time',
  about: 'Time that a battery lasts at a steady current, from its capacity at a rated time.',
  arguments: [
    argument('capacity', 'charge', 'rated capacity', POSITIVE),
    argument('rated-time', 'time', 'time in which that capacity is drawn: 20 h, mostly', POSITIVE),
    DRAWN,
    EXPONENT,
  ],
  gives: 'time',
  relation: 't = rated time · (capacity / (current · rated time)) ^ exponent',
  source: 'W. Peukert, Elektrotechnische Zeitschrift 20 (1897), in its form for a rated time.',
  example: 'peukert-time(100 Ah, 20 h, 10 A, 1.2)',
  reckon: (capacity = 0, hours = 0, current = 0, exponent = 0) => peukert(capacity, hours, current, exponent),
};

const peukertTimeFromOneAmp: TradeFunction = {
  name: 'peukert-time-from-1-a',
  about: 'Time that a battery lasts at a steady current, from its capacity at 1 A.',
  arguments: [argument('capacity', 'charge', 'capacity at a current of 1 A', POSITIVE), DRAWN, EXPONENT],
  gives: 'time',
  relation: 't = capacity / 1 A · (1 A / current) ^ exponent',
  source: 'W. Peukert, Elektrotechnische Zeitschrift 20 (1897).',
  example: 'peukert-time-from-1-a(100 Ah, 5 A, 1.2)',
  reckon: (capacity = 0, current = 0, exponent = 0) => {
    const value = capacity * current ** -exponent;
    return { value, slopes: [value / capacity, (-exponent * value) / current, -value * Math.log(current)] };
  },
};

const FORTY = 313.15;
/** Insulation resistance halves with each of so many kelvins. */
const HALVING = 10;

/**
 * Insulation resistance brought to 40 °C: R · 0.5 ^ ((40 °C − T) / 10 K), the rule of IEEE 43. By resistance in
 * Ω and winding temperature in K.
 */
export function insulationAt40(resistance: number, temperature: number): Sloped {
  const factor = 0.5 ** ((FORTY - temperature) / HALVING);
  return { value: resistance * factor, slopes: [factor, (resistance * factor * Math.LN2) / HALVING] };
}

const insulationAt40C: TradeFunction = {
  name: 'insulation-at-40-c',
  about: 'Insulation resistance brought to 40 °C, at which it is compared and judged.',
  arguments: [
    argument('resistance', 'resistance', 'insulation resistance as read', POSITIVE),
    argument('temperature', 'temperature', 'temperature of the winding', celsius(-10, 150)),
  ],
  gives: 'resistance',
  relation: 'R₄₀ = resistance · 0.5 ^ ((40 °C − temperature) / 10 K)',
  source: 'IEEE Std 43, the rule for machines: half for each 10 K.',
  example: 'insulation-at-40-c(13.1 MΩ, 14 °C)',
  reckon: (resistance = 0, temperature = 0) => insulationAt40(resistance, temperature),
};

/** 0.004 for each 10 °F, per K. */
const GRAVITY_RISE = 0.00072;

/**
 * A hydrometer's reading in battery acid brought to a reference temperature: reading + 0.004 for each 10 °F that
 * the acid is warmer. By the reading and two temperatures in K.
 */
export function gravityAt(reading: number, temperature: number, reference: number): Sloped {
  return {
    value: reading + GRAVITY_RISE * (temperature - reference),
    slopes: [1, GRAVITY_RISE, -GRAVITY_RISE],
  };
}

const specificGravityAt: TradeFunction = {
  name: 'specific-gravity-at',
  about: 'A hydrometer’s reading in battery acid brought to a reference temperature.',
  arguments: [
    argument('reading', 'specific-gravity', 'the hydrometer’s reading', between(1, 1.4)),
    argument('temperature', 'temperature', 'temperature of the acid', celsius(-18, 72)),
    argument('reference', 'temperature', 'the hydrometer’s reference: 20 °C, 25 °C or 80 °F', celsius(0, 40)),
  ],
  gives: 'specific-gravity',
  relation: 'd = reading + 0.00072/K · (temperature − reference), which is 0.004 for each 10 °F',
  source: 'Vehicle makers’ service manuals: 0.004 for each 10 °F from 80 °F, tabled from 0 °F to 160 °F.',
  example: 'specific-gravity-at(1.236 SG, 13 °C, 20 °C)',
  reckon: (reading = 0, temperature = 0, reference = 0) => gravityAt(reading, temperature, reference),
};

/** In the order of the reference page. */
export const MACHINERY: readonly TradeFunction[] = [
  shaftPower,
  specificConsumption,
  contentsMass,
  peukertTime,
  peukertTimeFromOneAmp,
  insulationAt40C,
  specificGravityAt,
];
