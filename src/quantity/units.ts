/** Finding units by what people write, and reckoning between units and SI. */
import { distance } from 'fastest-levenshtein';
import { AMBIGUOUS, type Ambiguity } from './ambiguous.js';
import { ALL_KINDS, type Kind, type KindInfo, kindRow } from './kinds.js';
import { UNITS, type Unit } from './unit-table.js';

export type { Unit } from './unit-table.js';

/** Characters that look like another one, one for one, so that positions in a text stay what they are. */
const LOOK_ALIKES: ReadonlyMap<string, string> = new Map([
  ['\u2126', 'Ω'],
  ['\u03bc', 'µ'],
  ['\u212a', 'K'],
  ['º', '°'],
  ['˚', '°'],
  ['′', "'"],
  ['’', "'"],
  ['‘', "'"],
  ['″', '"'],
  ['”', '"'],
  ['“', '"'],
  ['²', '2'],
  ['³', '3'],
  ['⋅', '·'],
  ['∙', '·'],
  ['•', '·'],
  ['×', '·'],
  ['∕', '/'],
  ['⁄', '/'],
  ['％', '%'],
]);

/** A unit's text brought to the one form in which it is looked up. */
export function unitKey(text: string): string {
  const trimmed = text.trim();
  if (/^[A-Za-z%°Ωµ]+$/.test(trimmed)) return trimmed;
  return Array.from(trimmed, (c) => LOOK_ALIKES.get(c) ?? c)
    .join('')
    .replace(/℃/g, '°C')
    .replace(/℉/g, '°F')
    .replace(/⁻¹/g, '-1')
    .replace(/''/g, '"')
    .replace(/\^(?=[23])/g, '')
    .replace(/(?<=[A-Za-z])-(?=[A-Za-z])/g, '·')
    .replace(/[\s·*]+/g, '·')
    .replace(/·?\/·?/g, '/')
    .replace(/°·/g, '°');
}

const bySpelling: ReadonlyMap<string, readonly Unit[]> = indexSpellings();
const bySymbol: ReadonlyMap<string, Unit> = new Map(UNITS.map((unit) => [unit.symbol, unit]));
const byFoldedCase: ReadonlyMap<string, readonly string[]> = indexFolded();
const unitsByKind: ReadonlyMap<Kind, readonly string[]> = new Map(
  ALL_KINDS.map((kind) => [kind, Object.freeze(symbolsOf(kind))]),
);

function indexSpellings(): ReadonlyMap<string, readonly Unit[]> {
  const index = new Map<string, Unit[]>();
  for (const unit of UNITS) {
    // A plain number is written without a unit: `5 1` is not five.
    if (unit.symbol === '1') continue;
    for (const key of new Set([unitKey(unit.symbol), ...unit.spellings.map(unitKey)])) {
      const same = index.get(key);
      if (same) same.push(unit);
      else index.set(key, [unit]);
    }
  }
  return index;
}

function indexFolded(): ReadonlyMap<string, readonly string[]> {
  const index = new Map<string, string[]>();
  for (const unit of UNITS) {
    for (const key of new Set(
      [unit.symbol, ...unit.spellings].map((spelling) => folded(unitKey(spelling))),
    )) {
      index.set(key, [...(index.get(key) ?? []), unit.symbol]);
    }
  }
  return index;
}

/** A key without capitals and gaps. */
function folded(key: string): string {
  return key.toLowerCase().replace(/[·.-]/g, '');
}

function symbolsOf(kind: Kind): string[] {
  const symbols = UNITS.filter((unit) => unit.kinds.includes(kind)).map((unit) => unit.symbol);
  const { commonest } = kindRow(kind);
  return commonest === undefined ? symbols : [commonest, ...symbols.filter((symbol) => symbol !== commonest)];
}

/** The units of which a text is a spelling; more than one where the kind that is due must decide. */
export function unitsSpelt(text: string): readonly Unit[] {
  return bySpelling.get(text) ?? bySpelling.get(unitKey(text)) ?? [];
}

/** The unit with a canonical symbol, or `undefined`. */
export function unitOf(symbol: string): Unit | undefined {
  return bySymbol.get(symbol);
}

/** The unit with a canonical symbol that is known to exist, such as that of a `Quantity`. */
export function knownUnit(symbol: string): Unit {
  const unit = bySymbol.get(symbol);
  if (unit === undefined) throw new RangeError(`No unit has the symbol ${symbol}.`);
  return unit;
}

/** What there is to know about a kind, with the units that fit it, commonest first. */
export function kindInfo(kind: Kind): KindInfo {
  const { title, symbol, siUnit, ucum, about } = kindRow(kind);
  const units = unitsByKind.get(kind) ?? [];
  return Object.freeze({
    kind,
    title,
    ...(symbol === undefined ? {} : { symbol }),
    siUnit,
    ucum,
    about,
    units,
  });
}

/** Canonical symbols of the units that fit a kind, commonest first. */
export function unitsFor(kind: Kind): readonly string[] {
  return unitsByKind.get(kind) ?? [];
}

/** Every spelling with its unit, for telling slips of the pen. */
const spellings: readonly { readonly key: string; readonly unit: Unit }[] = [...bySpelling].flatMap(
  ([key, units]) => units.map((unit) => ({ key, unit })),
);

const LONGEST_NEAR = 24;
const MOST_OFFERED = 4;
const nearCache = new Map<string, readonly string[]>();
const NEAR_CACHE_SIZE = 512;

/**
 * Symbols of known units near to an unknown spelling: those that differ only in capitals and gaps, or else
 * those a slip of the pen away. Of these, the ones that fit the kind that is due; if none is near, the
 * commonest that fit.
 */
export function nearestUnits(text: string, kind: Kind | undefined): readonly string[] {
  const key = unitKey(text).slice(0, LONGEST_NEAR);
  const cacheKey = `${key}\u0000${kind ?? ''}`;
  const known = nearCache.get(cacheKey);
  if (known !== undefined) return known;
  const near = findNearest(key, kind);
  if (nearCache.size >= NEAR_CACHE_SIZE) nearCache.clear();
  nearCache.set(cacheKey, near);
  return near;
}

function findNearest(key: string, kind: Kind | undefined): readonly string[] {
  const fits = (symbol: string) => kind === undefined || unitOf(symbol)?.kinds.includes(kind) === true;
  const joined = unitsSpelt(key.replace(/·/g, '')).map((unit) => unit.symbol);
  if (joined.some(fits)) return joined.filter(fits);
  const sameLetters = (byFoldedCase.get(folded(key)) ?? []).filter(fits);
  if (sameLetters.length > 0) return sameLetters;
  const meant = MEANT.get(key.toLowerCase());
  if (meant !== undefined && fits(meant)) return [meant];
  const slips = slipsFrom(key, kind !== undefined).filter(fits);
  if (slips.length > 0) return slips.slice(0, MOST_OFFERED);
  return kind === undefined ? [] : unitsFor(kind).slice(0, MOST_OFFERED);
}

/** What people write where there is a unit for it, and no slip of the pen leads there. */
const MEANT: ReadonlyMap<string, string> = new Map([
  ['celsius', '°C'],
  ['fahrenheit', '°F'],
  ['oc', '°C'],
  ['c°', '°C'],
  ['of', '°F'],
  ['u/min', 'rpm'],
  ['std', 'h'],
  ['lit', 'L'],
  ...['ea', 'each', 'x', 'nos', 'no', 'off', 'stk', 'stück', 'times', 'units'].map(
    (word) => [word, 'pcs'] as const,
  ),
]);

/**
 * Units with a spelling one letter off, or two of a long one; nearest first. Among few letters each is near to
 * many, so that without a kind that is due only words that begin alike are told of.
 */
function slipsFrom(key: string, isKindDue: boolean): string[] {
  if (key.length < (isKindDue ? 2 : 3)) return [];
  const most = key.length > 5 ? 2 : 1;
  const begins = (spelling: string) =>
    isKindDue ||
    (spelling[0]?.toLowerCase() === key[0]?.toLowerCase() &&
      (key.length > 3 ? spelling.length >= 3 : spelling.length !== key.length));
  const found = spellings
    .filter((spelling) => Math.abs(spelling.key.length - key.length) <= most && spelling.key.length > 1)
    .filter(({ key: spelling }) => begins(spelling))
    .map(({ key: spelling, unit }) => ({ symbol: unit.symbol, off: distance(key, spelling) }))
    .filter(({ off }) => off <= most);
  return [...new Set(found.sort((a, b) => a.off - b.off).map(({ symbol }) => symbol))];
}

/** What an ambiguous spelling may mean, given the kind that is due; `undefined` where it is plain. */
export function ambiguityOf(text: string, kind: Kind | undefined): Ambiguity | undefined {
  const ambiguity = AMBIGUOUS.get(unitKey(text));
  if (ambiguity === undefined) return undefined;
  if (ambiguity.kinds !== undefined)
    return kind !== undefined && ambiguity.kinds.includes(kind) ? ambiguity : undefined;
  const settled = ambiguity.settledByKind === true && kind !== undefined;
  return settled && unitsSpelt(text).some((unit) => unit.kinds.includes(kind)) ? undefined : ambiguity;
}

/** Area in m² of a round conductor of an AWG number (0000 is -3), by the formula of ASTM B258. */
function awgArea(gauge: number): number {
  const diameter = 0.005 * 0.0254 * 92 ** ((36 - gauge) / 39);
  return (Math.PI * diameter ** 2) / 4;
}

/** A value in a unit, in the SI unit of a kind it fits. A temperature difference has no zero to shift. */
export function toSi(value: number, unit: Unit, kind: Kind): number {
  if (unit.symbol === 'AWG') return awgArea(value);
  return kind === 'temperature' ? value * unit.factor + unit.offset : value * unit.factor;
}

/** The inverse of `toSi`. AWG numbers are names of sizes and are not reckoned back: NaN. */
export function fromSiValue(si: number, unit: Unit, kind: Kind): number {
  return (kind === 'temperature' ? si - unit.offset : si) / unit.factor;
}
