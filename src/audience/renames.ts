import { nameFor, slug } from '../check/rules/dates.js';
import type { DraftFile } from './draft.js';
import { freeName } from './people.js';
import { sortAt } from './shape.js';
import { leavesOf, valueAt } from './tree.js';
import type { Scrub } from './words.js';

/** Other names for what is called by something that must not be named: in the record, and as files. */

/** Old names to new ones; what keeps its name is not among them. */
export interface Renames {
  /** Steps of names made for the record: `house-dc`, `capacity`. */
  readonly ids: ReadonlyMap<string, string>;
  /** Paths of files: entries, systems, pictures, files of readings. */
  readonly paths: ReadonlyMap<string, string>;
}

/**
 * Names that would tell something, with those that stand for them.
 *
 * @param scrub takes out of a text what no file of the copy may name
 * @param titleOf the title of an entry as it is shown
 */
export function renamesOf(
  files: readonly DraftFile[],
  attachments: readonly string[],
  scrub: Scrub,
  titleOf: (file: DraftFile) => string,
): Renames {
  const ids = idsOf(files, scrub);
  const paths = new Map<string, string>();
  const taken = new Set([...files.map(({ path }) => path), ...attachments].map((path) => path.toLowerCase()));
  const give = (from: string, stem: string, ending: string) => {
    const [folder, name] = splitPath(stem);
    let to = `${folder}${name}${ending}`;
    for (let number = 2; taken.has(to.toLowerCase()); number += 1) to = `${folder}${name}-${number}${ending}`;
    taken.add(to.toLowerCase());
    paths.set(from, to);
  };
  for (const file of files) {
    if (file.role === 'system') {
      const id = ids.get(String(valueAt(file.data, ['system'])));
      if (id !== undefined) give(file.path, `systems/${id}`, '.md');
    }
    if (file.role === 'entry') {
      const [, name] = splitPath(file.path);
      const title = titleOf(file);
      if (title !== valueAt(file.data, ['title']) || tells(name, scrub))
        give(file.path, nameFor(String(valueAt(file.data, ['date'])), title).replace(/\.md$/, ''), '.md');
    }
  }
  for (const path of attachments) {
    const steps = path.split('/');
    if (!steps.some((step) => tells(step, scrub))) continue;
    const ending = /\.[^./]+$/.exec(path)?.[0] ?? '';
    const plain = path.slice(0, path.length - ending.length).split('/');
    give(path, plain.map((step) => (tells(step, scrub) ? spoken(step, scrub) : step)).join('/'), ending);
  }
  return { ids, paths };
}

function idsOf(files: readonly DraftFile[], scrub: Scrub): ReadonlyMap<string, string> {
  const all = new Set(
    files.flatMap(({ role, data }) =>
      leavesOf(data).flatMap(({ path, part, value }) =>
        typeof value === 'string' && sortAt(role, path, part) === 'code'
          ? (value.match(/[a-z0-9]+(?:-[a-z0-9]+)*/g) ?? [])
          : [],
      ),
    ),
  );
  const taken = new Set(all);
  const ids = new Map<string, string>();
  for (const id of all) {
    if (!tells(id, scrub)) continue;
    const to = freeName(spoken(id, scrub), taken);
    taken.add(to);
    ids.set(id, to);
  }
  return ids;
}

function tells(name: string, scrub: Scrub): boolean {
  const plain = name.normalize('NFC');
  return scrub(plain) !== plain;
}

function spoken(name: string, scrub: Scrub): string {
  return slug(scrub(name.normalize('NFC')));
}

function splitPath(path: string): readonly [folder: string, name: string] {
  const at = path.lastIndexOf('/') + 1;
  return [path.slice(0, at), path.slice(at)];
}
