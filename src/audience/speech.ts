import type { BookFile } from '../../schemas/book.js';
import type { EntryFile } from '../../schemas/entry.js';
import type { SystemFile } from '../../schemas/system.js';
import { entryId } from '../check/build/entry.js';
import type { ParsedFile } from '../check/parse.js';
import { decoded, pageNamedBy } from '../check/prose-links.js';
import { photoFromProse } from '../check/rules/photos.js';
import { parseQuantity } from '../quantity/index.js';
import type { BookFolder } from '../read/folder.js';
import { fieldAt } from '../read/name-fields.js';
import type { DraftFile } from './draft.js';
import { type Person, standIns } from './people.js';
import type { Policy } from './policy.js';
import { picturesIn, rewritten } from './prose.js';
import { type Renames, renamesOf } from './renames.js';
import { type Known, knownNames } from './secrets.js';
import { sortAt } from './shape.js';
import { changed, type Leaf } from './tree.js';
import { exactly, type Scrub, type Secret, scrubOf, withoutMoney } from './words.js';

/** Last step of a copy but the writing: what is left is told without the names of what is hidden. */

/** The files with their words and names changed, under the paths that they had. */
export interface Spoken extends Renames {
  readonly files: readonly DraftFile[];
  /** Pictures that are still shown, by the path in the owner's book. */
  readonly pictures: readonly string[];
}

const NAMED = ['people', 'suppliers', 'serials', 'places'] as const;

/** Changes words and names of all files. */
export function spokenFor(
  files: readonly DraftFile[],
  written: readonly ParsedFile[],
  policy: Policy,
  folder: BookFolder,
): Spoken {
  const known = knownNames(written);
  const everywhere = secretsOfAll(known, files, policy);
  const exact = exactly(namesGone(files, written), 'something');
  const scrubs = new Map<string, Scrub>();
  const scrubFor = ({ hides }: DraftFile): Scrub => {
    const here = NAMED.filter((what) => hides.has(what));
    const key = `${here.join(' ')} ${hides.has('cost')}`;
    const named = scrubs.get(key) ?? scrubOf([...everywhere, ...here.flatMap((what) => known[what])]);
    scrubs.set(key, named);
    return (text) => {
      const words = exact(named(text));
      return hides.has('cost') ? withoutMoney(words) : words;
    };
  };
  const pictures = picturesOf(files, folder);
  const series = files.flatMap(({ role, data }) =>
    role === 'system'
      ? Object.values((data as SystemFile).points ?? {}).flatMap((point) => point.series ?? [])
      : [],
  );
  const titleOf = (file: DraftFile) => line(scrubFor(file), (file.data as EntryFile).title);
  const renames = renamesOf(files, [...pictures, ...series], scrubOf(everywhere), titleOf);
  const standing = standInsFor(written, files);
  const said = files.map((file) => {
    const speech: Speech = { scrub: scrubFor(file), renames, written, files };
    return speak(file, speech, standing);
  });
  return { ...renames, files: said.map((file) => withPeople(file, policy, standing)), pictures };
}

/** Names of what is hidden everywhere, and of what nothing that is shown names any more. */
function secretsOfAll(known: Known, files: readonly DraftFile[], { hides }: Policy): readonly Secret[] {
  const parsed = files.map(({ path, role, data, body }) => ({
    source: { path, role, text: '', hash: '' },
    data,
    body,
  }));
  const left = knownNames(parsed);
  return NAMED.flatMap((what) => {
    if (hides.has(what)) return known[what];
    const still = new Set(left[what].map(({ text }) => text));
    return what === 'people' ? [] : known[what].filter(({ text }) => !still.has(text));
  });
}

/** Names made for the record, of entries and of files, that only what is hidden has. */
function namesGone(files: readonly DraftFile[], written: readonly ParsedFile[]): readonly string[] {
  const before = written.map(({ source, data }) => ({ path: source.path, role: source.role, data }));
  const after = new Set(files.flatMap(recordNames));
  // A single word may well mean something else.
  return before.flatMap(recordNames).filter((name) => !after.has(name) && /[-.\s]/.test(name));
}

function recordNames({ path, role, data }: Pick<DraftFile, 'path' | 'role' | 'data'>): readonly string[] {
  switch (role) {
    case 'system': {
      const system = data as SystemFile;
      const sections = ['points', 'meters', 'specs', 'derived', 'tests', 'upkeep'] as const;
      const refs = sections.flatMap((section) =>
        Object.keys(system[section] ?? {}).map((name) => `${system.system}.${name}`),
      );
      return [system.system, system.title, ...refs];
    }
    case 'entry': {
      const entry = data as EntryFile;
      return [
        entryId(path),
        entry.title,
        ...(entry.parts ?? []).map(({ part }) => part),
        ...(entry.opens ?? []).map(({ item }) => item),
        ...(entry.decisions ?? []).map(({ decision }) => decision),
        ...(entry.photos ?? []).map(({ file }) => file.slice(file.lastIndexOf('/') + 1)),
      ];
    }
    default:
      return [];
  }
}

function picturesOf(files: readonly DraftFile[], folder: BookFolder): readonly string[] {
  const shown = new Set(
    files.flatMap(({ role, data, body }) => [
      ...(role === 'entry' ? ((data as EntryFile).photos ?? []).map(({ file }) => file) : []),
      ...picturesIn(body).map(photoFromProse),
    ]),
  );
  const same = (a: string) => a.normalize('NFC');
  const wanted = new Set([...shown].map(same));
  return folder.attachments.map(({ path }) => path).filter((path) => wanted.has(same(path)));
}

interface Speech {
  readonly scrub: Scrub;
  readonly renames: Renames;
  readonly written: readonly ParsedFile[];
  readonly files: readonly DraftFile[];
}

interface Standing {
  readonly of: ReadonlyMap<string, string>;
  readonly people: Readonly<Record<string, Person>>;
}

function standInsFor(written: readonly ParsedFile[], files: readonly DraftFile[]): Standing {
  const book = written.find(({ source }) => source.role === 'book')?.data as BookFile;
  const people = book.people ?? {};
  const inBook = files.find(({ role }) => role === 'book');
  // Beside those who are shown elsewhere, stand-ins need names of their own.
  const taken = inBook?.hides.has('people') === true ? new Set<string>() : new Set(Object.keys(people));
  return standIns(people, taken);
}

function speak(file: DraftFile, speech: Speech, { of }: Standing): DraftFile {
  const { scrub, renames } = speech;
  const person = (id: string) => (file.hides.has('people') ? (of.get(id) ?? id) : renamedIn(id, renames));
  const say = ({ path, part, value }: Leaf): unknown => {
    if (typeof value !== 'string') return value;
    const field = fieldAt(file.role, path, part);
    if (field?.holds === 'name' && field.space === 'person') return field.declares ? value : person(value);
    switch (sortAt(file.role, path, part)) {
      case 'code':
        return renamedIn(value, renames);
      case 'fixed':
        return value;
      case 'path':
        return pathSaid(value, renames);
      case 'value':
        return parseQuantity(value).ok ? value : line(scrub, value);
      case 'words':
        return value.length > 500 ? scrub(value) : line(scrub, value);
    }
  };
  const body = rewritten(file.body, {
    words: scrub,
    attribute: (name, value) => {
      if (name === 'by') return person(value.trim());
      if (name === 'see') return pathSaid(value.trim(), renames);
      return name === 'what' || name === 'note' ? scrub(value) : renamedIn(value, renames);
    },
    address: (url) => addressSaid(url, speech),
  });
  return { ...file, data: changed(file.data, say), body };
}

/** A text of one line, no longer than such a text may be. */
function line(scrub: Scrub, text: string): string {
  const said = scrub(text);
  return said.length > 500 && text.length <= 500 ? `${said.slice(0, 499)}…` : said;
}

function renamedIn(text: string, { ids }: Renames): string {
  if (ids.size === 0) return text;
  return text.replaceAll(/[a-z0-9]+(?:-[a-z0-9]+)*/g, (id) => ids.get(id) ?? id);
}

/** A file by its path, or by its name alone. */
function pathSaid(path: string, { paths }: Renames): string {
  const whole = paths.get(path);
  if (whole !== undefined) return whole;
  if (path.includes('/')) return path;
  const found = [...paths].find(([from]) => from.endsWith(`/${path}`))?.[1];
  return found === undefined ? path : found.slice(found.lastIndexOf('/') + 1);
}

/** An address in a prose; null for one that leads to what is hidden, or that tells something by its words. */
function addressSaid(url: string, { scrub, renames, written, files }: Speech): string | null {
  const picture = renames.paths.get(photoFromProse(url));
  if (picture !== undefined) return picture;
  const name = pageNamedBy(url);
  if (name !== null) {
    const target = written.find(({ source: { path } }) => path.endsWith(`/${name}.md`))?.source.path;
    if (target !== undefined && !files.some(({ path }) => path === target)) return null;
    const renamed = target === undefined ? undefined : renames.paths.get(target);
    if (renamed !== undefined) return renamed.slice(renamed.lastIndexOf('/') + 1);
  }
  const plain = decoded(url);
  return scrub(plain) === plain.normalize('NFC') ? url : null;
}

/** book.yaml with those who stand for people, where they are needed. */
function withPeople(file: DraftFile, { hides }: Policy, { people }: Standing): DraftFile {
  const data = file.data as BookFile;
  if (file.role !== 'book' || data.people === undefined) return file;
  return { ...file, data: { ...data, people: hides.has('people') ? people : { ...data.people, ...people } } };
}
