import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { nearest } from '../../check/nearest.js';
import { nameFrom, photoFile } from '../../draft/complete.js';
import {
  type Draft,
  type DraftPart,
  type DraftReading,
  type DraftTest,
  emptyDraft,
} from '../../draft/draft.js';
import { oneLine } from '../../draft/yaml.js';
import { orList } from '../../quantity/problem.js';
import type { Reckoning } from '../../reckon/model.js';
import type { Given } from '../command.js';
import type { Effects } from '../effects.js';
import { Refusal } from '../refusal.js';
import { wrongTitle } from './guide.js';
import type { Begun } from './kept.js';
import { MOVES, pathOf, wrongPicture } from './steps-after.js';

/** What the options of `ribband new` say. Values are left as they are; the checker reads them. */

/** @throws Refusal for what cannot be read, and for a name that the book does not have. */
export async function fromOptions(
  given: Given,
  date: string,
  reckoning: Reckoning,
  effects: Pick<Effects, 'cwd' | 'input'>,
): Promise<Begun> {
  const title = given.value('title');
  const wrong = title === null ? null : wrongTitle(title);
  if (wrong !== null) throw new Refusal(`\`--title\`: ${wrong}`);
  const closes = unique(given.values('close'));
  for (const item of closes) checkItem(item, reckoning);
  const photos = photosOf(given, date, effects.cwd);
  const answers: Draft = {
    ...emptyDraft(date),
    title: title === null ? '' : oneLine(title),
    hours: given.values('hours').map(hoursOf),
    meters: given.values('meter').map(meterOf),
    measurements: [],
    tests: given.values('test').map((written) => testOf(written, reckoning)),
    parts: given.values('part').map(partOf),
    opens: opensOf(given, reckoning),
    closes,
    done: unique(given.values('done').map((name) => called('done', name, upkeepNames(reckoning)))),
    photos: photos.map(({ file, alt }) => ({ file, alt })),
    prose: await proseOf(given, effects),
  };
  const named = unique(given.values('system').map((system) => systemNamed(system, reckoning)));
  const measurements = given.values('reading').map((written) => readingOf(written, named, reckoning));
  const whole = { ...answers, measurements };
  const draft = { ...whole, systems: named.length > 0 ? named : systemsOf(whole, reckoning) };
  const pictures = Object.fromEntries(photos.map(({ file, path }) => [file, path]));
  const day = given.has('date') ? ['day'] : [];
  return { draft, answered: [...day, ...answeredBy(draft)], picked: [], pictures };
}

/** Questions that need not be asked any more. */
function answeredBy({ title, systems, closes, done, parts, opens, photos, prose }: Draft): readonly string[] {
  const all: readonly (readonly [boolean, readonly string[]])[] = [
    [title !== '', ['title']],
    [systems.length > 0, ['systems']],
    [closes.length > 0, systems.map((id) => `items:${id}`)],
    [done.length > 0, systems.map((id) => `upkeep:${id}`)],
    [parts.length > 0, ['part:none']],
    [opens.length > 0, ['open:none']],
    [photos.length > 0, ['photo:none']],
    [prose !== '', ['prose']],
  ];
  return all.flatMap(([isSaid, keys]) => (isSaid ? keys : []));
}

/** The systems of all that is named, else the only one that there is. */
function systemsOf(draft: Draft, reckoning: Reckoning): readonly string[] {
  const refs = [
    ...draft.measurements.flatMap(({ point }) => point ?? []),
    ...draft.tests.map(({ test }) => test),
    ...draft.meters.map(({ meter }) => meter),
    ...draft.done,
  ].map((ref) => ref.slice(0, ref.indexOf('.')));
  const ofItems = draft.closes.map((item) => reckoning.items.get(item)?.opened.system ?? '');
  const ofParts = draft.parts.map(({ part, system }) => system ?? reckoning.parts.get(part)?.system ?? '');
  const told = [...draft.opens.map(({ system }) => system ?? ''), ...draft.hours.map(({ on }) => on ?? '')];
  const implied = unique([...refs, ...ofItems, ...ofParts, ...told]).filter((id) =>
    reckoning.book.systems.has(id),
  );
  const only = reckoning.book.systems.size === 1 ? [...reckoning.book.systems.keys()] : [];
  return implied.length > 0 ? implied : only;
}

/** The short name of a system that is named by it or by its title. @throws Refusal where there is none, or are two. */
function systemNamed(system: string, { book }: Reckoning): string {
  if (book.systems.has(system)) return system;
  const plain = (text: string) => text.normalize('NFC').trim().toLowerCase();
  const titled = [...book.systems.values()].filter(({ title }) => plain(title) === plain(system));
  const [only, ...others] = titled.map(({ id }) => id);
  if (only !== undefined && others.length === 0) return only;
  if (only !== undefined)
    throw new Refusal(
      `Several systems are called \`${system}\`.`,
      `Say which: ${[only, ...others].join(', ')}.`,
    );
  const near = nearest(system, book.systems.keys());
  throw new Refusal(
    `There is no system \`${system}\`.`,
    near === null ? `There are: ${[...book.systems.keys()].join(', ')}.` : `Did you mean \`${near}\`?`,
  );
}

function checkItem(item: string, reckoning: Reckoning): void {
  const state = reckoning.items.get(item);
  if (state?.closed != null)
    throw new Refusal(`\`${item}\` is done already: ${state.closed.entry} closes it.`);
  if (state !== undefined) return;
  const open = [...reckoning.items.values()].filter(({ status }) => status !== 'done');
  const near = nearest(
    item,
    open.map(({ opened }) => opened.id),
  );
  throw new Refusal(
    `There was no open item \`${item}\` on ${reckoning.asOf}.`,
    near === null ? null : `Did you mean \`${near}\`?`,
  );
}

/** What stands before the first sign, and behind it. @throws Refusal where one of them is empty. */
function split(written: string, sign: '=' | ':', option: string, example: string): readonly [string, string] {
  const at = written.indexOf(sign);
  const before = written.slice(0, Math.max(0, at)).trim();
  const behind = written.slice(at + 1).trim();
  if (at > 0 && before !== '' && behind !== '') return [before, behind];
  throw new Refusal(`\`--${option}\` is written \`--${option} "${example}"\`, not \`${written}\`.`);
}

/** Fields behind a value: `, with=dmm, ambient=19 °C, note=…`; a note goes on to the end. */
function fieldsOf(written: string): { readonly value: string; readonly fields: Map<string, string> } {
  const noteAt = /,\s*note=/.exec(written);
  const head = noteAt === null ? written : written.slice(0, noteAt.index);
  const [value = '', ...rest] = head.split(/,\s*(?=[a-z][a-z0-9-]*=)/);
  const fields = new Map(
    rest.map((field) => [field.slice(0, field.indexOf('=')), field.slice(field.indexOf('=') + 1).trim()]),
  );
  if (noteAt !== null) fields.set('note', oneLine(written.slice(noteAt.index + noteAt[0].length)));
  return { value: value.trim(), fields };
}

/**
 * What is told behind a value in a field that there is not would be missing from the entry without a word.
 *
 * @throws Refusal for such a field
 */
function refuseOthers(option: string, fields: ReadonlyMap<string, string>, known: readonly string[]): void {
  const other = [...fields.keys()].find((key) => !known.includes(key));
  if (other === undefined) return;
  const near = nearest(other, known);
  throw new Refusal(
    `\`--${option}\` knows no \`${other}\`.`,
    near === null
      ? `Behind the value goes ${orList(known.map((key) => `\`${key}\``))}; all else is written into the file.`
      : `Did you mean \`${near}\`?`,
  );
}

const REF = /^[a-z0-9]+(?:-[a-z0-9]+)*\.[a-z0-9]+(?:-[a-z0-9]+)*$/;

/**
 * A reading of a point, or of something in plain words. Where systems are named, a point of theirs may be called by
 * its name or title alone: taken for plain words, it would silently be missing from the point.
 */
function readingOf(written: string, systems: readonly string[], reckoning: Reckoning): DraftReading {
  const [name, behind] = split(written, '=', 'reading', 'house-dc.capacity=318 ± 6 Ah');
  const { value, fields } = fieldsOf(behind);
  const told = provenanceOf(fields);
  const system = fields.get('system');
  const point = REF.test(name) ? name : pointCalled(name, systems, reckoning);
  return point !== null
    ? { point, value, ...told }
    : { what: name, value, ...(system === undefined ? {} : { system }), ...told };
}

/** Something of a system, by its whole name, and what it is called. */
interface Named {
  readonly ref: string;
  readonly title: string;
}

/** The whole name of what is called so, by its name alone or its title. @throws Refusal where several are. */
function onlyCalled(option: string, name: string, things: readonly Named[]): string | null {
  const found = things.filter(
    ({ ref, title }) =>
      ref.slice(ref.indexOf('.') + 1) === name || title.toLowerCase() === name.trim().toLowerCase(),
  );
  const [first, ...others] = found.map(({ ref }) => ref);
  if (others.length > 0)
    throw new Refusal(
      `\`--${option}\`: \`${name}\` may be ${[first, ...others].map((ref) => `\`${ref}\``).join(' or ')}; say which.`,
    );
  return first ?? null;
}

/** The same where nothing but such a name will do; whole names are left for the checker. */
function called(option: string, name: string, things: readonly Named[]): string {
  if (REF.test(name)) return name;
  const ref = onlyCalled(option, name, things);
  if (ref !== null) return ref;
  const near = nearest(
    name,
    things.flatMap((thing) => [thing.ref, thing.title]),
  );
  const known = things.map((thing) => thing.ref);
  throw new Refusal(
    `\`--${option}\`: nothing is called \`${name}\`.`,
    near === null
      ? `There are: ${known.length === 0 ? 'none yet' : known.join(', ')}.`
      : `Did you mean \`${near}\`?`,
  );
}

function upkeepNames({ upkeep }: Reckoning): readonly Named[] {
  return [...upkeep].map(([ref, state]) => ({ ref, title: state.upkeep.what }));
}

function testNames({ tests }: Reckoning): readonly Named[] {
  return [...tests].map(([ref, state]) => ({ ref, title: state.test.title }));
}

function pointCalled(name: string, systems: readonly string[], { book }: Reckoning): string | null {
  const points = systems.flatMap((id) => [...(book.systems.get(id)?.points.values() ?? [])]);
  return onlyCalled('reading', name, points);
}

/** `with`, `by` and `note` are fields of the reading; every other name is a condition. */
function provenanceOf(fields: ReadonlyMap<string, string>): Omit<DraftReading, 'value'> {
  const own = [...fields].filter(([key]) => ['with', 'by', 'note'].includes(key));
  const under = [...fields].filter(([key]) => !['with', 'by', 'note', 'system'].includes(key));
  return {
    ...Object.fromEntries(own),
    ...(under.length === 0 ? {} : { under: Object.fromEntries(under) }),
  };
}

function testOf(written: string, reckoning: Reckoning): DraftTest {
  const example = 'house-dc.capacity-test: capacity=318 Ah, end-voltage=10.5 V';
  const [name, behind] = split(written, ':', 'test', example);
  const test = called('test', name, testNames(reckoning));
  const { value, fields } = fieldsOf(behind);
  const [first, reading] = split(value, '=', 'test', example);
  const readings: [string, string][] = [[first, reading]];
  const own: [string, string][] = [];
  for (const pair of fields) (['with', 'by', 'note'].includes(pair[0]) ? own : readings).push(pair);
  return { test, readings: Object.fromEntries(readings), ...Object.fromEntries(own) };
}

function hoursOf(written: string): Draft['hours'][number] {
  const [by, behind] = split(written, '=', 'hours', 'owner=3.5 h');
  const { value, fields } = fieldsOf(behind);
  refuseOthers('hours', fields, ['on']);
  const on = fields.get('on');
  return { by, spent: value, ...(on === undefined ? {} : { on }) };
}

function meterOf(written: string): Draft['meters'][number] {
  const [meter, behind] = split(written, '=', 'meter', 'engine.hours=1243.6 h');
  const mark = /,\s*(replaced|wrapped)$/.exec(behind);
  const reads = mark === null ? behind : behind.slice(0, mark.index).trim();
  return { meter, reads, ...(mark === null ? {} : { [mark[1] as 'replaced']: true as const }) };
}

const PART_FIELDS = ['what', 'system', 'cost', 'due', 'serial', 'mass', 'note'] as const;
const OPEN_FIELDS = ['system', 'size', 'by'] as const;

/** What an answer rests on: one name, or several with blanks or commas between. */
function reliance(fields: ReadonlyMap<string, string>): { readonly 'rests-on'?: readonly string[] } {
  const names = (fields.get('rests-on') ?? '').split(/[\s,]+/).filter((name) => name !== '');
  return names.length === 0 ? {} : { 'rests-on': names };
}

function partOf(written: string): DraftPart {
  const [part, behind] = split(written, '=', 'part', 'oil-filter=fitted, what=oil filter, cost=18.00 EUR');
  const { value, fields } = fieldsOf(behind);
  const moves = MOVES.map(([known]) => known);
  const move = moves.find((known) => known === value);
  if (move === undefined) throw new Refusal(`\`--part\`: a part is ${moves.join(', ')}; not \`${value}\`.`);
  refuseOthers('part', fields, [...PART_FIELDS, 'from', 'rests-on']);
  const supplier = fields.get('from');
  const told = PART_FIELDS.flatMap((key) => {
    const said = fields.get(key);
    return said === undefined ? [] : [[key, said] as const];
  });
  return {
    part,
    move,
    ...Object.fromEntries(told),
    ...(supplier === undefined ? {} : { 'from-supplier': supplier }),
    ...reliance(fields),
  };
}

function opensOf(given: Given, reckoning: Reckoning): Draft['opens'] {
  const taken = [...reckoning.items.keys()];
  return given.values('open').map((written) => {
    const { value, fields } = fieldsOf(written);
    const item = nameFrom(value, taken);
    taken.push(item);
    refuseOthers('open', fields, [...OPEN_FIELDS, 'rests-on']);
    const told = OPEN_FIELDS.flatMap((key) => {
      const said = fields.get(key);
      return said === undefined ? [] : [[key, said] as const];
    });
    return { item, what: oneLine(value), ...Object.fromEntries(told), ...reliance(fields) };
  });
}

function photosOf(given: Given, date: string, cwd: string) {
  const taken: string[] = [];
  return given.values('photo').map((written) => {
    const [typed, alt] = split(written, '=', 'photo', 'label.jpg=Label of the old bank');
    const path = pathOf(typed, cwd);
    const wrong = wrongPicture(path);
    if (wrong !== null) throw new Refusal(`\`--photo\`: \`${typed}\`: ${wrong}`);
    const file = photoFile(date, alt, taken);
    taken.push(file);
    return { file, path, alt: oneLine(alt) };
  });
}

async function proseOf(given: Given, { cwd, input }: Pick<Effects, 'cwd' | 'input'>): Promise<string> {
  const text = given.value('text');
  const file = given.value('text-file');
  if (text !== null && file !== null) throw new Refusal('`--text` and `--text-file` do not go together.');
  if (file === null) return text ?? '';
  try {
    return file === '-' ? await input() : readFileSync(resolve(cwd, file), 'utf8');
  } catch {
    throw new Refusal(`\`--text-file\`: \`${file}\` cannot be read.`);
  }
}

function unique(names: readonly string[]): readonly string[] {
  return [...new Set(names)];
}
