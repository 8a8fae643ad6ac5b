/** The words that made-up books are written in. */

/** A sort of thing that is measured: its kind, unit and usual value, and what measures it. */
export interface PointSort {
  readonly name: string;
  readonly kind: string;
  readonly unit: string;
  readonly usual: number;
  readonly digits: number;
  readonly instrument: string;
  readonly limit: 'at-least' | 'at-most' | null;
  readonly conditions: boolean;
}

function sort(
  name: string,
  kind: string,
  unit: string,
  usual: number,
  digits: number,
  instrument: string,
  limit: PointSort['limit'] = null,
  conditions = false,
): PointSort {
  return { name, kind, unit, usual, digits, instrument, limit, conditions };
}

export const POINT_SORTS: readonly PointSort[] = [
  sort('rest-voltage', 'voltage', 'V', 12.7, 2, 'dmm', 'at-least', true),
  sort('charging-current', 'current', 'A', 38, 1, 'clamp-meter', 'at-most'),
  sort('insulation', 'resistance', 'MΩ', 160, 0, 'megger', 'at-least', true),
  sort('moisture', 'moisture', '%MC', 16.5, 1, 'moisture-meter', 'at-most'),
  sort('pressure', 'gauge-pressure', 'bar', 2.6, 2, 'pressure-gauge', 'at-least'),
  sort('case-temperature', 'temperature', '°C', 62, 0, 'thermometer', 'at-most', true),
  sort('clearance', 'length', 'mm', 2.4, 2, 'calliper', 'at-most'),
  sort('bolt-torque', 'torque', 'N m', 62, 0, 'torque-wrench'),
  sort('shaft-speed', 'rotational-speed', 'rpm', 1480, 0, 'tacho', null, true),
  sort('capacity', 'charge', 'Ah', 390, 0, 'clamp-meter', 'at-least', true),
  sort('output', 'power', 'W', 850, 0, 'load-bank'),
  sort('flow', 'volume-flow', 'L/min', 11.5, 1, 'jug', 'at-least'),
  sort('contents', 'volume', 'L', 140, 0, 'jug'),
  sort('weight', 'mass', 'kg', 31, 1, 'spring-scale'),
  sort('gravity', 'specific-gravity', 'SG', 1.27, 3, 'hydrometer', 'at-least'),
  sort('frequency', 'frequency', 'Hz', 50, 1, 'dmm'),
  sort('humidity', 'relative-humidity', '%RH', 68, 0, 'hygrometer', 'at-most'),
  sort('gap', 'length', 'in', 0.375, 3, 'tape', 'at-most'),
];

/** Instruments, with the accuracy that each has for a kind. */
export const INSTRUMENTS: readonly (readonly [id: string, name: string, abilities: readonly string[]])[] = [
  [
    'dmm',
    'digital multimeter',
    [
      'voltage: { range: [0 V, 600 V], accuracy: 0.5 % + 0.02 V }',
      'frequency: { range: [10 Hz, 10 kHz], accuracy: 0.1 % }',
    ],
  ],
  [
    'clamp-meter',
    'clamp meter',
    ['current: { range: [0 A, 400 A], accuracy: 2 % + 0.3 A }', 'charge: { accuracy: 2 % }'],
  ],
  [
    'megger',
    'insulation tester, 500 V',
    ['resistance: { range: [0.05 MΩ, 2000 MΩ], accuracy: 4 % + 0.05 MΩ }'],
  ],
  ['moisture-meter', 'pin moisture meter', ['moisture: { range: [6 %MC, 60 %MC], accuracy: 1 %MC }']],
  ['pressure-gauge', 'dial gauge', ['gauge-pressure: { range: [0 bar, 10 bar], accuracy: 0.05 bar }']],
  ['thermometer', 'contact thermometer', ['temperature: { range: [-30 °C, 300 °C], accuracy: 1 K }']],
  ['calliper', 'dial calliper', ['length: { range: [0 mm, 200 mm], accuracy: 0.03 mm }']],
  ['torque-wrench', 'torque wrench', ['torque: { range: [10 N m, 210 N m], accuracy: 4 % }']],
  [
    'tacho',
    'optical tachometer',
    ['rotational-speed: { range: [10 rpm, 10000 rpm], accuracy: 0.1 % + 1 rpm }'],
  ],
  ['load-bank', 'load bank with power meter', ['power: { range: [0 kW, 6 kW], accuracy: 1 % + 10 W }']],
  ['jug', 'measuring jug and watch', ['volume: { accuracy: 2 % }', 'volume-flow: { accuracy: 3 % }']],
  ['spring-scale', 'hanging scale', ['mass: { range: [0 kg, 100 kg], accuracy: 0.2 kg }']],
  ['hydrometer', 'glass hydrometer', ['specific-gravity: { range: [1 SG, 1.8 SG], accuracy: 0.005 SG }']],
  ['hygrometer', 'thermo-hygrometer', ['relative-humidity: { range: [5 %RH, 99 %RH], accuracy: 3 %RH }']],
  ['tape', 'steel tape', ['length: { range: [0 m, 8 m], accuracy: 1 mm }']],
];

export const SYSTEMS: readonly (readonly [id: string, title: string, group: string, hazards: string])[] = [
  ['hull', 'Hull and planking', 'Ship', 'coatings'],
  ['deck', 'Deck and deckhouse', 'Ship', 'coatings'],
  ['rig', 'Spars and rigging', 'Ship', 'aloft'],
  ['sails', 'Sails and canvas', 'Ship', 'aloft'],
  ['engine', 'Main engine', 'Machinery', 'fuel'],
  ['stern-gear', 'Shaft and stern gear', 'Machinery', 'lifting'],
  ['fuel', 'Fuel', 'Machinery', 'fuel'],
  ['exhaust', 'Exhaust', 'Machinery', 'exhaust'],
  ['cooling', 'Cooling', 'Machinery', 'fuel'],
  ['genset', 'Generator', 'Machinery', 'mains-ac'],
  ['house-dc', 'House batteries', 'Electrics', 'dc-battery'],
  ['start-dc', 'Start batteries', 'Electrics', 'dc-battery'],
  ['shore-power', 'Shore power', 'Electrics', 'mains-ac'],
  ['solar', 'Solar', 'Electrics', 'dc-battery'],
  ['lights', 'Lights', 'Electrics', 'dc-battery'],
  ['navigation', 'Navigation', 'Electrics', 'dc-battery'],
  ['fresh-water', 'Fresh water', 'Below', 'enclosed-space'],
  ['heads', 'Heads and drains', 'Below', 'enclosed-space'],
  ['bilge', 'Bilge', 'Below', 'enclosed-space'],
  ['gas', 'Gas', 'Below', 'gas'],
  ['heating', 'Heating', 'Below', 'exhaust'],
  ['steering', 'Steering', 'Ship', 'lifting'],
  ['ground-tackle', 'Ground tackle', 'Ship', 'lifting'],
  ['dinghy', 'Dinghy and davits', 'Ship', 'lifting'],
];

export const PLACES = [
  'port',
  'starboard',
  'fore',
  'aft',
  'upper',
  'lower',
  'inner',
  'outer',
  'amidships',
] as const;
export const PEOPLE = ['owner', 'bas', 'jess', 'surveyor', 'yard'] as const;
export const SUPPLIERS = [
  'Quay Electric',
  'Hollow Quay Yard',
  'Sallow Chandlery',
  'Marsh & Daughters',
  'Old Rope Loft',
] as const;
export const THINGS = [
  'pump',
  'hose',
  'cable',
  'valve',
  'plank',
  'filter',
  'bearing',
  'bracket',
  'seacock',
  'fuse',
  'lamp',
  'shackle',
] as const;
export const JOBS = [
  'Renew',
  'Check',
  'Refit',
  'Clean',
  'Seal',
  'Replace',
  'Measure',
  'Align',
  'Grease',
  'Trace',
] as const;

const SUBJECTS = [
  'The old one',
  'Bas',
  'The bracket',
  'The yard',
  'Whoever fitted this',
  'The second bolt',
  'The meter',
  'I',
  'The pump',
  'The paint',
];
const VERBS = [
  'took an hour longer than thought',
  'was dry behind, which I had not hoped for',
  'came off in two pieces',
  'held at the third try',
  'had been wired backwards',
  'is good for another winter',
  'read the same as in spring',
  'was seized solid',
  'went back where it came from',
  'wants doing again before launching',
];
const ENDS = [
  '',
  ' Rain from noon on.',
  ' Stopped when the light went.',
  ' Left it clamped overnight.',
  ' More of that tomorrow.',
  ' Not proud of the last one.',
  ' Swept up and went home.',
];
const MIDDLES = [', and', '; after that', ', so', ', which is why', ', but'];

export const SENTENCES = { SUBJECTS, VERBS, MIDDLES, ENDS } as const;
