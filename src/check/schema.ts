import { z } from 'zod';
import { bookSchema } from '../../schemas/book.js';
import { dateSchema, idSchema, refSchema } from '../../schemas/common.js';
import {
  entrySchema,
  type InlineReading,
  inlineReadingSchema,
  longReadingSchema,
} from '../../schemas/entry.js';
import { powerPlanSchema } from '../../schemas/power-plan.js';
import { systemSchema } from '../../schemas/system.js';
import { takeMapSchema } from '../../schemas/take-map.js';
import { weightsPlanSchema } from '../../schemas/weights-plan.js';
import type { Role } from '../read/folder.js';
import { dayMeant, daysMeant } from './day-meant.js';
import { cutValue, nameInForm, noList, unparted, valueForPoint } from './form-slips.js';
import { TOLD } from './inline.js';
import * as m from './messages.js';
import { nearest, sameButForm } from './nearest.js';
import { LONG_FORM, type Pointing, QUOTED, type Report, type Said } from './problem.js';
import {
  declaredAt,
  exampleAt,
  exampleOf,
  keysAt,
  keysOf,
  type Path,
  schemaAt,
  valueAt,
} from './schema-walk.js';

/** Holds what was written against the schema of its file, and says in the trade's words what does not fit. */

/** The schema of each sort of file. */
export const SCHEMAS: Readonly<Record<Role, z.ZodType>> = {
  book: bookSchema,
  system: systemSchema,
  entry: entrySchema,
  'power-plan': powerPlanSchema,
  'weights-plan': weightsPlanSchema,
};

type Issue = z.core.$ZodIssue;

/** Most problems that are told of one file: past that, one slip is being told over and over. */
const MAX_ISSUES = 40;

/** @returns whether the data fits; if not, everything that does not has been reported. */
export function fitsSchema(role: Role, data: unknown, report: Report): boolean {
  return fits(SCHEMAS[role], data, report);
}

const toldSchema = z.strictObject({ [TOLD]: z.array(inlineReadingSchema) });

/** Whether readings told in the prose fit, as `fitsSchema` tells of front matter. */
export function fitsTold(told: readonly InlineReading[], report: Report): boolean {
  return fits(toldSchema, { [TOLD]: told }, report);
}

/** Whether the map of a table fits, told in the same words. */
export function fitsTakeMap(data: unknown, report: Report): boolean {
  return fits(takeMapSchema, data, report);
}

function fits(schema: z.ZodType, data: unknown, report: Report): boolean {
  const hidden = hasProto(data) ? protoKeys(data) : [];
  const result = schema.safeParse(data);
  if (result.success && hidden.length === 0) return true;
  const context: Context = { data, schema, report };
  for (const path of hidden.slice(0, MAX_ISSUES)) tellUnknownKey('__proto__', path, context);
  for (const issue of (result.error?.issues ?? []).slice(0, MAX_ISSUES)) tell(issue, [], context);
  return false;
}

/**
 * Whether a field is called `__proto__`. zod passes over it in a map of names, unchecked, though it is there for
 * whoever reads the map next.
 */
function hasProto(value: unknown): boolean {
  if (typeof value !== 'object' || value === null) return false;
  return Object.hasOwn(value, '__proto__') || Object.values(value).some(hasProto);
}

function protoKeys(data: unknown): readonly Path[] {
  const found: Path[] = [];
  const look = (value: unknown, path: Path): void => {
    if (typeof value !== 'object' || value === null) return;
    if (Object.hasOwn(value, '__proto__')) found.push(path);
    if (Array.isArray(value)) for (const [index, item] of value.entries()) look(item, [...path, index]);
    else for (const [key, item] of Object.entries(value)) look(item, [...path, key]);
  };
  look(data, []);
  return found;
}

interface Context {
  readonly data: unknown;
  readonly schema: z.ZodType;
  readonly report: Report;
}

function tell(issue: Issue, above: Path, context: Context): void {
  const path: Path = [
    ...above,
    ...issue.path.map((step) => (typeof step === 'symbol' ? String(step) : step)),
  ];
  const value = valueAt(context.data, path);
  if (issue.code === 'unrecognized_keys') {
    tellUnknownKeys(issue.keys, path, context);
  } else if (issue.code === 'invalid_key') {
    const message = issue.issues[0]?.message ?? issue.message;
    const said = nameSaid(String(path.at(-1)), isName, context) ?? m.badForm(message);
    context.report(said, path, { part: 'key' });
  } else if (value === undefined && path.length > 0) {
    tellMissing(path, context);
  } else if (value === null) {
    tellEmpty(path, context);
  } else if (issue.code === 'invalid_union' && issue.errors.length > 0) {
    tellUnion(issue, path, value, context);
  } else if (issue.code === 'invalid_value') {
    tellNotAllowed(issue, path, value, context);
  } else if (issue.code === 'invalid_type') {
    tellType(issue, path, value, context);
  } else if (issue.code === 'too_small' && path.at(-1) === 'alt') {
    context.report(altMissing(path, context), path);
  } else if (issue.code === 'too_big' && issue.origin === 'string' && isUnsaid(issue)) {
    context.report(m.tooLong(Number(issue.maximum)), path);
  } else {
    const schema = schemaAt(context.schema, path, context.data);
    const fits = (name: string) => schema?.safeParse(name).success === true;
    const said = issue.code === 'invalid_format' ? nameSaid(value, fits, context) : null;
    context.report(said ?? formSaid(issue, value, schema), path, dateMend(value, schema));
  }
}

function isName(name: string): boolean {
  return idSchema.safeParse(name).success || refSchema.safeParse(name).success;
}

/** A name that only needs another form, or its system before it; null for all else. */
function nameSaid(value: unknown, fits: (name: string) => boolean, { data }: Context): Said | null {
  if (typeof value !== 'string') return null;
  const due = nameInForm(value);
  if (fits(due)) return due === value ? null : m.nameForm(due);
  const systems = isGroup(data) && Array.isArray(data['systems']) ? data['systems'].map(String) : [];
  const inFull = systems.slice(0, 4).map((system) => `${system}.${due}`);
  return !due.includes('.') && inFull.length > 0 && inFull.every(fits) ? m.systemBefore(inFull) : null;
}

/** A date in another form is put into the one that is due, where it can only mean one day. */
function dateMend(value: unknown, schema: z.ZodType | null): Pointing {
  const day = isDate(schema) ? dayMeant(String(value)) : null;
  return day === null ? {} : { mend: { title: `Write \`${day}\``, text: day } };
}

/** Of a date that can mean several days, which. */
function formSaid({ message }: Issue, value: unknown, schema: z.ZodType | null): Said {
  return isDate(schema) ? m.dateForm(message, daysMeant(String(value))) : m.badForm(message);
}

function isDate(schema: z.ZodType | null): boolean {
  return schema === dateSchema || schema?.meta()?.['x-unit'] === 'date';
}

/** Whether the schema leaves it to zod to say what is wrong, which zod does in a programmer's words. */
function isUnsaid(issue: Issue): boolean {
  return /^Invalid |^Too /.test(issue.message);
}

function tellUnknownKeys(keys: readonly string[], path: Path, context: Context): void {
  const group = valueAt(context.data, path);
  const known = keysAt(context.schema, path, context.data);
  const far = keys.filter((key) => key !== '__proto__' && nearest(key, known) === null);
  const cut = isGroup(group) ? cutValue(group, far) : null;
  if (cut !== null) context.report(cut.said, [...path, cut.rests[0] ?? ''], { part: 'key' });
  for (const key of keys.slice(0, MAX_ISSUES))
    if (key !== '__proto__' && cut?.rests.includes(key) !== true) tellUnknownKey(key, path, context);
}

function tellUnknownKey(key: string, path: Path, context: Context): void {
  const known = keysAt(context.schema, path, context.data);
  const joined = valueAt(context.data, [...path, key]) === null ? unparted(key) : null;
  if (joined !== null) {
    context.report(joined.said, [...path, key], { part: 'key', ...joined.pointing });
    return;
  }
  const near = nearest(key, known);
  const mend =
    near !== null && sameButForm(near, key) && valueAt(context.data, [...path, near]) === undefined;
  context.report(m.unknownKey(key, near, known), [...path, key], {
    part: 'key',
    ...(mend ? { mend: { title: `Write \`${near}\``, text: near } } : {}),
  });
}

function tellMissing(path: Path, context: Context): void {
  const field = String(path.at(-1));
  if (isMisspelt(field, path, context)) return;
  const example = exampleOf(declaredAt(context.schema, path, context.data));
  const said = field === 'alt' ? altMissing(path, context) : m.missingField(field, example);
  context.report(said, path.slice(0, -1));
}

/** Whether it stands there under a name so near to it that the name is told of already. */
function isMisspelt(field: string, path: Path, { data, schema }: Context): boolean {
  const group = valueAt(data, path.slice(0, -1));
  const known = keysAt(schema, path.slice(0, -1), data);
  return (
    isGroup(group) && Object.keys(group).some((key) => !known.includes(key) && nearest(key, known) === field)
  );
}

function altMissing(path: Path, context: Context): Said {
  const file = valueAt(context.data, [...path.slice(0, -1), 'file']);
  return m.photoAltMissing(typeof file === 'string' ? file : '');
}

function tellEmpty(path: Path, context: Context): void {
  const step = path.at(-1) ?? '';
  context.report(m.emptyValue(step), path, typeof step === 'number' ? {} : { part: 'key' });
}

function tellNotAllowed(
  issue: Issue & { code: 'invalid_value' },
  path: Path,
  value: unknown,
  context: Context,
): void {
  if (typeof value === 'object') {
    context.report(m.wrongType('a text', shapeOf(value), null), path);
    return;
  }
  const allowed = issue.values.map(String);
  const near = nearest(String(value), allowed);
  const mend = near !== null && sameButForm(near, String(value));
  context.report(
    m.notAllowed(String(value), allowed, near),
    path,
    mend ? { mend: { title: `Write \`${near}\``, text: near } } : {},
  );
}

const SHAPES: Readonly<Record<string, string>> = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  array: 'a list',
  tuple: 'a list',
  object: 'a group of fields',
  record: 'a group of fields',
};

function shapeOf(value: unknown): string {
  if (Array.isArray(value)) return 'a list';
  return SHAPES[typeof value] ?? 'this';
}

function isGroup(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function tellType(
  issue: Issue & { code: 'invalid_type' },
  path: Path,
  value: unknown,
  context: Context,
): void {
  const schema = schemaAt(context.schema, path, context.data);
  if (issue.expected === 'string' && (typeof value === 'number' || typeof value === 'boolean')) {
    // Quotes mend it only where the text in them would do; a date that is a number wants more than quotes.
    if (schema?.safeParse(String(value)).success === true)
      context.report(m.needsQuotes(shapeOf(value)), path, {
        mend: { title: 'Put it in quotes', text: QUOTED },
      });
    else context.report(formSaid(issue, value, schema), path, dateMend(value, schema));
  } else if (issue.expected === 'boolean') {
    tellNoBoolean(path, value, context);
  } else if (isUnsaid(issue) || typeof value === 'object') {
    tellShape(issue.expected, path, value, context);
  } else {
    context.report(m.badForm(issue.message), path);
  }
}

/** A list, a group of fields or a number is due, and something else is there. */
function tellShape(expected: string, path: Path, value: unknown, context: Context): void {
  const found = expected === 'int' && typeof value === 'number' ? `\`${value}\`` : shapeOf(value);
  const example = exampleAt(context.schema, path, context.data);
  const joined = expected === 'object' && typeof value === 'string' ? unparted(value) : null;
  if (joined !== null) {
    context.report(joined.said, path, joined.pointing);
  } else if (expected === 'array') {
    const schema = schemaAt(context.schema, path, context.data);
    const { said, pointing } = noList(
      value,
      found,
      (items) => schema?.safeParse(items).success === true,
      example,
    );
    context.report(said, path, pointing);
  } else context.report(m.wrongType(SHAPES[expected] ?? 'something else', found, example), path);
}

/** In YAML 1.2 `yes` and `no` are texts; where true or false is due, there is no doubt what they mean. */
function tellNoBoolean(path: Path, value: unknown, context: Context): void {
  const word = String(value).toLowerCase();
  const text = /^(?:yes|on|true)$/.test(word) ? 'true' : /^(?:no|off|false)$/.test(word) ? 'false' : null;
  const mend = text === null ? {} : { mend: { title: `Write \`${text}\``, text } };
  context.report(m.notBoolean(shapeOf(value)), path, mend);
}

/** Of several forms that a thing can have, the one that was most likely meant is the one with least to mend. */
function tellUnion(
  issue: Issue & { code: 'invalid_union' },
  path: Path,
  value: unknown,
  context: Context,
): void {
  const wrongForm = isGroup(value) && hasShortForm(issue) ? readingSaid(value, context) : null;
  if (wrongForm !== null) {
    context.report(wrongForm.said, [...path, ...(wrongForm.key === null ? [] : [wrongForm.key])], {
      part: 'key',
      ...wrongForm.pointing,
    });
    return;
  }
  const joined = typeof value === 'string' ? unparted(value) : null;
  if (joined !== null) {
    context.report(joined.said, path, joined.pointing);
    return;
  }
  const point = isGroup(value) ? shortFormPoint(issue, value) : null;
  if (point !== null) {
    const others = Object.keys(value as object).filter((key) => key !== point);
    // What stands beside the point says how the reading was taken, if the long form has such fields.
    const beside = Object.fromEntries(others.map((key) => [key, valueAt(value, [key])]));
    const fits = longReadingSchema.safeParse({ point, value: valueAt(value, [point]), ...beside });
    const at = { path: [...path, point], part: 'key' as const };
    context.report(m.shortFormFull(point), [...path, others[0] ?? point], {
      part: 'key',
      ...(fits.success ? { mend: { title: 'Write it in full', text: LONG_FORM, at } } : {}),
    });
    return;
  }
  const [best] = issue.errors
    .filter((issues) => !issues.some((inner) => inner.code === 'invalid_type' && inner.path.length === 0))
    .sort((a, b) => weigh(a) - weigh(b));
  if (isGroup(value) && best !== undefined) {
    for (const inner of best) tell(inner, path, context);
  } else if (isUnsaid(issue)) {
    const example = exampleAt(context.schema, path, context.data);
    context.report(m.wrongType(dueOf(issue), shapeOf(value), example), path);
  } else {
    context.report(m.badForm(issue.message), path);
  }
}

/** The point of a reading in the short form that has more fields than that form allows; null for all else. */
function shortFormPoint(
  issue: Issue & { code: 'invalid_union' },
  value: Readonly<Record<string, unknown>>,
): string | null {
  const keys = Object.keys(value);
  if (!hasShortForm(issue) || keys.includes('point') || keys.includes('what')) return null;
  return keys.find((key) => key.includes('.')) ?? null;
}

/** Whether a reading in its short form could stand here: a point as a key, and its value. */
function hasShortForm(issue: Issue & { code: 'invalid_union' }): boolean {
  return issue.errors.some((issues) => issues.some((inner) => inner.code === 'invalid_key'));
}

interface KeySaid {
  readonly said: Said;
  /** The key it is said of; null for the group. */
  readonly key: string | null;
  readonly pointing?: Pointing;
}

/** A reading with a slip in its writing; null where it is only another form than is due. */
function readingSaid(value: Record<string, unknown>, context: Context): KeySaid | null {
  const keys = Object.keys(value);
  const long = [...keysOf(longReadingSchema), 'what', 'quantity', 'system'];
  const cut = cutValue(
    value,
    keys.filter((key) => !long.includes(key)),
  );
  if (cut !== null) return { said: cut.said, key: cut.rests[0] ?? null };
  const [key = ''] = keys;
  const joined = value[key] === null ? unparted(key) : null;
  if (joined !== null) return { ...joined, key };
  const forPoint = valueForPoint(value);
  if (forPoint !== null) return { said: forPoint, key: 'point' };
  const name = keys.length === 1 && !long.includes(key) ? nameSaid(key, isRef, context) : null;
  return name === null ? null : { said: name, key };
}

function isRef(name: string): boolean {
  return refSchema.safeParse(name).success;
}

function dueOf(issue: Issue & { code: 'invalid_union' }): string {
  const expected = issue.errors
    .flat()
    .flatMap((inner) => (inner.code === 'invalid_type' ? [SHAPES[inner.expected] ?? inner.expected] : []));
  return [...new Set(expected)].join(' or ') || 'something else';
}

function weigh(issues: readonly Issue[]): number {
  let weight = 0;
  for (const issue of issues) {
    if (issue.code === 'unrecognized_keys') weight += 2 * issue.keys.length;
    else if (issue.code === 'invalid_key') weight += 3;
    else if (issue.code === 'invalid_type' && issue.path.length === 1) weight += 2;
    else weight += 1;
  }
  return weight;
}
