import { parseQuantity, type Quantity } from '../quantity/index.js';
import type { SourceFile } from '../read/folder.js';
import { quickFrontMatter, splitFences } from '../read/front-matter.js';
import type { Edit } from './diagnostic.js';
import type { CheckedBook } from './model.js';
import { look } from './parse.js';
import { narrow } from './placing.js';

/**
 * Tidying of what is in order already, as `--fix` does when nothing is left to mend: nothing of it is a problem,
 * and nothing that is said changes. The fields of an entry or a system are put into the order of the format, and
 * units are spelt as they are printed.
 */

/** Units of readings in their usual spelling: `12.7 volts` becomes `12.7 V`. */
export async function unitEdits(
  book: CheckedBook,
  sources: ReadonlyMap<string, SourceFile>,
): Promise<readonly Edit[]> {
  const edits: Edit[] = [];
  for (const entry of book.entries) {
    const spelt = entry.readings.flatMap(({ quantity, place }) => {
      const respelt = respell(quantity);
      return respelt === null ? [] : [{ place, respelt }];
    });
    const source = sources.get(entry.file);
    if (spelt.length === 0 || source === undefined) continue;
    const { locate } = await look(source);
    for (const { place, respelt } of spelt) {
      const stretch = narrow(locate(place.path, 'value'), source.text, respelt);
      if (stretch !== null) edits.push({ file: entry.file, ...stretch, text: respelt.unit });
    }
  }
  return edits;
}

/** A number, with its ± where there is one, and the letters of one unit behind it. */
const ONE_UNIT = /^([^A-Za-zµΩ°%]*\d\)?\s?)([^\d\s±()][^\d±()]*)$/;

/**
 * The unit of a value as it is printed, and where it stands in the value; null where it is spelt so already, or
 * where the value would not stay the same in every respect. A mere `%` is left: it is what people write.
 */
export function respell({
  written,
  kind,
  unit,
  ...of
}: Quantity): { readonly offset: number; readonly length: number; readonly unit: string } | null {
  const [, number, spelling] = ONE_UNIT.exec(written) ?? [];
  if (number === undefined || spelling === undefined || spelling === unit || spelling === '%') return null;
  const again = parseQuantity(number + unit, kind);
  const same =
    again.ok &&
    again.quantity.unit === unit &&
    again.quantity.si === of.si &&
    again.quantity.siUncertainty === of.siUncertainty &&
    again.quantity.resolution === of.resolution;
  return same ? { offset: number.length, length: spelling.length, unit } : null;
}

/**
 * A file with the fields of its front matter in a given order, each with the lines that belong to it: comments
 * right above it go along, all else stays byte for byte. Null where they are in order, or where the front matter
 * is not written with one field a line.
 *
 * @param order the fields of the format, in their order.
 */
export function inOrderOfFields(text: string, order: readonly string[]): string | null {
  const fenced = splitFences(text);
  const data = fenced === null ? undefined : quickFrontMatter(text)?.data;
  if (fenced === null || typeof data !== 'object' || data === null) return null;
  const keys = Object.keys(data);
  const rank = (key: string) => order.indexOf(key);
  if (keys.every((key, index) => index === 0 || rank(keys[index - 1] as string) <= rank(key))) return null;
  const cut = cutAtFields(fenced.yaml, keys);
  if (cut === null) return null;
  const lineEnd = fenced.yaml.includes('\r\n') ? '\r\n' : '\n';
  const sorted = [...cut.fields].sort((a, b) => rank(a.key) - rank(b.key));
  const yaml = cut.head + sorted.map(({ lines }) => ended(lines, lineEnd)).join('');
  const put = fenced.yaml.endsWith('\n') ? yaml : yaml.slice(0, -lineEnd.length);
  return text.slice(0, fenced.offset) + put + text.slice(fenced.offset + fenced.yaml.length);
}

interface Cut {
  /** What stands above all fields and stays there. */
  readonly head: string;
  readonly fields: readonly { readonly key: string; readonly lines: string }[];
}

/** Cuts front matter into the lines of its fields; null where these are not the fields, each once. */
function cutAtFields(yaml: string, keys: readonly string[]): Cut | null {
  const lines = yaml.split(/(?<=\n)/);
  const starts = lines.flatMap((line, at) => {
    const key = /^(["']?)([a-z][a-z-]*)\1[ ]*:(?=[ \r\n]|$)/.exec(line)?.[2];
    return key === undefined ? [] : [{ key, at }];
  });
  if (starts.length !== keys.length || starts.some(({ key }, index) => key !== keys[index])) return null;
  const begins = starts.map(({ at }, index) => withComments(lines, at, starts[index - 1]?.at ?? -1));
  return {
    head: lines.slice(0, begins[0]).join(''),
    fields: starts.map(({ key }, index) => ({
      key,
      lines: lines.slice(begins[index], begins[index + 1]).join(''),
    })),
  };
}

/** The first of the comment lines right above a field. The line for the editor belongs to the file. */
function withComments(lines: readonly string[], at: number, above: number): number {
  let first = at;
  while (first - 1 > above && /^#(?! yaml-language-server:)/.test(lines[first - 1] ?? '')) first -= 1;
  return first;
}

function ended(lines: string, lineEnd: string): string {
  return lines.endsWith('\n') ? lines : lines + lineEnd;
}
