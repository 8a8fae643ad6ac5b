import type { Space } from '../read/name-fields.js';
import type { Reckoning } from '../reckon/model.js';
import type { NamedFile } from './mentions.js';
import type { NameOffer } from './name-offers.js';
import type { JsonSchema } from './schema-at.js';

/** Something that can be written at the cursor. */
export interface Offer {
  readonly label: string;
  readonly insert: string;
  /** Whether `insert` is a snippet, with `$1` where the cursor goes. */
  readonly snippet: boolean;
  readonly sort: 'field' | 'choice' | 'name' | 'unit';
  readonly detail: string;
  /** What more can be told of it: a name of the book, or a field. */
  readonly about: { readonly space: Space; readonly name: string } | { readonly field: JsonSchema } | null;
  /** Offers come in the order of their rank, from nought. */
  readonly rank: number;
}

/** What can be written, and the stretch of the text that it takes the place of. */
export interface Offers {
  readonly start: number;
  readonly end: number;
  readonly offers: readonly Offer[];
}

/** What completion has to know of the book; `reckoning` is null where there is none that can be read. */
export interface Surroundings {
  readonly reckoning: Reckoning | null;
  /** Paths of pictures, and of files of readings that a logger took. */
  readonly pictures: readonly string[];
  readonly series: readonly string[];
  readonly today: string;
}

/** The text that is being typed, and where. */
export interface Typing {
  readonly file: NamedFile;
  readonly offset: number;
  readonly around: Surroundings;
  /** Systems that the text is about: what belongs to them is offered first. */
  readonly systems: ReadonlySet<string>;
  /** The entry that is being written, by its name; null in any other file. */
  readonly entry: string | null;
}

/** A word to choose. */
export function choice(word: string, detail = ''): Offer {
  return { label: word, insert: word, snippet: false, sort: 'choice', detail, about: null, rank: 0 };
}

/** A name of the book that goes by another one where it stands. */
export function named(name: string, detail: string, space: Space, full: string): Offer {
  return { ...choice(name, detail), sort: 'name', about: { space, name: full } };
}

/** @param own the system in whose file its names stand alone; null where names are given in full. */
export function fromName({ space, name, detail, near }: NameOffer, own: string | null): Offer {
  const short = own !== null && name.startsWith(`${own}.`) ? name.slice(own.length + 1) : name;
  return { ...named(short, detail, space, name), rank: near ? 0 : 1 };
}

/** What YAML takes for something else than a text, as it stands. */
const NO_TEXT =
  /^(?:~|null|true|false|[-+]?\d+|0o[0-7]+|0x[\da-f]+|[-+]?(?:\.\d+|\d+(?:\.\d*)?)(?:e[-+]?\d+)?)$/i;

/** Whether a text would be read as a number or the like without quotes. */
export function needsQuotes(text: string): boolean {
  return NO_TEXT.test(text);
}

const PLAIN = /^[\p{L}\p{N}][\p{L}\p{N} ./()+°%·²³Ω_-]*$/u;

/** A text as it stands in YAML, in quotes where it needs them. */
export function scalar(text: string): string {
  return PLAIN.test(text) && !needsQuotes(text) ? text : JSON.stringify(text);
}
