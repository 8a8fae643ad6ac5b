import type { Checked, CheckMemory } from '../check/check.js';
import type { Diagnostic } from '../check/diagnostic.js';
import type { CheckedBook, System } from '../check/model.js';
import {
  type Attachment,
  type BookFolder,
  type ReadMemory,
  readFolder,
  type SourceFile,
} from '../read/folder.js';
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
  /** The pictures and papers that lay in it at the last look. */
  readonly attachments: () => readonly Attachment[];
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
export function editBook({ root, check, memory, today, open }: BookOptions): EditedBook {
  const read: ReadMemory = new Map();
  const lastRead = new Map<string, SourceFile>();
  let version = 0;
  let attachments: readonly Attachment[] = [];
  let latest: Reckoning | null = null;
  let state: { readonly version: number; readonly value: Promise<State> } | null = null;

  // One check after the other: each shares what it remembers of the files with the next.
  let last: Promise<unknown> = Promise.resolve();
  const inTurn = <T>(work: () => Promise<T>): Promise<T> => {
    const turn = last.then(work, work);
    last = turn.catch(() => undefined);
    return turn;
  };
  const look = async (): Promise<State> => {
    const folder = overlaid(readFolder(root, read), open());
    attachments = folder.attachments;
    const checked = await check(folder, today(), memory);
    const cannot = new Set([
      ...folder.files.filter((file) => memory.recall(file) === undefined).map(({ path }) => path),
      ...folder.problems.filter(({ why }) => UNREADABLE.has(why)).map(({ path }) => path),
    ]);
    for (const file of folder.files) if (!cannot.has(file.path)) lastRead.set(file.path, file);
    return {
      found: { folder, diagnostics: checked.diagnostics, unread: [...cannot] },
      checked,
      known: null,
    };
  };
  const now = (): Promise<State> => {
    if (state?.version !== version) {
      const value = inTurn(look);
      value.catch(() => {
        if (state?.value === value) state = null;
      });
      state = { version, value };
    }
    return state.value;
  };
  const known = async (): Promise<Reckoning | null> => {
    const current = await now();
    current.known ??= knownOf(
      current,
      lastRead,
      (folder) => inTurn(() => check(folder, today(), memory)),
      today(),
    );
    latest = (await current.known) ?? latest;
    return current.known;
  };
  const declared = async () => declaredBy((await known())?.book ?? null);
  return {
    root,
    today,
    attachments: () => attachments,
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
    checkWith: async (texts) => {
      const { folder } = (await now()).found;
      return (await inTurn(() => check(overlaid(folder, texts), today(), memory))).diagnostics;
    },
  };
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
