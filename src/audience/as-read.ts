import { decodeNamedCharacterReference } from 'decode-named-character-reference';

/**
 * A text as it is read, whatever way its letters are written: `&#66;as` and `Ｂas` are read as Bas. What is found in it
 * is changed where it is written.
 */

/** What is read, and where in the text each unit of it is written. */
interface AsRead {
  readonly read: string;
  /** First offset of each unit, and the offset behind it. */
  readonly starts: readonly number[];
  readonly ends: readonly number[];
}

const UNIT =
  /&(?:#(?<decimal>\d{1,7})|#[xX](?<hex>[\da-fA-F]{1,6})|(?<named>[A-Za-z][A-Za-z\d]{0,31}));|./gsu;

/** Signs that are not seen: soft hyphens, joiners, marks of direction and the like. */
const UNSEEN = '\\p{Default_Ignorable_Code_Point}';

/** What can stand within a word and leaves it to be read as one: unseen signs, marks over letters, Markdown, HTML, a line's end. */
export const WITHIN = `(?:[*~\\[${UNSEEN}\\p{Mn}\\p{Me}]|<[^<>\\n]{1,80}>|-[ \\t]*\\n[ \\t>]*)*`;

/** What can stand between the words of a name: blanks, or what joins them in a file's name, an address or Markdown. */
export const BETWEEN = `(?:[\\s_.+*>\\\\'’‘\`´&,~\\p{Pd}${UNSEEN}]|<[^<>\\n]{1,80}>)*`;

/** That no letter or number that is seen stands before, or behind. */
export const EDGE = {
  before: `(?<!(?!${UNSEEN})[\\p{L}\\p{N}])`,
  after: `(?!(?!${UNSEEN})[\\p{L}\\p{N}])`,
};

const NOT_READ = new RegExp(`<[^<>\\n]{1,80}>|(?=${UNSEEN})[\\p{L}\\p{N}]|[^\\p{L}\\p{N}]`, 'gu');

/** The letters and numbers of a text and nothing else, in one form and in small letters: two that are alike are read alike. */
export function lettersOf(text: string): string {
  return text.normalize('NFKC').replaceAll(NOT_READ, '').toLowerCase();
}

function asRead(text: string): AsRead {
  const clusters: { read: string; start: number; end: number }[] = [];
  for (const match of text.matchAll(UNIT)) {
    const [written] = match;
    const { index: start } = match;
    const read = signOf(written, match.groups ?? {});
    const end = start + written.length;
    const last = clusters.at(-1);
    if (last !== undefined && /^\p{M}/u.test(read)) Object.assign(last, { read: last.read + read, end });
    else clusters.push({ read, start, end });
  }
  const [read, starts, ends]: [string[], number[], number[]] = [[], [], []];
  for (const cluster of clusters) {
    const plain = cluster.read.normalize('NFKC');
    read.push(plain);
    for (let unit = 0; unit < plain.length; unit += 1) {
      starts.push(cluster.start);
      ends.push(cluster.end);
    }
  }
  return { read: read.join(''), starts, ends };
}

function signOf(
  written: string,
  { decimal, hex, named }: Readonly<Record<string, string | undefined>>,
): string {
  if (named !== undefined) return decodeNamedCharacterReference(named) || written;
  if (decimal === undefined && hex === undefined) return written;
  const code = decimal === undefined ? Number.parseInt(hex ?? '', 16) : Number(decimal);
  return code === 0 || code > 0x10ffff || (code >= 0xd800 && code <= 0xdfff)
    ? '\ufffd'
    : String.fromCodePoint(code);
}

/** A piece that was found in a text as it is read. */
export interface Found {
  readonly match: RegExpMatchArray;
  /** The whole text as it is read, and where in it the piece begins. */
  readonly read: string;
  readonly at: number;
}

/**
 * Writes something else in the place of what is read in a text; the rest stays as it was written, letter by letter.
 *
 * @param pattern with the flag `g`; it finds no empty pieces
 * @param says what is written instead; null leaves it there
 */
export function replaceRead(text: string, pattern: RegExp, says: (found: Found) => string | null): string {
  const composed = text.normalize('NFC');
  const { read, starts, ends } =
    composed.includes('&') || composed !== composed.normalize('NFKC')
      ? asRead(composed)
      : { read: composed, starts: null, ends: null };
  const said: string[] = [];
  let from = 0;
  for (const match of read.matchAll(pattern)) {
    const { index: at } = match;
    const word = says({ match, read, at });
    if (word === null) continue;
    const behind = at + match[0].length;
    said.push(composed.slice(from, starts?.[at] ?? at), word);
    from = ends?.[behind - 1] ?? behind;
  }
  return said.join('') + composed.slice(from);
}
