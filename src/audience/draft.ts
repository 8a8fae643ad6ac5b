import { asMeasurement, TOLD, toldIn } from '../check/inline.js';
import type { Hideable } from '../check/model.js';
import type { ParsedFile } from '../check/parse.js';
import type { Role } from '../read/folder.js';
import { withoutReadings } from './prose.js';
import { cut, type Path } from './tree.js';

/** A file of a copy while things are taken out of it. */
export interface DraftFile {
  /** Path in the owner's book. */
  readonly path: string;
  readonly role: Role;
  /** What its front matter says, without readings that its prose tells. */
  readonly data: unknown;
  readonly body: string;
  /** What is hidden in this file. */
  readonly hides: ReadonlySet<Hideable>;
}

/**
 * The file without what stands at some paths, and what cannot stand when that is gone. A path that begins with `TOLD` is
 * of a reading in the prose.
 *
 * @returns null where nothing is left that could stand
 */
export function without(file: DraftFile, paths: readonly Path[]): DraftFile | null {
  const told = new Set(paths.flatMap(([first, index]) => (first === TOLD ? [Number(index)] : [])));
  const written = paths.filter(([first]) => first !== TOLD);
  const data = written.length === 0 ? file.data : cut(file.role, file.data, written);
  return data === null ? null : { ...file, data, body: withoutReadings(file.body, told) };
}

/** The file as the checker takes it, with the readings that its prose tells. */
export async function parsedOf({ path, role, data, body }: DraftFile): Promise<ParsedFile> {
  const told = role === 'entry' ? await toldIn(body) : [];
  const readings = told.map((reading, index) => asMeasurement(reading, [TOLD, index], () => undefined));
  return {
    source: { path, role, text: '', hash: '' },
    data: readings.length === 0 ? data : { ...(data as object), [TOLD]: readings },
    body,
  };
}
