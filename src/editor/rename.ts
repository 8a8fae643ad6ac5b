import type { Diagnostic, Edit } from '../check/diagnostic.js';
import type { Space } from '../read/name-fields.js';
import { DECLARING, type EditedBook } from './book.js';
import { type Mention, mentionsIn } from './mentions.js';
import { needsQuotes } from './offer.js';

/** Giving something another name, in all the files of a book at once, or not at all. */

/** What came of it: the edits, or why not, in a sentence for the user. */
export type Renamed =
  | { readonly ok: true; readonly edits: readonly Edit[] }
  | { readonly ok: false; readonly why: string };

const WORD: Readonly<Record<Exclude<Space, 'system'>, string>> = {
  ref: 'a name',
  requirement: 'a reading',
  person: 'a person',
  instrument: 'an instrument',
  part: 'a part',
  item: 'an item',
  decision: 'a decision',
  case: 'a case',
  supply: 'a source or store',
};

const FORM = /^[a-z0-9]+(?:-[a-z0-9]+)*$/;
const LONGEST = 64;

/**
 * Gives what a mention names another name wherever it is named: in fields, formulas, short readings and the prose.
 * Refuses what would not leave the book as sound as it was.
 *
 * @param asked the new name; of what a system declares, alone or with its system before it.
 */
export async function renameAll(book: EditedBook, mention: Mention, asked: string): Promise<Renamed> {
  const to = newName(mention, asked.trim());
  if (!to.ok) return to;
  const { unread, folder, diagnostics } = await book.found();
  if (unread.length > 0)
    return no(`${unread.join(', ')} has to be put right first: names in it could be missed.`);
  const clash = await clashOf(book, mention, to.name);
  if (clash !== null) return no(clash);
  const own = ownOf(mention);
  const same = (await book.mentions(own)).filter(
    (one) => one.space === mention.space && one.name === mention.name,
  );
  const textOf = new Map(folder.files.map(({ path, text }) => [path, text]));
  const edits = same.map((one) => editOf(one, to.name, textOf.get(one.file) ?? ''));
  const changed = new Map(
    [...new Set(edits.map(({ file }) => file))].map((file) => [
      file,
      applied(
        textOf.get(file) ?? '',
        edits.filter((edit) => edit.file === file),
      ),
    ]),
  );
  const worse = worseThan(diagnostics, await book.checkWith(changed));
  if (worse !== null) return no(`The book would not be in order with that name: ${worse.message}`);
  if (!(await meansTheSame(book, mention, to.name, changed)))
    return no('With that name something else would be meant somewhere; choose another.');
  return { ok: true, edits };
}

function no(why: string): { readonly ok: false; readonly why: string } {
  return { ok: false, why };
}

/** Why what a mention names cannot be given another name; null where it can. */
export function unrenamable({ space }: Mention): string | null {
  return space === 'system'
    ? 'A system is named by its file: rename the file, its field `system`, and what begins with its name.'
    : null;
}

type NewName = { readonly ok: true; readonly name: string } | { readonly ok: false; readonly why: string };

/** The new name in full, if it is one. */
function newName(mention: Mention, asked: string): NewName {
  const fixed = unrenamable(mention);
  if (fixed !== null) return no(fixed);
  const head = mention.name.slice(0, mention.name.length - ownOf(mention).length);
  const own = mention.space === 'ref' && asked.startsWith(head) ? asked.slice(head.length) : asked;
  if (mention.space === 'ref' && own.includes('.'))
    return no(`It stays in its system: give a name alone, or one that begins with \`${head}\`.`);
  if (own.length > LONGEST || !FORM.test(own))
    return no(`A name is written in small letters, digits and single hyphens, at most ${LONGEST} of them.`);
  return { ok: true, name: head + own };
}

/** The last step of a name: what is replaced. */
function ownOf({ space, name }: Pick<Mention, 'space' | 'name'>): string {
  if (space === 'ref') return name.slice(name.indexOf('.') + 1);
  return space === 'requirement' ? name.slice(name.indexOf('/') + 1) : name;
}

/** What has that name already, in a sentence; null where nothing has. */
async function clashOf(book: EditedBook, mention: Mention, name: string): Promise<string | null> {
  if (name === mention.name) return null;
  const own = ownOf({ space: mention.space, name });
  const others = await book.mentions(own);
  const taken = others.some((one) => one.space === mention.space && one.name === name);
  const word = WORD[mention.space as Exclude<Space, 'system'>];
  if (taken) return `There is ${word} \`${name}\` already.`;
  return mention.space === 'ref' ? clashInSystem(book, name, own) : null;
}

/** A point takes over what a test of its system requires under its name: it must not do so by chance. */
async function clashInSystem(book: EditedBook, name: string, own: string): Promise<string | null> {
  const system = (await book.known())?.book.systems.get(name.slice(0, name.indexOf('.')));
  if (system === undefined) return null;
  const section = DECLARING.find((one) => system[one].has(own));
  if (section !== undefined) return `There is a \`${own}\` under ${section} of \`${system.id}\` already.`;
  const test = [...system.tests.values()].find(({ requires }) => requires.some((one) => one.name === own));
  return test === undefined ? null : `\`${test.ref}\` requires a reading \`${own}\` already.`;
}

function editOf(mention: Mention, name: string, text: string): Edit {
  const own = ownOf({ space: mention.space, name });
  const { offset, length } = mention;
  const before = text.slice(offset, mention.own.offset);
  const whole = before + own;
  // Digits alone would be a number, and no name any more.
  if (mention.bare && needsQuotes(whole))
    return { file: mention.file, offset, length, text: JSON.stringify(whole) };
  return { file: mention.file, ...mention.own, text: own };
}

/** A text with edits that do not touch each other. */
export function applied(text: string, edits: readonly Edit[]): string {
  return [...edits]
    .sort((a, b) => b.offset - a.offset)
    .reduce(
      (now, { offset, length, text: put }) => now.slice(0, offset) + put + now.slice(offset + length),
      text,
    );
}

/** An error that was not there before; null where there is none. */
function worseThan(before: readonly Diagnostic[], after: readonly Diagnostic[]): Diagnostic | null {
  const errors = (all: readonly Diagnostic[]) => all.filter(({ severity }) => severity === 'error');
  const known = new Map<string, number>();
  const key = ({ code, file }: Diagnostic) => `${code} ${file}`;
  for (const one of errors(before)) known.set(key(one), (known.get(key(one)) ?? 0) + 1);
  return (
    errors(after).find((one) => {
      const left = known.get(key(one)) ?? 0;
      known.set(key(one), left - 1);
      return left <= 0;
    }) ?? null
  );
}

/** Whether the changed files name just what they named before, but for the new name. */
async function meansTheSame(
  book: EditedBook,
  mention: Mention,
  name: string,
  changed: ReadonlyMap<string, string>,
): Promise<boolean> {
  const { folder } = await book.found();
  const refs = await book.declared();
  const old = mention.space === 'ref' ? mention.name : null;
  const asBefore = (ref: string) => (ref === name && old !== null ? old : ref);
  const after = {
    has: (ref: string) => ref !== old && refs.has(asBefore(ref)),
    isPoint: (ref: string) => ref !== old && refs.isPoint(asBefore(ref)),
  };
  for (const file of folder.files) {
    const text = changed.get(file.path);
    if (text === undefined) continue;
    const was = (await mentionsIn(file, refs)).map((one) => `${one.space} ${renamedIn(one, mention, name)}`);
    const is = (await mentionsIn({ ...file, text }, after)).map((one) => `${one.space} ${one.name}`);
    if (was.join('\n') !== is.join('\n')) return false;
  }
  return true;
}

/** What a mention names once the other thing has its new name: what a test requires begins with that test's. */
function renamedIn(one: Mention, mention: Mention, name: string): string {
  if (one.space === mention.space && one.name === mention.name) return name;
  if (mention.space === 'ref' && one.space === 'requirement' && one.name.startsWith(`${mention.name}/`))
    return name + one.name.slice(mention.name.length);
  return one.name;
}
