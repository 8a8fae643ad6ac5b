import type { PART_MOVES } from '../../schemas/entry.js';

/**
 * An entry while it is being written: the answers given so far. It is kept as JSON between two sittings, comes
 * from a prompt, from options or from a form, and becomes an entry's text in one place (`entry-text.ts`), so
 * that the same answers always give the same bytes.
 *
 * Values are texts as they stand in the entry; nothing here is checked yet.
 */

export type PartMoveWord = (typeof PART_MOVES)[number];

export interface DraftHours {
  readonly by: string;
  readonly spent: string;
  readonly on?: string;
}

export interface DraftMeter {
  readonly meter: string;
  readonly reads: string;
  readonly replaced?: true;
  readonly wrapped?: true;
}

/** A reading of a point, or of a thing named in plain words: one of `point` and `what`. */
export interface DraftReading {
  readonly point?: string;
  readonly what?: string;
  readonly value: string;
  readonly system?: string;
  readonly with?: string;
  readonly by?: string;
  readonly under?: Readonly<Record<string, string>>;
  readonly note?: string;
}

export interface DraftTest {
  readonly test: string;
  readonly readings: Readonly<Record<string, string>>;
  readonly with?: string;
  readonly by?: string;
  readonly under?: Readonly<Record<string, string>>;
  readonly note?: string;
}

export interface DraftPart {
  readonly part: string;
  readonly move: PartMoveWord;
  readonly what?: string;
  readonly system?: string;
  readonly cost?: string;
  readonly 'from-supplier'?: string;
  readonly due?: string;
  readonly serial?: string;
  readonly mass?: string;
  readonly 'rests-on'?: readonly string[];
  readonly note?: string;
}

export interface DraftDecision {
  readonly decision: string;
  readonly question: string;
  readonly chose: string;
  readonly because: string;
  readonly 'rests-on'?: readonly string[];
}

export interface DraftOpened {
  readonly item: string;
  readonly what: string;
  readonly system?: string;
  readonly size?: string;
  readonly by?: string;
  readonly defect?: true;
  readonly safety?: true;
  readonly 'rests-on'?: readonly string[];
}

export interface DraftPhoto {
  /** Path in the book, as proposed; a picture of that name that is there already gives it another. */
  readonly file: string;
  readonly alt: string;
  readonly caption?: string;
}

/** The answers. */
export interface Draft {
  readonly date: string;
  readonly title: string;
  readonly systems: readonly string[];
  /** Where the work was done; empty where not said. */
  readonly place: string;
  readonly hours: readonly DraftHours[];
  readonly meters: readonly DraftMeter[];
  readonly measurements: readonly DraftReading[];
  readonly tests: readonly DraftTest[];
  readonly parts: readonly DraftPart[];
  readonly decisions: readonly DraftDecision[];
  readonly opens: readonly DraftOpened[];
  readonly closes: readonly string[];
  readonly done: readonly string[];
  readonly photos: readonly DraftPhoto[];
  /** CommonMark. */
  readonly prose: string;
}

/** No answers yet but the day. */
export function emptyDraft(date: string): Draft {
  return {
    date,
    title: '',
    systems: [],
    place: '',
    hours: [],
    meters: [],
    measurements: [],
    tests: [],
    parts: [],
    decisions: [],
    opens: [],
    closes: [],
    done: [],
    photos: [],
    prose: '',
  };
}

/** How a field of an answer is written: a text, a mark that is true or left out, names, or texts by name. */
type FieldForm = 'text' | 'flag' | 'names' | 'map';

/** The fields of each list of answers, in the order in which they are written. */
export const FIELDS = {
  hours: { by: 'text', spent: 'text', on: 'text' },
  meters: { meter: 'text', reads: 'text', replaced: 'flag', wrapped: 'flag' },
  measurements: {
    point: 'text',
    what: 'text',
    value: 'text',
    system: 'text',
    with: 'text',
    by: 'text',
    under: 'map',
    note: 'text',
  },
  tests: { test: 'text', readings: 'map', with: 'text', by: 'text', under: 'map', note: 'text' },
  parts: {
    part: 'text',
    move: 'text',
    what: 'text',
    system: 'text',
    cost: 'text',
    'from-supplier': 'text',
    due: 'text',
    serial: 'text',
    mass: 'text',
    'rests-on': 'names',
    note: 'text',
  },
  decisions: { decision: 'text', question: 'text', chose: 'text', because: 'text', 'rests-on': 'names' },
  opens: {
    item: 'text',
    what: 'text',
    system: 'text',
    size: 'text',
    by: 'text',
    defect: 'flag',
    safety: 'flag',
    'rests-on': 'names',
  },
  photos: { file: 'text', alt: 'text', caption: 'text' },
} as const satisfies Partial<Record<keyof Draft, Readonly<Record<string, FieldForm>>>>;

/** A list of answers with several fields each. */
export type ListName = keyof typeof FIELDS;
export const LISTS = Object.keys(FIELDS) as ListName[];

/** More answers of one sort are no work session any more. */
const MOST = 2000;

/**
 * Takes for a draft what was kept or sent as one: its known fields where they are of the right form, and
 * nothing else. Whoever reads it need not trust where it came from.
 *
 * @returns null for what is no draft at all.
 */
export function readDraft(kept: unknown): Draft | null {
  if (!isRecord(kept) || typeof kept['date'] !== 'string') return null;
  const text = (key: string) => (typeof kept[key] === 'string' ? kept[key] : '');
  const words = (key: string) => textsOf(kept[key]);
  const lists = Object.fromEntries(LISTS.map((name) => [name, readList(kept[name], name)]));
  return {
    ...emptyDraft(kept['date']),
    ...lists,
    title: text('title'),
    place: text('place'),
    prose: text('prose'),
    systems: words('systems'),
    closes: words('closes'),
    done: words('done'),
  };
}

/** Fields that an answer cannot do without. */
const DUE: Readonly<Record<ListName, readonly string[]>> = {
  hours: ['by', 'spent'],
  meters: ['meter', 'reads'],
  measurements: ['value'],
  tests: ['test', 'readings'],
  parts: ['part', 'move'],
  decisions: ['decision', 'question', 'chose', 'because'],
  opens: ['item', 'what'],
  photos: ['file', 'alt'],
};

function readList(kept: unknown, name: ListName): readonly object[] {
  return listOf(kept).flatMap((item) => {
    if (!isRecord(item)) return [];
    const fields = Object.entries(FIELDS[name] as Readonly<Record<string, FieldForm>>).flatMap(
      ([key, form]) => {
        const value = readField(item[key], form);
        return value === null ? [] : [[key, value] as const];
      },
    );
    const made = Object.fromEntries(fields);
    return DUE[name].every((key) => key in made) ? [made] : [];
  });
}

/** What a field of an answer holds. */
export type FieldValue = string | true | readonly string[] | Readonly<Record<string, string>>;

function readField(kept: unknown, form: FieldForm): FieldValue | null {
  if (form === 'flag') return kept === true ? true : null;
  if (form === 'text') return typeof kept === 'string' ? kept : null;
  if (form === 'names') return Array.isArray(kept) ? textsOf(kept) : null;
  if (!isRecord(kept)) return null;
  const pairs = Object.entries(kept).filter((pair): pair is [string, string] => typeof pair[1] === 'string');
  return Object.fromEntries(pairs);
}

function textsOf(kept: unknown): readonly string[] {
  return listOf(kept).filter((text) => typeof text === 'string');
}

function listOf(kept: unknown): readonly unknown[] {
  return Array.isArray(kept) ? kept.slice(0, MOST) : [];
}

function isRecord(kept: unknown): kept is Readonly<Record<string, unknown>> {
  return typeof kept === 'object' && kept !== null && !Array.isArray(kept);
}
