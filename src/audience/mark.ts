import type { BookFile } from '../../schemas/book.js';
import { BASES } from '../../schemas/common.js';
import type { EntryFile } from '../../schemas/entry.js';
import type { SystemFile } from '../../schemas/system.js';
import { TOLD } from '../check/inline.js';
import type { Basis, Hideable } from '../check/model.js';
import type { ParsedFile } from '../check/parse.js';
import { parseQuantity } from '../quantity/index.js';
import { isOwnersOwn } from './classes.js';
import type { DraftFile } from './draft.js';
import type { Policy } from './policy.js';
import { leavesOf } from './tree.js';

/** What a copy says of itself, and how much proof it asks for. */

/** How much of what can be summed up or held as evidence some files have. */
export interface Tally {
  readonly costs: number;
  readonly hours: number;
  readonly evidence: number;
}

/** Counts what some files have. */
export function tally(files: readonly ParsedFile[]): Tally {
  const entries = files.flatMap(({ source, data }) =>
    source.role === 'entry' ? [data as EntryFile & { readonly [TOLD]?: readonly unknown[] }] : [],
  );
  const sum = (count: (entry: (typeof entries)[number]) => number) =>
    entries.reduce((total, entry) => total + count(entry), 0);
  return {
    costs: sum(({ parts = [] }) => parts.filter(({ cost }) => cost !== undefined).length),
    hours: sum(
      ({ hours = [], opens = [] }) => hours.length + opens.filter(({ size }) => size !== undefined).length,
    ),
    evidence: sum(
      ({ measurements = [], statements = [], tests = [], ...entry }) =>
        measurements.length + statements.length + tests.length + (entry[TOLD]?.length ?? 0),
    ),
  };
}

/** book.yaml with what a copy says of itself, the other files as they are. */
export function withCopyMark(
  files: readonly DraftFile[],
  written: readonly ParsedFile[],
  policy: Policy,
  { before, after }: { readonly before: Tally; readonly after: Tally },
  waitsOnHidden: readonly string[],
): readonly DraftFile[] {
  const partly = (['cost', 'hours'] as const).filter((what) => {
    const count = what === 'cost' ? 'costs' : 'hours';
    return !policy.hides.has(what) && after[count] < before[count];
  });
  const copy: NonNullable<BookFile['copy']> = {
    for: policy.id,
    ...(policy.hides.size === 0 ? {} : { without: [...policy.hides] }),
    ...(hidesSingleThings(written, policy) ? { 'also-private': true } : {}),
    ...(after.evidence < before.evidence ? { 'evidence-left-out': true } : {}),
    ...(policy.needsAtLeast === null ? {} : { 'needs-at-least': policy.needsAtLeast }),
    ...(partly.length === 0 ? {} : { 'no-totals-of': partly }),
    ...(waitsOnHidden.length === 0 ? {} : { 'waits-on-hidden': [...waitsOnHidden] }),
  };
  return files.map((file) =>
    file.role === 'book' ? { ...file, data: { ...(file.data as object), copy } } : file,
  );
}

function hidesSingleThings(written: readonly ParsedFile[], { hides, hidesSystems }: Policy): boolean {
  if (hidesSystems.size > 0) return true;
  return written.some(
    ({ source: { role }, data }) =>
      role !== 'book' &&
      leavesOf(data).some(
        ({ path, part, value }) =>
          part === 'value' &&
          value !== false &&
          !hides.has(value as Hideable) &&
          path.some((_, index) => isOwnersOwn(role, path.slice(0, index + 1))),
      ),
  );
}

/** A system file whose specs need at least the basis that counts as proof for the audience. */
export function withStricterNeeds(file: DraftFile, { needsAtLeast }: Policy): DraftFile {
  if (file.role !== 'system' || needsAtLeast === null) return file;
  const data = file.data as SystemFile;
  if (data.specs === undefined) return file;
  const specs = Object.fromEntries(
    Object.entries(data.specs).map(([name, spec]) => {
      const isText = spec.quantity === undefined && !parseQuantity(spec.value).ok;
      const own = spec.needs ?? (isText ? 'marked' : 'measured');
      // Nobody measures a name: reading it off the item is as good as it gets, but for a third party who does.
      const asked = isText && needsAtLeast === 'measured' ? 'marked' : needsAtLeast;
      return [name, { ...spec, needs: stronger(own, asked) }] as const;
    }),
  );
  return { ...file, data: { ...data, specs } };
}

function stronger(a: Basis, b: Basis): Basis {
  return BASES.indexOf(a) >= BASES.indexOf(b) ? a : b;
}
