import type { WrittenScalar } from '../read/scalars.js';

/** Looking around in the keys and values of a text. */

type Path = readonly (string | number)[];

/** Whether a path begins with another. */
function begins(path: Path, start: Path): boolean {
  return start.every((step, index) => step === path[index]);
}

/** The keys that stand in the group at a path. */
export function keysIn(scalars: readonly WrittenScalar[], path: Path): readonly string[] {
  return scalars.flatMap((scalar) =>
    scalar.part === 'key' && scalar.path.length === path.length + 1 && begins(scalar.path, path)
      ? [String(scalar.path.at(-1))]
      : [],
  );
}

/** What somebody has written at a path, or null. */
export function textAt(scalars: readonly WrittenScalar[], path: Path): string | null {
  const found = scalars.find(
    (scalar) => scalar.part === 'value' && scalar.path.length === path.length && begins(scalar.path, path),
  );
  return found?.text ?? null;
}

/** What is written in the list at a path, where that is texts. */
export function textsIn(scalars: readonly WrittenScalar[], path: Path): readonly string[] {
  return scalars.flatMap((scalar) =>
    scalar.part === 'value' && scalar.path.length === path.length + 1 && begins(scalar.path, path)
      ? [scalar.text]
      : [],
  );
}

/** What is written in a field of each item of the list at a path. */
export function fieldsIn(scalars: readonly WrittenScalar[], path: Path, field: string): readonly string[] {
  return scalars.flatMap((scalar) =>
    scalar.part === 'value' &&
    scalar.path.length === path.length + 2 &&
    begins(scalar.path, path) &&
    scalar.path.at(-1) === field
      ? [scalar.text]
      : [],
  );
}
