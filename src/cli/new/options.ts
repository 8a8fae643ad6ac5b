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
    tests: given.values('test').map(testOf),
    parts: given.values('part').map(partOf),
    opens: opensOf(given, reckoning),
    closes,
    done: unique(given.values('done')),
    photos: photos.map(({ file, alt }) => ({ file, alt })),
    prose: await proseOf(given, effects),
  };
  const named = unique(given.values('system').map((system) => systemNamed(system, reckoning)));
  const measurements = given.values('reading').map((written) => readingOf(written, named, reckoning));
  const whole = { ...answers, measurements };
  const draft = { ...whole, systems: named.length > 0 ? named : systemsOf(whole, reckoning) };
  const pictures = Object.fromEntries(photos.map(({ file, path }) => [file, path]));
  return { draft, answered: answeredBy(draft), picked: [], pictures };
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
  const implied = unique([...refs, ...ofItems]).filter((id) => reckoning.book.systems.has(id));
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

/** @throws Refusal where several points are called so. */
function pointCalled(name: string, systems: readonly string[], { book }: Reckoning): string | null {
  const isIt = ({ ref, title }: { readonly ref: string; readonly title: string }) =>
    ref.slice(ref.indexOf('.') + 1) === name || title.toLowerCase() === name.toLowerCase();
  const points = systems.flatMap((id) => [...(book.systems.get(id)?.points.values() ?? [])]);
  const found = points.filter(isIt);
  const [first, ...others] = found.map(({ ref }) => ref);
  if (others.length > 0)
    throw new Refusal(
      `\`--reading\`: \`${name}\` may be ${[first, ...others].map((ref) => `\`${ref}\``).join(' or ')}; say which.`,
    );
  return first ?? null;
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

function testOf(written: string): DraftTest {
  const example = 'house-dc.capacity-test: capacity=318 Ah, end-voltage=10.5 V';
  const [test, behind] = split(written, ':', 'test', example);
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
  const on = fields.get('on');
  return { by, spent: value, ...(on === undefined ? {} : { on }) };
}

function meterOf(written: string): Draft['meters'][number] {
  const [meter, behind] = split(written, '=', 'meter', 'engine.hours=1243.6 h');
  const mark = /,\s*(replaced|wrapped)$/.exec(behind);
  const reads = mark === null ? behind : behind.slice(0, mark.index).trim();
  return { meter, reads, ...(mark === null ? {} : { [mark[1] as 'replaced']: true as const }) };
}

const PART_FIELDS = ['what', 'system', 'cost', 'due', 'serial', 'note'] as const;

function partOf(written: string): DraftPart {
  const [part, behind] = split(written, '=', 'part', 'oil-filter=fitted, what=oil filter, cost=18.00 EUR');
  const { value, fields } = fieldsOf(behind);
  const moves = MOVES.map(([known]) => known);
  const move = moves.find((known) => known === value);
  if (move === undefined) throw new Refusal(`\`--part\`: a part is ${moves.join(', ')}; not \`${value}\`.`);
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
  };
}

function opensOf(given: Given, reckoning: Reckoning): Draft['opens'] {
  const taken = [...reckoning.items.keys()];
  return given.values('open').map((written) => {
    const { value, fields } = fieldsOf(written);
    const item = nameFrom(value, taken);
    taken.push(item);
    const told = [...fields].filter(([key]) => ['system', 'size', 'by'].includes(key));
    return { item, what: oneLine(value), ...Object.fromEntries(told) };
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
