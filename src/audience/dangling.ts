import { TOLD, toldIn } from '../check/inline.js';
import { namesIn } from '../quantity/index.js';
import { type Field, fieldAt } from '../read/name-fields.js';
import type { DraftFile } from './draft.js';
import { without } from './draft.js';
import { type Leaf, leavesOf, type Path, valueAt } from './tree.js';

/** Names that lead nowhere any more, since what they named is not in the copy. */

/** A name with what it is a name of: `person owner`, `ref house-dc.capacity`. */
type Name = string;

interface Named {
  readonly name: Name;
  readonly declares: boolean;
  readonly path: Path;
}

/** All names that some files declare. */
export async function declaredIn(files: readonly DraftFile[]): Promise<ReadonlySet<Name>> {
  const found = new Set<Name>();
  for (const file of files)
    for (const { name, declares } of await namesOf(file, () => false)) if (declares) found.add(name);
  return found;
}

/**
 * The files without what names something that the whole book declares and they do not any more, until nothing of that
 * sort is left.
 */
export async function withoutDangling(
  files: readonly DraftFile[],
  inBook: ReadonlySet<Name>,
): Promise<readonly DraftFile[]> {
  const isRef = (ref: string) => inBook.has(`ref ${ref}`);
  const names = new Map<DraftFile, readonly Named[]>();
  const named = async (file: DraftFile) => {
    const known = names.get(file) ?? (await namesOf(file, isRef));
    names.set(file, known);
    return known;
  };
  let left = files;
  for (;;) {
    const all = await Promise.all(left.map(async (file) => [file, await named(file)] as const));
    const there = new Set(
      all.flatMap(([, found]) => found.flatMap((one) => (one.declares ? [one.name] : []))),
    );
    const next = all.flatMap(([file, found]) => {
      const gone = found.filter(({ name, declares }) => !declares && inBook.has(name) && !there.has(name));
      if (gone.length === 0) return [file];
      const kept = without(
        file,
        gone.map(({ path }) => path),
      );
      return kept === null ? [] : [kept];
    });
    if (next.length === left.length && next.every((file, index) => file === left[index])) return left;
    left = next;
  }
}

async function namesOf(file: DraftFile, isRef: (ref: string) => boolean): Promise<readonly Named[]> {
  const system = file.role === 'system' ? String(valueAt(file.data, ['system'])) : null;
  const written = leavesOf(file.data).flatMap((leaf): Named[] => {
    const field = fieldAt(file.role, leaf.path, leaf.part);
    return field === null ? [] : namesAt(field, leaf, system, isRef);
  });
  return file.role === 'entry' ? [...written, ...(await toldNames(file))] : written;
}

function namesAt(
  field: Field,
  { path, value }: Leaf,
  system: string | null,
  isRef: (ref: string) => boolean,
): Named[] {
  const text = String(value);
  const full = (name: string) => (system === null || name.includes('.') ? name : `${system}.${name}`);
  switch (field.holds) {
    case 'name':
      return [{ name: `${field.space} ${text}`, declares: field.declares, path }];
    case 'declared-ref':
      return [{ name: `ref ${full(text)}`, declares: true, path }];
    case 'ref':
      return [{ name: `ref ${full(text)}`, declares: false, path }];
    case 'waits-on':
      return [{ name: text, declares: false, path }];
    case 'formula':
      return namesIn(text, (name) => isRef(full(name))).map(({ name }) => ({
        name: `ref ${full(name)}`,
        declares: false,
        path,
      }));
    case 'requirement':
      // A test is left out whole or not at all, so that what it requires is there wherever the test is.
      return [];
  }
}

const SPACES: Readonly<Record<string, string>> = {
  point: 'ref',
  with: 'instrument',
  by: 'person',
  system: 'system',
};

async function toldNames({ body }: DraftFile): Promise<readonly Named[]> {
  const told = await toldIn(body);
  return told.flatMap(({ attributes }, index) =>
    attributes.flatMap(({ name, value }): Named[] => {
      const space = SPACES[name.text];
      if (space === undefined) return [];
      return [{ name: `${space} ${value.text.trim()}`, declares: false, path: [TOLD, index, name.text] }];
    }),
  );
}
