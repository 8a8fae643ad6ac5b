import type { Checked, CheckMemory } from '../check/check.js';
import type { Diagnostic } from '../check/diagnostic.js';
import type { CheckedBook, System } from '../check/model.js';
import { type BookFolder, type ReadMemory, readFolder, type SourceFile } from '../read/folder.js';
import type { Reckoning } from '../reckon/model.js';
import { reckon } from '../reckon/reckon.js';
import { type DeclaredRefs, type Mention, mentionsIn } from './mentions.js';
import { overlaid } from './overlay.js';

/** A book that is open in an editor: always as the texts are now, saved or not. */

/** Checks a book and, where it has no error, reckons it: the same for the editor as for the command line. */
export type CheckAndReckon = (
  folder: BookFolder,
  today: string,
  memory: CheckMemory,
) => Promise<Checked & { readonly reckoning: Reckoning | null }>;

export interface BookOptions {
  readonly root: string;
  readonly check: CheckAndReckon;
  readonly memory: CheckMemory;
  /** Asked at every check, since an editor stays open for days. */
  readonly today: () => string;
  /** Texts that are open, by their path in the book. */
  readonly open: () => ReadonlyMap<string, string>;
}

/** What was found at one moment. */
export interface Found {
  readonly folder: BookFolder;
  readonly diagnostics: readonly Diagnostic[];
  /** Files that could not be read as they are now: names in them may be missed. */
  readonly unread: readonly string[];
}

export interface EditedBook {
  readonly root: string;
  /** Says that something has changed: the next question is answered from a new look. */
  readonly touch: () => void;
  /** The day that counts as today. */
  readonly today: () => string;
  /** The book as it is now. */
  readonly found: () => Promise<Found>;
  /** Paths of what lay in it beside its texts at the last look. */
  readonly beside: () => { readonly pictures: readonly string[]; readonly series: readonly string[] };
  /**
   * What the book knows, for completion and hovering. A file that cannot be read while somebody types in it
   * counts as it was when it last could. Null where there is no book.yaml that can be read.
   */
  readonly known: () => Promise<Reckoning | null>;
  /** What it knew when it was last asked, where it was: completion must not wait for a check at every letter. */
  readonly lately: () => Promise<Reckoning | null>;
  /** What systems declare, for finding names. */
  readonly declared: () => Promise<DeclaredRefs>;
  /** Every mention of a name with these letters in it, in the files as they are now. */
  readonly mentions: (letters: string) => Promise<readonly Mention[]>;
  /** Checks the book as it would be with other texts in place of some. */
  readonly checkWith: (texts: ReadonlyMap<string, string>) => Promise<readonly Diagnostic[]>;
}

/** Why a file that is there tells nothing. */
const UNREADABLE: ReadonlySet<string> = new Set(['not-utf8', 'file-too-large', 'unreadable']);

interface State {
  readonly found: Found;
  readonly checked: Checked & { readonly reckoning: Reckoning | null };
  known: Promise<Reckoning | null> | null;
}

/** Opens a book for editing. Nothing is read until something is asked. */
export function editBook(options: BookOptions): EditedBook {
  const { root, check, memory, today } = options;
  const looker = lookerOf(options);
  const inTurn = oneByOne();
  let version = 0;
  let latest: Reckoning | null = null;
  let state: { readonly version: number; readonly value: Promise<State> } | null = null;

  const now = (): Promise<State> => {
    if (state?.version !== version) {
      const value = inTurn(looker.look);
      value.catch(() => {
        if (state?.value === value) state = null;
      });
      state = { version, value };
    }
    return state.value;
  };
  const checked = (folder: BookFolder) => inTurn(() => check(folder, today(), memory));
  const known = async (): Promise<Reckoning | null> => {
    const current = await now();
    current.known ??= knownOf(current, looker.lastRead, checked, today());
    latest = (await current.known) ?? latest;
    return current.known;
  };
  const declared = async () => declaredBy((await known())?.book ?? null);
  return {
    root,
    today,
    beside: looker.beside,
    touch: () => {
      version += 1;
    },
    found: async () => (await now()).found,
    known,
    lately: async () => latest ?? (await known()),
    declared,
    mentions: async (letters) => {
      const { folder } = (await now()).found;
      const refs = await declared();
      const files = folder.files.filter(({ text }) => text.includes(letters));
      return (await Promise.all(files.map((file) => mentionsIn(file, refs)))).flat();
    },
    checkWith: async (texts) => (await checked(overlaid((await now()).found.folder, texts))).diagnostics,
  };
}

/** Does one thing after the other: each check shares what it remembers of the files with the next. */
function oneByOne(): <T>(work: () => Promise<T>) => Promise<T> {
  let last: Promise<unknown> = Promise.resolve();
  return (work) => {
    const turn = last.then(work, work);
    last = turn.catch(() => undefined);
    return turn;
  };
}

interface Looker {
  readonly look: () => Promise<State>;
  readonly beside: EditedBook['beside'];
  /** Each file as it was when it could last be read. */
  readonly lastRead: ReadonlyMap<string, SourceFile>;
}

function lookerOf({ root, check, memory, today, open }: BookOptions): Looker {
  const read: ReadMemory = new Map();
  const lastRead = new Map<string, SourceFile>();
  let beside: ReturnType<EditedBook['beside']> = { pictures: [], series: [] };
  const look = async (): Promise<State> => {
    const folder = overlaid(readFolder(root, read), open());
    beside = { pictures: folder.attachments.map(pathOf), series: folder.series.map(pathOf) };
    const checked = await check(folder, today(), memory);
    // What is remembered is in order: whatever is not could not be read.
    const cannot = new Set([
      ...folder.files.filter((file) => memory.recall(file) === undefined).map(pathOf),
      ...folder.problems.filter(({ why }) => UNREADABLE.has(why)).map(pathOf),
    ]);
    for (const file of folder.files) if (!cannot.has(file.path)) lastRead.set(file.path, file);
    const found: Found = { folder, diagnostics: checked.diagnostics, unread: [...cannot] };
    return { found, checked, known: null };
  };
  return { look, beside: () => beside, lastRead };
}

function pathOf({ path }: { readonly path: string }): string {
  return path;
}

async function knownOf(
  { found, checked }: State,
  lastRead: ReadonlyMap<string, SourceFile>,
  check: (folder: BookFolder) => ReturnType<CheckAndReckon>,
  today: string,
): Promise<Reckoning | null> {
  const cannot = new Set(found.unread);
  const readable = found.folder.files.some(({ path }) => cannot.has(path) && lastRead.has(path));
  if (!readable) return checked.reckoning ?? reckoned(checked.book, today);
  const files = found.folder.files.map((file) =>
    cannot.has(file.path) ? (lastRead.get(file.path) ?? file) : file,
  );
  const steady = await check({ ...found.folder, files });
  return steady.reckoning ?? reckoned(steady.book, today);
}

/**
 * Reckons a book that has errors, for what can be told of it all the same: what is wrong has been left out of it.
 * The plans are left out whole, since their values are checked but not made into other ones.
 */
function reckoned(book: CheckedBook | null, today: string): Reckoning | null {
  if (book === null) return null;
  try {
    return reckon({ ...book, plans: { power: null, weights: null } }, today);
  } catch {
    // A book with errors may be so far off that nothing can be told of it.
    return null;
  }
}

function declaredBy(book: CheckedBook | null): DeclaredRefs {
  const at = (ref: string): readonly [System | undefined, string] => {
    const dot = ref.indexOf('.');
    return [book?.systems.get(ref.slice(0, dot)), ref.slice(dot + 1)];
  };
  return {
    has: (ref) => {
      const [system, name] = at(ref);
      return system !== undefined && DECLARING.some((section) => system[section].has(name));
    },
    isPoint: (ref) => {
      const [system, name] = at(ref);
      return system?.points.has(name) === true;
    },
  };
}

/** The sections of a system file in which names are declared. */
export const DECLARING = ['points', 'meters', 'specs', 'derived', 'tests', 'upkeep'] as const;
