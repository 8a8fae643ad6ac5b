import { asYaml } from './as-yaml.js';
import * as m from './messages.js';
import type { Pointing, Said } from './problem.js';

/**
 * Slips of writing that YAML reads as something else without a word: a comma in braces that ends a value, a
 * colon without a blank behind it, a list without hyphens. Each is told by what the reader made of it.
 */

export type Group = Readonly<Record<string, unknown>>;

/** A key that is the rest of a value which a comma has cut in two. */
export interface CutValue {
  readonly said: Said;
  /** All keys that are such rests of the same value. */
  readonly rests: readonly string[];
}

/**
 * The value that a comma in braces has cut into two or more: `{ value: 12,8 V }` is read as `value: 12` and a
 * field `8 V` without a value.
 *
 * @param unknown keys that are no fields here, as the group has them.
 */
export function cutValue(group: Group, unknown: readonly string[]): CutValue | null {
  const rests = unknown.filter((key) => group[key] === null && !key.includes(':'));
  const [first] = rests;
  if (first === undefined) return null;
  const before = valueBefore(group, first);
  if (typeof before === 'number' || (typeof before === 'string' && /\d$/.test(before) && /^\d/.test(first))) {
    if (!/^\d/.test(first)) return null;
    return { said: m.cutNumber(`${before},${first}`, numbersMeant(String(before), first)), rests: [first] };
  }
  const curly = typeof before === 'string' ? curlyText([before, ...rests]) : null;
  if (curly !== null) return { said: m.curlyQuotes(first, asYaml(curly.text)), rests: curly.rests };
  // Two words or more are no field that somebody has misspelt.
  if (typeof before !== 'string' || !rests.some((rest) => /\s/.test(rest))) return null;
  return { said: m.cutText(first, asYaml([before, ...rests].join(', '))), rests };
}

/** The text that curly quotes were meant to hold together, from the pieces between its commas. */
function curlyText(
  pieces: readonly string[],
): { readonly text: string; readonly rests: readonly string[] } | null {
  if (!/^[“”„«]/.test(pieces[0] ?? '')) return null;
  const last = pieces.findIndex((piece, at) => at > 0 && /[“”»]$/.test(piece));
  if (last < 0) return null;
  const text = pieces.slice(0, last + 1).join(', ');
  return { text: text.slice(1, -1), rests: pieces.slice(1, last + 1) };
}

/** What stands before a key. Keys that are whole numbers come first in a map, wherever they were written. */
function valueBefore(group: Group, key: string): unknown {
  const keys = Object.keys(group);
  if (!/^\d+$/.test(key)) return group[keys[keys.indexOf(key) - 1] ?? ''];
  return Object.values(group).findLast((value) => typeof value === 'number');
}

function numbersMeant(before: string, after: string): readonly string[] {
  const digits = /^\d+/.exec(after)?.[0] ?? '';
  const pointed = `${before}.${after}`;
  const joined = `${before}${after}`;
  if (digits.length !== 3 || before === '0') return [pointed];
  return after.startsWith(`${digits}.`) ? [joined] : [joined, pointed];
}

const UNPARTED = /^([A-Za-z][\w.-]*):(?! )\s*(\S.*)$/;

/** A field whose colon has no blank behind it, so that field and value are one text: `voltage:12.7 V`. */
export function unparted(text: string): { readonly said: Said; readonly pointing: Pointing } | null {
  const [, key = '', value = ''] = UNPARTED.exec(text) ?? [];
  if (key === '' || value.startsWith('//')) return null;
  const due = `${key}: ${value}`;
  return { said: m.blankMissing(due), pointing: { mend: { title: `Write \`${due}\``, text: due } } };
}

/** A name in the form that names have, from one in capitals, or with blanks or underscores. */
export function nameInForm(written: string): string {
  return written
    .trim()
    .toLowerCase()
    .replaceAll(/[_\s]+/g, '-');
}

/** The reading meant by `{ point: 12.7 V, with: meter }`, in which the point's name is missing. */
export function valueForPoint(group: Group): Said | null {
  const { point } = group;
  const isValue = typeof point === 'number' || (typeof point === 'string' && /^[-+]?[\d.]/.test(point));
  return isValue && !Object.hasOwn(group, 'value') ? m.valueForPoint(String(point)) : null;
}

/** What is said where a list is due and something else stands, and how to mend it where that is safe. */
export function noList(
  value: unknown,
  found: string,
  fits: (items: readonly unknown[]) => boolean,
  example: string | null,
): { readonly said: Said; readonly pointing: Pointing } {
  if (typeof value === 'string') {
    const items = value.split(',').map((item) => item.trim());
    const list = asYaml(items);
    if (fits(items))
      return { said: m.listDue(found, list), pointing: { mend: { title: `Write \`${list}\``, text: list } } };
  }
  if (typeof value === 'object' && value !== null) {
    const [first] = Object.entries(value);
    const isPlain = first !== undefined && (typeof first[1] !== 'object' || first[1] === null);
    if (isPlain) return { said: m.hyphenDue(`- ${first[0]}: ${asYaml(first[1] ?? '…')}`), pointing: {} };
  }
  return { said: m.wrongType('a list', found, example), pointing: {} };
}
