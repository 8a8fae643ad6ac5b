import type { InlineReading } from '../../schemas/entry.js';
import type { WrittenAttribute, WrittenReading } from '../read/inline-reading.js';
import type { PathPart, Stretch } from '../read/thorough.js';
import * as m from './messages.js';
import type { Place, Reading } from './model.js';
import type { Report } from './problem.js';

/**
 * Readings told in the prose of an entry: `:reading[318 ± 6 Ah]{point="house-dc.capacity" with="clamp-meter"}`.
 * They are brought into the form of the long readings of front matter, and from then on checked and counted
 * like those. The only difference is the path of their places, which begins with a step that no field can have.
 */

/** First step of the path of a reading told in the prose; the second is its number there, from nought. */
export const TOLD = ':reading';

/** Attributes that begin so are conditions: `under-ambient="19 °C"`. */
const UNDER = 'under-';

/** Whether a reading is told in the prose. */
export function isInline(reading: Pick<Reading, 'place'>): boolean {
  return reading.place.path[0] === TOLD;
}

/** Whether a prose may tell readings at all: a cheap look before parsing it. */
export function mayTell(body: string): boolean {
  return body.includes(':reading[');
}

/** The readings that a prose tells, as written, in their order. */
export async function toldIn(body: string): Promise<readonly WrittenReading[]> {
  if (!mayTell(body)) return [];
  const { inlineReadingsIn } = await import('../read/prose-readings.js');
  return inlineReadingsIn(body);
}

/**
 * A reading told in the prose as the long form of front matter has it. Whether it fits is for the schema to say.
 *
 * @param path where it stands, for an attribute that is there twice.
 */
export function asMeasurement(
  { value, attributes }: WrittenReading,
  path: Place['path'],
  report: Report,
): InlineReading {
  const fields: Record<string, unknown> = { value: oneLine(value.text) };
  const under: Record<string, unknown> = {};
  const seen = new Set(['value']);
  for (const { name, value: written } of attributes) {
    if (seen.has(name.text)) report(m.duplicateKey(name.text), pathOf(name.text, path), { part: 'key' });
    seen.add(name.text);
    if (isCondition(name.text)) define(under, name.text.slice(UNDER.length), oneLine(written.text));
    else define(fields, name.text, oneLine(written.text));
  }
  if (Object.keys(under).length > 0) fields['under'] = under;
  return fields as InlineReading;
}

/** Sets a field whatever its name is: `__proto__` would else set something else. */
function define(fields: Record<string, unknown>, name: string, value: string): void {
  Object.defineProperty(fields, name, { value, enumerable: true, configurable: true, writable: true });
}

function isCondition(name: string): boolean {
  return name.startsWith(UNDER) && name.length > UNDER.length;
}

function pathOf(attribute: string, path: Place['path']): Place['path'] {
  return isCondition(attribute) ? [...path, 'under', attribute.slice(UNDER.length)] : [...path, attribute];
}

/** Prose is wrapped where the line is full, a value too. */
function oneLine(text: string): string {
  return text.replaceAll(/\s+/g, ' ').trim();
}

/**
 * Where something of a reading told in the prose stands.
 *
 * @param told all of them, in their order; `start` is where the prose begins in the text of its file.
 */
export function locateTold(
  told: readonly WrittenReading[],
  start: number,
  path: Place['path'],
  part: PathPart,
): Stretch {
  const [, index, field, condition] = path;
  const reading = told[Number(index)];
  if (reading === undefined) return { offset: start, length: 0 };
  const at = ({ text, offset }: { readonly text: string; readonly offset: number }): Stretch => {
    const gap = text.length - text.trimStart().length;
    return { offset: start + offset + gap, length: text.trim().length };
  };
  const value = at(reading.value);
  // Pointed at whole, it is marked by its name: the value and the attributes are told of by themselves.
  const name: Stretch = { offset: start + reading.offset, length: TOLD.length };
  if (field === 'value' && part === 'value') return value.length > 0 ? value : name;
  const found = reading.attributes.findLast((attribute) => isAt(attribute, field, condition));
  if (found === undefined) return name;
  return part === 'key' || found.value.text.trim() === '' ? at(found.name) : at(found.value);
}

function isAt(
  { name }: WrittenAttribute,
  field: string | number | undefined,
  condition: string | number | undefined,
): boolean {
  if (field !== 'under') return name.text === field;
  return condition === undefined ? isCondition(name.text) : name.text === `${UNDER}${condition}`;
}
