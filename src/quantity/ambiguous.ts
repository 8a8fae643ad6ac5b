/**
 * Spellings that people use for more than one unit, or that differ from a unit of another kind by a letter
 * or a capital. They are never guessed at: the message offers the choices. Where the kind that is due leaves
 * only one reading, the unit table has that reading among its spellings and it is taken.
 */
import type { Kind } from './kinds.js';

/** What an ambiguous spelling may mean. */
export interface Ambiguity {
  readonly why: string;
  readonly choices: readonly string[];
  /** The kinds for which it is ambiguous; all when absent. */
  readonly kinds?: readonly Kind[];
  /** It is fine where the kind that is due is one that a unit of this spelling fits. */
  readonly settledByKind?: boolean;
}

const GALLONS = ['US gal', 'imp gal', 'L'];

const table: readonly (readonly [spellings: string, ambiguity: Ambiguity])[] = [
  [
    'gal Gal GAL gallon gallons',
    { why: 'a US gallon is 3.785 L and an imperial one 4.546 L', choices: GALLONS },
  ],
  [
    'gpm GPM gal/min',
    { why: 'US and imperial gallons differ', choices: ['US gal/min', 'imp gal/min', 'L/min'] },
  ],
  [
    'gph GPH gal/h gal/hr',
    { why: 'US and imperial gallons differ', choices: ['US gal/h', 'imp gal/h', 'L/h'] },
  ],
  ['lb/gal', { why: 'US and imperial gallons differ', choices: ['lb/US gal', 'kg/L'] }],
  ['qt quart quarts', { why: 'US and imperial quarts differ', choices: ['US qt', 'imp qt', 'L'] }],
  ['pt pint pints', { why: 'US and imperial pints differ', choices: ['US pt', 'imp pt', 'L'] }],
  ['fl·oz floz', { why: 'US and imperial fluid ounces differ', choices: ['US fl oz', 'imp fl oz', 'mL'] }],
  ['cup cups', { why: 'cups differ from country to country', choices: ['US cup', 'mL'] }],
  [
    'oz ounce ounces',
    {
      why: 'an ounce of volume is a fluid ounce, and US and imperial ones differ',
      choices: ['US fl oz', 'imp fl oz', 'mL'],
      kinds: ['volume'],
    },
  ],
  [
    'ton tons',
    { why: 'it may be a tonne, a long ton or a short ton', choices: ['t', 'long ton', 'short ton'] },
  ],
  ['cwt', { why: 'a hundredweight is 112 lb in Britain and 100 lb in America', choices: ['kg', 'lb'] }],
  [
    'mil mils',
    {
      why: 'as an angle it is a different part of a circle from one army to the next',
      choices: ['mrad', '°'],
      kinds: ['angle'],
    },
  ],
  ['gr', { why: 'it is read as grams and as grains', choices: ['g', 'grain'] }],
  ['kt kts KT', { why: 'it is read as knots and as kilotonnes', choices: ['kn', 't'] }],
  [
    'M',
    { why: 'it is read as metres, as nautical miles and as a thousand or a million', choices: ['m', 'nmi'] },
  ],
  [
    'nm NM',
    { why: 'it is read as nautical miles, as newton metres and as nanometres', choices: ['nmi', 'N·m'] },
  ],
  [
    'C',
    {
      why: 'it is the coulomb, and people also write it for degrees Celsius and for the rate of a battery',
      choices: ['°C', 'coulomb', 'A'],
      settledByKind: true,
    },
  ],
  [
    'F',
    {
      why: 'it is the farad, and people also write it for degrees Fahrenheit',
      choices: ['°F', 'farad'],
      settledByKind: true,
    },
  ],
  [
    'CM',
    { why: 'it is read as circular mils and as centimetres', choices: ['cmil', 'cm'], settledByKind: true },
  ],
  [
    "'",
    { why: 'it is feet for a length and minutes for an angle', choices: ['ft', '′'], settledByKind: true },
  ],
  [
    '"',
    { why: 'it is inches for a length and seconds for an angle', choices: ['in', '″'], settledByKind: true },
  ],
  ['st', { why: 'it is read as stones and as tons', choices: ['kg', 'lb', 't'], settledByKind: true }],
  ['dB', { why: 'a level needs to say how it is weighted', choices: ['dB(A)'] }],
];

/** Ambiguous spellings by unit key. */
export const AMBIGUOUS: ReadonlyMap<string, Ambiguity> = new Map(
  table.flatMap(([spellings, ambiguity]) =>
    spellings.split(' ').map((spelling): [string, Ambiguity] => [spelling, ambiguity]),
  ),
);
