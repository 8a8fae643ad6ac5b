/**
 * Every unit a book can use, commonest first within each kind.
 *
 * Factors are exact where the unit is defined exactly (SI Brochure, 9th edition; NIST SP 811 (2008),
 * appendix B; the international yard and pound of 1959): the numbers below are the definitions, multiplied
 * out by the machine. Feet, fathoms and miles are international, not US survey. Columns of mercury and water
 * are the conventional ones (13 595.1 and 1000 kg/m³ under standard gravity).
 */
import type { Kind } from './kinds.js';

/** Whose unit it is: `any` is at home everywhere and is never converted for a preference. */
type UnitSystem = 'metric' | 'us' | 'imperial' | 'any';

/** One unit. `si = value * factor + offset`, but for AWG, which is not linear. */
export interface Unit {
  /** The canonical spelling, as printed. */
  readonly symbol: string;
  /** UCUM code; `{…}` is an annotation where UCUM has no code. */
  readonly ucum: string;
  readonly factor: number;
  readonly offset: number;
  /** The kinds it fits; the first is meant where nothing else says which. */
  readonly kinds: readonly [Kind, ...Kind[]];
  readonly system: UnitSystem;
  /** The unit to show instead, where the reader prefers metric or US units. */
  readonly metric?: string;
  readonly us?: string;
  /** Other spellings that are accepted, besides `symbol`; `·` stands for a space or a dot. */
  readonly spellings: readonly string[];
}

interface Extra {
  readonly to?: string;
  readonly offset?: number;
}

/** A row of the table: `to` names the counterpart in the other system, words in `spellings` are accepted too. */
function unit(
  system: UnitSystem,
  symbol: string,
  ucum: string,
  factor: number,
  kinds: string,
  spellings = '',
  extra: Extra = {},
): Unit {
  const counterpart =
    extra.to === undefined ? {} : system === 'metric' ? { us: extra.to } : { metric: extra.to };
  return Object.freeze({
    symbol,
    ucum,
    factor,
    offset: extra.offset ?? 0,
    kinds: Object.freeze(kinds.split(' ') as [Kind, ...Kind[]]),
    system,
    ...counterpart,
    spellings: Object.freeze(spellings === '' ? [] : spellings.split(' ')),
  });
}

const INCH = 0.0254;
const FOOT = 0.3048;
const YARD = 0.9144;
const FATHOM = 1.8288;
const MILE = 1609.344;
const SEA_MILE = 1852;
const POUND = 0.45359237;
const OUNCE = POUND / 16;
const GRAVITY = 9.80665;
const POUND_FORCE = POUND * GRAVITY;
const HOUR = 3600;
const LITRE = 1e-3;
const US_GALLON = 231 * INCH ** 3;
const IMPERIAL_GALLON = 4.54609e-3;
const LONG_TON = 2240 * POUND;
const SHORT_TON = 2000 * POUND;
const BTU = 1055.05585262;
const HORSEPOWER = 550 * FOOT * POUND_FORCE;
const METRIC_HORSEPOWER = 75 * GRAVITY;
const MERCURY_MM = 13.5951 * GRAVITY;
const WATER_MM = GRAVITY;
const TURN = 2 * Math.PI;
const FAHRENHEIT = 5 / 9;

const LENGTHS = [
  unit('metric', 'mm', 'mm', 1e-3, 'length', 'millimetre millimetres millimeter millimeters', { to: 'in' }),
  unit('metric', 'm', 'm', 1, 'length', 'metre metres meter meters', { to: 'ft' }),
  unit('metric', 'cm', 'cm', 1e-2, 'length', 'centimetre centimetres centimeter centimeters', { to: 'in' }),
  unit('metric', 'µm', 'um', 1e-6, 'length', 'um micron microns micrometre micrometres micrometer', {
    to: 'mil',
  }),
  unit('metric', 'km', 'km', 1e3, 'length', 'kilometre kilometres kilometer kilometers', { to: 'mi' }),
  unit('us', 'in', '[in_i]', INCH, 'length', 'inch inches "', { to: 'mm' }),
  unit('us', 'ft', '[ft_i]', FOOT, 'length', "foot feet '", { to: 'm' }),
  unit('us', 'mil', '[mil_i]', INCH / 1000, 'length', 'thou mils', { to: 'µm' }),
  unit('us', 'yd', '[yd_i]', YARD, 'length', 'yard yards', { to: 'm' }),
  unit('any', 'fathom', '[fth_i]', FATHOM, 'length', 'fathoms fm'),
  unit('any', 'nmi', '[nmi_i]', SEA_MILE, 'length', 'nautical·mile nautical·miles'),
  unit('us', 'mi', '[mi_i]', MILE, 'length', 'mile miles', { to: 'km' }),
];

const AREAS = [
  unit('metric', 'mm²', 'mm2', 1e-6, 'area', 'sq·mm sqmm', { to: 'in²' }),
  unit('metric', 'm²', 'm2', 1, 'area', 'sq·m sqm', { to: 'ft²' }),
  unit('metric', 'cm²', 'cm2', 1e-4, 'area', 'sq·cm', { to: 'in²' }),
  unit('us', 'ft²', '[sft_i]', FOOT ** 2, 'area', 'sq·ft sqft', { to: 'm²' }),
  unit('us', 'in²', '[sin_i]', INCH ** 2, 'area', 'sq·in sqin', { to: 'cm²' }),
  unit('us', 'yd²', '[syd_i]', YARD ** 2, 'area', 'sq·yd', { to: 'm²' }),
  unit('us', 'AWG', '{AWG}', Number.NaN, 'area', 'awg', { to: 'mm²' }),
  unit('us', 'kcmil', '1000.[cml_i]', (1000 * Math.PI * (INCH / 1000) ** 2) / 4, 'area', 'MCM', {
    to: 'mm²',
  }),
  unit('us', 'cmil', '[cml_i]', (Math.PI * (INCH / 1000) ** 2) / 4, 'area', 'CM circular·mil circular·mils', {
    to: 'mm²',
  }),
];

const VOLUMES = [
  unit('metric', 'L', 'L', LITRE, 'volume', 'l litre litres liter liters ltr', { to: 'US gal' }),
  unit('metric', 'mL', 'mL', 1e-6, 'volume', 'ml millilitre millilitres milliliter', { to: 'US fl oz' }),
  unit('metric', 'm³', 'm3', 1, 'volume', 'cu·m cubic·metre cubic·metres', { to: 'ft³' }),
  unit('metric', 'cm³', 'cm3', 1e-6, 'volume', 'cc ccm', { to: 'in³' }),
  unit('metric', 'cL', 'cL', 1e-5, 'volume', 'cl', { to: 'US fl oz' }),
  unit('metric', 'dL', 'dL', 1e-4, 'volume', 'dl', { to: 'US fl oz' }),
  unit('metric', 'mm³', 'mm3', 1e-9, 'volume', '', { to: 'in³' }),
  unit('us', 'US gal', '[gal_us]', US_GALLON, 'volume', 'US·gallon US·gallons gal·(US)', { to: 'L' }),
  unit('us', 'US qt', '[qt_us]', US_GALLON / 4, 'volume', 'US·quart US·quarts', { to: 'L' }),
  unit('us', 'US pt', '[pt_us]', US_GALLON / 8, 'volume', 'US·pint US·pints', { to: 'L' }),
  unit('us', 'US fl oz', '[foz_us]', US_GALLON / 128, 'volume', 'US·oz fl·oz·(US)', { to: 'mL' }),
  unit('us', 'US cup', '[cup_us]', US_GALLON / 16, 'volume', 'US·cups', { to: 'mL' }),
  unit(
    'imperial',
    'imp gal',
    '[gal_br]',
    IMPERIAL_GALLON,
    'volume',
    'UK·gal imperial·gallon imperial·gallons',
    {
      to: 'L',
    },
  ),
  unit('imperial', 'imp qt', '[qt_br]', IMPERIAL_GALLON / 4, 'volume', 'UK·qt imperial·quart', { to: 'L' }),
  unit('imperial', 'imp pt', '[pt_br]', IMPERIAL_GALLON / 8, 'volume', 'UK·pt imperial·pint imperial·pints', {
    to: 'L',
  }),
  unit('imperial', 'imp fl oz', '[foz_br]', IMPERIAL_GALLON / 160, 'volume', 'UK·fl·oz', { to: 'mL' }),
  unit('us', 'ft³', '[cft_i]', FOOT ** 3, 'volume', 'cu·ft cuft', { to: 'm³' }),
  unit('us', 'in³', '[cin_i]', INCH ** 3, 'volume', 'cu·in cuin', { to: 'cm³' }),
];

const MASSES = [
  unit('metric', 'kg', 'kg', 1, 'mass', 'kilogram kilograms kilogramme', { to: 'lb' }),
  unit('metric', 'g', 'g', 1e-3, 'mass', 'gram grams gramme', { to: 'oz' }),
  unit('metric', 't', 't', 1000, 'mass', 'tonne tonnes', { to: 'lb' }),
  unit('metric', 'mg', 'mg', 1e-6, 'mass', 'milligram milligrams'),
  unit('us', 'lb', '[lb_av]', POUND, 'mass', 'lbs pound pounds', { to: 'kg' }),
  unit('us', 'oz', '[oz_av]', OUNCE, 'mass', 'ounce ounces', { to: 'g' }),
  unit('us', 'grain', '[gr]', POUND / 7000, 'mass', 'grains', { to: 'mg' }),
  unit('imperial', 'stone', '[stone_av]', 14 * POUND, 'mass', 'st', { to: 'kg' }),
  unit('us', 'long ton', '[lton_av]', LONG_TON, 'mass', 'long·tons', { to: 't' }),
  unit('us', 'short ton', '[ston_av]', SHORT_TON, 'mass', 'short·tons US·ton', { to: 't' }),
];

const FORCES = [
  unit('metric', 'N', 'N', 1, 'force', 'newton newtons', { to: 'lbf' }),
  unit('metric', 'kN', 'kN', 1000, 'force', 'kilonewton kilonewtons', { to: 'lbf' }),
  unit('metric', 'daN', 'daN', 10, 'force', '', { to: 'lbf' }),
  unit('metric', 'kgf', 'kgf', GRAVITY, 'force', 'kp', { to: 'lbf' }),
  unit('metric', 'tf', '1000.kgf', 1000 * GRAVITY, 'force', 'tonne-force', { to: 'lbf' }),
  unit('us', 'lbf', '[lbf_av]', POUND_FORCE, 'force', '', { to: 'N' }),
  unit('us', 'ozf', '[lbf_av]/16', POUND_FORCE / 16, 'force', '', { to: 'N' }),
];

const TORQUES_AND_ENERGIES = [
  unit('metric', 'N·m', 'N.m', 1, 'torque', 'Nm newton·metre newton·metres', { to: 'lbf·ft' }),
  unit('metric', 'N·cm', 'N.cm', 0.01, 'torque', 'Ncm', { to: 'lbf·in' }),
  unit('metric', 'kN·m', 'kN.m', 1000, 'torque', 'kNm', { to: 'lbf·ft' }),
  unit('metric', 'kgf·m', 'kgf.m', GRAVITY, 'torque', 'kgfm kpm', { to: 'lbf·ft' }),
  unit(
    'us',
    'lbf·ft',
    '[lbf_av].[ft_i]',
    POUND_FORCE * FOOT,
    'torque',
    'ft·lb lb·ft lbft ftlb foot·pound foot·pounds',
    {
      to: 'N·m',
    },
  ),
  unit(
    'us',
    'lbf·in',
    '[lbf_av].[in_i]',
    POUND_FORCE * INCH,
    'torque',
    'in·lbf in·lb lb·in inch·pound inch·pounds',
    {
      to: 'N·m',
    },
  ),
  unit('us', 'ozf·in', '[lbf_av].[in_i]/16', (POUND_FORCE / 16) * INCH, 'torque', 'in·ozf oz·in', {
    to: 'N·m',
  }),
  unit('any', 'Wh', 'W.h', HOUR, 'energy', 'watt·hour watt·hours'),
  unit('any', 'kWh', 'kW.h', 1000 * HOUR, 'energy', 'kilowatt·hour kilowatt·hours'),
  unit('any', 'J', 'J', 1, 'energy', 'joule joules'),
  unit('any', 'kJ', 'kJ', 1e3, 'energy', ''),
  unit('any', 'MJ', 'MJ', 1e6, 'energy', ''),
  unit('any', 'MWh', 'MW.h', 1e6 * HOUR, 'energy', ''),
  unit('us', 'ft·lbf', '[ft_i].[lbf_av]', FOOT * POUND_FORCE, 'energy torque', '', { to: 'J' }),
  unit('us', 'BTU', '[Btu_IT]', BTU, 'energy', 'Btu', { to: 'kJ' }),
];

const POWERS = [
  unit('any', 'W', 'W', 1, 'power', 'watt watts'),
  unit('metric', 'kW', 'kW', 1e3, 'power', 'kilowatt kilowatts', { to: 'hp' }),
  unit('any', 'mW', 'mW', 1e-3, 'power', ''),
  unit('any', 'MW', 'MW', 1e6, 'power', ''),
  unit('us', 'hp', '[HP]', HORSEPOWER, 'power', 'HP bhp shp horsepower', { to: 'kW' }),
  unit('metric', 'PS', '75.kgf.m/s', METRIC_HORSEPOWER, 'power', 'metric·hp ch CV hp·(metric)', { to: 'hp' }),
  unit('us', 'BTU/h', '[Btu_IT]/h', BTU / HOUR, 'power', 'Btu/h BTU/hr', { to: 'W' }),
  unit('us', 'ft·lbf/s', '[ft_i].[lbf_av]/s', FOOT * POUND_FORCE, 'power', '', { to: 'W' }),
  unit('any', 'VA', 'V.A', 1, 'apparent-power', 'V·A volt·ampere volt·amperes'),
  unit('any', 'kVA', 'kV.A', 1e3, 'apparent-power', 'kV·A'),
  unit('any', 'var', 'V.A', 1, 'reactive-power', 'VAr VAR'),
  unit('any', 'kvar', 'kV.A', 1e3, 'reactive-power', 'kVAr kVAR'),
];

const ELECTRICAL = [
  unit('any', 'V', 'V', 1, 'voltage', 'volt volts VDC VAC V·DC V·AC'),
  unit('any', 'mV', 'mV', 1e-3, 'voltage', 'millivolt millivolts'),
  unit('any', 'kV', 'kV', 1e3, 'voltage', ''),
  unit('any', 'µV', 'uV', 1e-6, 'voltage', 'uV'),
  unit('any', 'A', 'A', 1, 'current', 'amp amps ampere amperes'),
  unit('any', 'mA', 'mA', 1e-3, 'current', 'milliamp milliamps'),
  unit('any', 'µA', 'uA', 1e-6, 'current', 'uA'),
  unit('any', 'kA', 'kA', 1e3, 'current', ''),
  unit('any', 'Ω', 'Ohm', 1, 'resistance', 'ohm ohms Ohm Ohms'),
  unit('any', 'mΩ', 'mOhm', 1e-3, 'resistance', 'mohm milliohm milliohms mOhm'),
  unit('any', 'µΩ', 'uOhm', 1e-6, 'resistance', 'uohm microohm µohm µOhm'),
  unit('any', 'kΩ', 'kOhm', 1e3, 'resistance', 'kohm kilohm kilohms kOhm'),
  unit('any', 'MΩ', 'MOhm', 1e6, 'resistance', 'Mohm megohm megohms MOhm'),
  unit('any', 'GΩ', 'GOhm', 1e9, 'resistance', 'Gohm gigohm GOhm'),
  unit('any', 'S', 'S', 1, 'conductance', 'siemens'),
  unit('any', 'mS', 'mS', 1e-3, 'conductance', ''),
  unit('any', 'µS', 'uS', 1e-6, 'conductance', 'uS'),
  unit('any', 'Ah', 'A.h', HOUR, 'charge', 'A·h amp·hour amp·hours ampere·hour ampere·hours'),
  unit('any', 'mAh', 'mA.h', HOUR / 1000, 'charge', 'mA·h'),
  unit('any', 'kAh', 'kA.h', HOUR * 1000, 'charge', ''),
  unit('any', 'C', 'C', 1, 'charge', 'coulomb coulombs'),
  unit('any', 'µF', 'uF', 1e-6, 'capacitance', 'uF'),
  unit('any', 'F', 'F', 1, 'capacitance', 'farad farads'),
  unit('any', 'mF', 'mF', 1e-3, 'capacitance', ''),
  unit('any', 'nF', 'nF', 1e-9, 'capacitance', ''),
  unit('any', 'pF', 'pF', 1e-12, 'capacitance', ''),
  unit('any', 'mH', 'mH', 1e-3, 'inductance', ''),
  unit('any', 'µH', 'uH', 1e-6, 'inductance', 'uH'),
  unit('any', 'H', 'H', 1, 'inductance', 'henry'),
  unit('any', 'Ω·m', 'Ohm.m', 1, 'resistivity', 'ohm·m'),
  unit('any', 'Ω·mm²/m', 'Ohm.mm2/m', 1e-6, 'resistivity', 'ohm·mm2/m'),
  unit('any', 'µΩ·cm', 'uOhm.cm', 1e-8, 'resistivity', 'µohm·cm'),
  unit('any', 'µS/cm', 'uS/cm', 1e-4, 'conductivity', 'uS/cm'),
  unit('any', 'mS/cm', 'mS/cm', 0.1, 'conductivity', ''),
  unit('any', 'S/m', 'S/m', 1, 'conductivity', ''),
  unit('metric', 'Ω/km', 'Ohm/km', 1e-3, 'linear-resistance', 'ohm/km', { to: 'Ω/kft' }),
  unit('metric', 'mΩ/m', 'mOhm/m', 1e-3, 'linear-resistance', 'mohm/m', { to: 'Ω/kft' }),
  unit('metric', 'Ω/m', 'Ohm/m', 1, 'linear-resistance', 'ohm/m', { to: 'Ω/kft' }),
  unit(
    'us',
    'Ω/kft',
    'Ohm/(1000.[ft_i])',
    1e-3 / FOOT,
    'linear-resistance',
    'ohm/kft Ω/1000·ft ohm/1000·ft',
    {
      to: 'Ω/km',
    },
  ),
];

const MOTION_AND_TIME = [
  unit('any', 'Hz', 'Hz', 1, 'frequency', 'hertz c/s'),
  unit('any', 'kHz', 'kHz', 1e3, 'frequency', ''),
  unit('any', 'MHz', 'MHz', 1e6, 'frequency', ''),
  unit('any', 'GHz', 'GHz', 1e9, 'frequency', ''),
  unit('any', 'rpm', '{rot}/min', TURN / 60, 'rotational-speed', 'r/min rev/min RPM min-1'),
  unit('any', 'r/s', '{rot}/s', TURN, 'rotational-speed', 'rev/s'),
  unit('any', 'rad/s', 'rad/s', 1, 'rotational-speed', ''),
  unit('any', 'kn', '[kn_i]', SEA_MILE / HOUR, 'speed', 'knot knots nmi/h'),
  unit('metric', 'm/s', 'm/s', 1, 'speed', '', { to: 'ft/s' }),
  unit('metric', 'km/h', 'km/h', 1000 / HOUR, 'speed', 'kph kmh', { to: 'mph' }),
  unit('us', 'mph', '[mi_i]/h', MILE / HOUR, 'speed', 'mi/h', { to: 'km/h' }),
  unit('us', 'ft/s', '[ft_i]/s', FOOT, 'speed', 'fps', { to: 'm/s' }),
  unit('us', 'ft/min', '[ft_i]/min', FOOT / 60, 'speed', 'fpm', { to: 'm/s' }),
  unit('metric', 'mm/s', 'mm/s', 1e-3, 'speed', '', { to: 'in/s' }),
  unit('metric', 'm/min', 'm/min', 1 / 60, 'speed', '', { to: 'ft/min' }),
  unit('us', 'in/s', '[in_i]/s', INCH, 'speed', '', { to: 'mm/s' }),
  unit('metric', 'm/s²', 'm/s2', 1, 'acceleration', '', { to: 'ft/s²' }),
  unit('us', 'ft/s²', '[ft_i]/s2', FOOT, 'acceleration', '', { to: 'm/s²' }),
  unit('any', 'gn', '[g]', GRAVITY, 'acceleration', ''),
  unit('any', 'h', 'h', HOUR, 'time', 'hr hrs hour hours'),
  unit('any', 'min', 'min', 60, 'time', 'mins minute minutes'),
  unit('any', 's', 's', 1, 'time', 'sec secs second seconds'),
  unit('any', 'd', 'd', 24 * HOUR, 'time', 'day days'),
  unit('any', 'ms', 'ms', 1e-3, 'time', ''),
];

const TEMPERATURES = [
  unit('metric', '°C', 'Cel', 1, 'temperature temperature-difference', 'deg·C degC', {
    to: '°F',
    offset: 273.15,
  }),
  unit('us', '°F', '[degF]', FAHRENHEIT, 'temperature temperature-difference', 'deg·F degF', {
    to: '°C',
    offset: 459.67 * FAHRENHEIT,
  }),
  unit('any', 'K', 'K', 1, 'temperature-difference temperature', 'kelvin kelvins'),
];

const ANY_PRESSURE = 'gauge-pressure absolute-pressure pressure-difference';
const PRESSURE_OR_STRESS = `${ANY_PRESSURE} stress`;

const PRESSURES = [
  unit('metric', 'bar', 'bar', 1e5, ANY_PRESSURE, 'bars', { to: 'psi' }),
  unit('metric', 'mbar', 'mbar', 100, ANY_PRESSURE, 'millibar millibars', { to: 'inHg' }),
  unit('metric', 'kPa', 'kPa', 1e3, PRESSURE_OR_STRESS, '', { to: 'psi' }),
  unit('metric', 'hPa', 'hPa', 100, ANY_PRESSURE, '', { to: 'inHg' }),
  unit('metric', 'Pa', 'Pa', 1, PRESSURE_OR_STRESS, 'pascal pascals', { to: 'inH2O' }),
  unit('us', 'psi', '[psi]', POUND_FORCE / INCH ** 2, PRESSURE_OR_STRESS, 'lbf/in2 PSI lb/in2', {
    to: 'bar',
  }),
  unit('metric', 'kgf/cm²', 'kgf/cm2', GRAVITY / 1e-4, ANY_PRESSURE, '', { to: 'psi' }),
  unit('metric', 'mmHg', 'mm[Hg]', MERCURY_MM, ANY_PRESSURE, 'mm·Hg', { to: 'inHg' }),
  unit('us', 'inHg', "[in_i'Hg]", 25.4 * MERCURY_MM, ANY_PRESSURE, 'in·Hg', { to: 'mbar' }),
  unit('metric', 'mmH2O', 'mm[H2O]', WATER_MM, ANY_PRESSURE, 'mm·H2O', { to: 'inH2O' }),
  unit('metric', 'cmH2O', 'cm[H2O]', 10 * WATER_MM, ANY_PRESSURE, 'cm·H2O', { to: 'inH2O' }),
  unit('metric', 'mH2O', 'm[H2O]', 1000 * WATER_MM, ANY_PRESSURE, 'm·H2O mWC', { to: 'psi' }),
  unit('us', 'inH2O', "[in_i'H2O]", 25.4 * WATER_MM, ANY_PRESSURE, 'in·H2O', { to: 'mbar' }),
  unit('any', 'atm', 'atm', 101325, ANY_PRESSURE, ''),
  unit('any', 'Torr', 'atm/760', 101325 / 760, ANY_PRESSURE, 'torr'),
  unit('metric', 'bar(g)', 'bar{g}', 1e5, 'gauge-pressure', 'barg bar·g bar·(g)', { to: 'psig' }),
  unit('metric', 'mbar(g)', 'mbar{g}', 100, 'gauge-pressure', 'mbarg mbar·(g)', { to: 'psig' }),
  unit('metric', 'kPa(g)', 'kPa{g}', 1e3, 'gauge-pressure', 'kPag kPa·(g)', { to: 'psig' }),
  unit('us', 'psig', '[psi]{g}', POUND_FORCE / INCH ** 2, 'gauge-pressure', 'psi(g) PSIG psi·(g)', {
    to: 'bar(g)',
  }),
  unit('metric', 'bar(a)', 'bar{a}', 1e5, 'absolute-pressure', 'bara bar·a bar·(a)', { to: 'psia' }),
  unit('metric', 'mbar(a)', 'mbar{a}', 100, 'absolute-pressure', 'mbara mbar·(a)', { to: 'psia' }),
  unit('metric', 'kPa(a)', 'kPa{a}', 1e3, 'absolute-pressure', 'kPaa kPa·(a)', { to: 'psia' }),
  unit('us', 'psia', '[psi]{a}', POUND_FORCE / INCH ** 2, 'absolute-pressure', 'psi(a) PSIA psi·(a)', {
    to: 'bar(a)',
  }),
  unit('us', 'psid', '[psi]{d}', POUND_FORCE / INCH ** 2, 'pressure-difference', 'psi(d)', { to: 'bar' }),
  unit('metric', 'N/mm²', 'N/mm2', 1e6, 'stress', '', { to: 'psi' }),
  unit('metric', 'MPa', 'MPa', 1e6, PRESSURE_OR_STRESS, '', { to: 'psi' }),
  unit('metric', 'GPa', 'GPa', 1e9, 'stress', '', { to: 'psi' }),
];

const FLUIDS = [
  unit('metric', 'kg/m³', 'kg/m3', 1, 'density', '', { to: 'lb/ft³' }),
  unit('metric', 'g/cm³', 'g/cm3', 1000, 'density', 'g/cc', { to: 'lb/ft³' }),
  unit('metric', 'kg/L', 'kg/L', 1000, 'density', 'kg/l', { to: 'lb/US gal' }),
  unit('metric', 'g/L', 'g/L', 1, 'density', 'g/l', { to: 'oz/US gal' }),
  unit('metric', 'mg/L', 'mg/L', 1e-3, 'density', 'mg/l'),
  unit('us', 'lb/ft³', '[lb_av]/[cft_i]', POUND / FOOT ** 3, 'density', 'lb/cu·ft', { to: 'kg/m³' }),
  unit('us', 'lb/US gal', '[lb_av]/[gal_us]', POUND / US_GALLON, 'density', '', { to: 'kg/L' }),
  unit('us', 'oz/US gal', '[oz_av]/[gal_us]', OUNCE / US_GALLON, 'density', '', { to: 'g/L' }),
  unit('any', 'SG', '{SG}', 1, 'specific-gravity', 'sg'),
  unit('metric', 'L/min', 'L/min', LITRE / 60, 'volume-flow', 'l/min lpm', { to: 'US gal/min' }),
  unit('metric', 'L/h', 'L/h', LITRE / HOUR, 'volume-flow', 'l/h L/hr', { to: 'US gal/h' }),
  unit('metric', 'm³/h', 'm3/h', 1 / HOUR, 'volume-flow', '', { to: 'ft³/min' }),
  unit('metric', 'L/s', 'L/s', LITRE, 'volume-flow', 'l/s', { to: 'US gal/min' }),
  unit('metric', 'mL/min', 'mL/min', 1e-6 / 60, 'volume-flow', 'ml/min', { to: 'US fl oz/min' }),
  unit('metric', 'm³/s', 'm3/s', 1, 'volume-flow', '', { to: 'ft³/min' }),
  unit('us', 'US gal/min', '[gal_us]/min', US_GALLON / 60, 'volume-flow', 'US·gpm', { to: 'L/min' }),
  unit('us', 'US gal/h', '[gal_us]/h', US_GALLON / HOUR, 'volume-flow', 'US·gph', { to: 'L/h' }),
  unit('us', 'US fl oz/min', '[foz_us]/min', US_GALLON / 128 / 60, 'volume-flow', '', { to: 'mL/min' }),
  unit('imperial', 'imp gal/min', '[gal_br]/min', IMPERIAL_GALLON / 60, 'volume-flow', 'imp·gpm', {
    to: 'L/min',
  }),
  unit('imperial', 'imp gal/h', '[gal_br]/h', IMPERIAL_GALLON / HOUR, 'volume-flow', 'imp·gph', {
    to: 'L/h',
  }),
  unit('us', 'ft³/min', '[cft_i]/min', FOOT ** 3 / 60, 'volume-flow', 'cfm CFM', { to: 'm³/h' }),
  unit('metric', 'kg/h', 'kg/h', 1 / HOUR, 'mass-flow', 'kg/hr', { to: 'lb/h' }),
  unit('metric', 'kg/s', 'kg/s', 1, 'mass-flow', '', { to: 'lb/h' }),
  unit('metric', 'g/h', 'g/h', 1e-3 / HOUR, 'mass-flow', '', { to: 'lb/h' }),
  unit('us', 'lb/h', '[lb_av]/h', POUND / HOUR, 'mass-flow', 'lb/hr', { to: 'kg/h' }),
  unit('metric', 'g/kWh', 'g/(kW.h)', 1e-3 / (1000 * HOUR), 'specific-consumption', 'g/(kW·h)', {
    to: 'lb/(hp·h)',
  }),
  unit(
    'us',
    'lb/(hp·h)',
    '[lb_av]/([HP].h)',
    POUND / (HORSEPOWER * HOUR),
    'specific-consumption',
    'lb/hp·h lb/hph',
    {
      to: 'g/kWh',
    },
  ),
  unit('metric', 'L/nmi', 'L/[nmi_i]', LITRE / SEA_MILE, 'fuel-per-distance', 'l/nmi', { to: 'US gal/nmi' }),
  unit('metric', 'L/km', 'L/km', LITRE / 1000, 'fuel-per-distance', 'l/km', { to: 'US gal/mi' }),
  unit('metric', 'L/100 km', 'L/(100.km)', LITRE / 1e5, 'fuel-per-distance', 'l/100·km L/100km l/100km', {
    to: 'US gal/mi',
  }),
  unit('us', 'US gal/nmi', '[gal_us]/[nmi_i]', US_GALLON / SEA_MILE, 'fuel-per-distance', '', {
    to: 'L/nmi',
  }),
  unit('us', 'US gal/mi', '[gal_us]/[mi_i]', US_GALLON / MILE, 'fuel-per-distance', '', { to: 'L/km' }),
  unit('any', 'mPa·s', 'mPa.s', 1e-3, 'viscosity', 'mPas'),
  unit('any', 'cP', 'cP', 1e-3, 'viscosity', 'centipoise'),
  unit('any', 'Pa·s', 'Pa.s', 1, 'viscosity', ''),
  unit('any', 'cSt', 'cSt', 1e-6, 'kinematic-viscosity', 'centistokes'),
  unit('any', 'mm²/s', 'mm2/s', 1e-6, 'kinematic-viscosity', ''),
];

const NUMBERS = [
  unit('any', '1', '1', 1, 'ratio count power-factor', ''),
  unit('any', '%', '%', 0.01, 'ratio moisture relative-humidity', 'percent pct'),
  unit('any', '‰', '[ppth]', 1e-3, 'ratio', ''),
  unit('any', 'ppm', '[ppm]', 1e-6, 'ratio', ''),
  unit('any', '%MC', '%{MC}', 0.01, 'moisture', '%·MC'),
  unit('any', '%RH', '%{RH}', 0.01, 'relative-humidity', '%·RH %·rh'),
  unit('any', 'pcs', '{pcs}', 1, 'count', 'pc pieces off'),
  unit('any', 'pH', '[pH]', 1, 'ph', ''),
  unit('any', 'dB(A)', 'dB[SPL]', 1, 'sound-level', 'dBA dB·(A) dB·A'),
  unit('any', '°', 'deg', Math.PI / 180, 'angle', 'deg degree degrees'),
  unit('any', '′', "'", Math.PI / 10800, 'angle', "arcmin '"),
  unit('any', '″', "''", Math.PI / 648000, 'angle', 'arcsec "'),
  unit('any', 'rad', 'rad', 1, 'angle', 'radian radians'),
  unit('any', 'mrad', 'mrad', 1e-3, 'angle', ''),
];

const LIGHT = [
  unit('any', 'cd', 'cd', 1, 'luminous-intensity', 'candela'),
  unit('any', 'lm', 'lm', 1, 'luminous-flux', 'lumen lumens'),
  unit('metric', 'lx', 'lx', 1, 'illuminance', 'lux', { to: 'fc' }),
  unit('us', 'fc', 'lm/[sft_i]', 1 / FOOT ** 2, 'illuminance', 'footcandle footcandles', { to: 'lx' }),
  unit('any', 'W/m²', 'W/m2', 1, 'irradiance', ''),
];

const BUILD = [
  unit('metric', 'g/m²', 'g/m2', 1e-3, 'area-density', 'gsm', { to: 'oz/yd²' }),
  unit('metric', 'kg/m²', 'kg/m2', 1, 'area-density', '', { to: 'lb/ft²' }),
  unit('us', 'oz/yd²', '[oz_av]/[syd_i]', OUNCE / YARD ** 2, 'area-density', 'oz/sq·yd', { to: 'g/m²' }),
  unit('us', 'lb/ft²', '[lb_av]/[sft_i]', POUND / FOOT ** 2, 'area-density', 'lb/sq·ft', { to: 'kg/m²' }),
  unit('metric', 'kg/m', 'kg/m', 1, 'mass-per-length', '', { to: 'lb/ft' }),
  unit('metric', 'g/m', 'g/m', 1e-3, 'mass-per-length', '', { to: 'lb/ft' }),
  unit('us', 'lb/ft', '[lb_av]/[ft_i]', POUND / FOOT, 'mass-per-length', '', { to: 'kg/m' }),
  unit('metric', 'm²/L', 'm2/L', 1000, 'spreading-rate', 'm2/l', { to: 'ft²/US gal' }),
  unit('us', 'ft²/US gal', '[sft_i]/[gal_us]', FOOT ** 2 / US_GALLON, 'spreading-rate', '', { to: 'm²/L' }),
  unit('metric', 'N/mm', 'N/mm', 1000, 'stiffness', '', { to: 'lbf/in' }),
  unit('metric', 'N/m', 'N/m', 1, 'stiffness', '', { to: 'lbf/in' }),
  unit('us', 'lbf/in', '[lbf_av]/[in_i]', POUND_FORCE / INCH, 'stiffness', '', { to: 'N/mm' }),
  unit('metric', 'kg·m', 'kg.m', 1, 'moment-of-mass', 'kgm', { to: 'lb·ft' }),
  unit('metric', 't·m', 't.m', 1000, 'moment-of-mass', 'tm', { to: 'lb·ft' }),
  unit('us', 'lb·ft', '[lb_av].[ft_i]', POUND * FOOT, 'moment-of-mass', 'ft·lb', { to: 'kg·m' }),
  unit('metric', 't/cm', 't/cm', 1e5, 'immersion', 'TPC', { to: 'long ton/in' }),
  unit('metric', 'kg/cm', 'kg/cm', 100, 'immersion', '', { to: 'lb/in' }),
  unit('us', 'lb/in', '[lb_av]/[in_i]', POUND / INCH, 'immersion', '', { to: 'kg/cm' }),
  unit('us', 'long ton/in', '[lton_av]/[in_i]', LONG_TON / INCH, 'immersion', '', { to: 't/cm' }),
  unit('metric', 't·m/cm', 't.m/cm', 1e5, 'trim-moment', 'tm/cm', { to: 'long ton·ft/in' }),
  unit('metric', 'kg·m/cm', 'kg.m/cm', 100, 'trim-moment', 'kgm/cm', { to: 'lb·ft/in' }),
  unit('us', 'lb·ft/in', '[lb_av].[ft_i]/[in_i]', (POUND * FOOT) / INCH, 'trim-moment', 'ft·lb/in', {
    to: 'kg·m/cm',
  }),
  unit(
    'us',
    'long ton·ft/in',
    '[lton_av].[ft_i]/[in_i]',
    (LONG_TON * FOOT) / INCH,
    'trim-moment',
    'ft·long·ton/in',
    {
      to: 't·m/cm',
    },
  ),
];

/** All units, commonest first within each kind. */
export const UNITS: readonly Unit[] = Object.freeze([
  ...LENGTHS,
  ...AREAS,
  ...VOLUMES,
  ...MASSES,
  ...FORCES,
  ...TORQUES_AND_ENERGIES,
  ...POWERS,
  ...ELECTRICAL,
  ...MOTION_AND_TIME,
  ...TEMPERATURES,
  ...PRESSURES,
  ...FLUIDS,
  ...NUMBERS,
  ...LIGHT,
  ...BUILD,
]);
