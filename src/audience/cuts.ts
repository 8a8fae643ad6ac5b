import type { EntryFile } from '../../schemas/entry.js';
import type { SystemFile } from '../../schemas/system.js';
import { TOLD } from '../check/inline.js';
import type { Hideable } from '../check/model.js';
import type { ParsedFile } from '../check/parse.js';
import { photoFromProse } from '../check/rules/photos.js';
import { classOf, isOwnersOwn } from './classes.js';
import { type DraftFile, without } from './draft.js';
import type { Policy } from './policy.js';
import { withoutPictures, withoutSections } from './prose.js';
import { leavesOf, type Path } from './tree.js';

/** First step of a copy: what the book and the audience say is hidden is taken out, file by file. */

/** What is hidden by its name, wherever it is. */
interface Hidden {
  readonly systems: ReadonlySet<string>;
  readonly photos: ReadonlySet<string>;
}

const EVERYTHING_OF: Readonly<Record<'system' | 'entry', string>> = { system: 'system', entry: 'entry' };

/** The files of a book as an audience may see them, each by itself; what names something hidden is still there. */
export function cutFiles(files: readonly ParsedFile[], policy: Policy): readonly DraftFile[] {
  const hidden = hiddenIn(files, policy);
  return files.flatMap((file) => {
    const draft = draftOf(file, policy, hidden);
    const kept = draft === null ? null : without(draft, pathsToCut(draft, hidden));
    return kept === null ? [] : [kept];
  });
}

function hiddenIn(files: readonly ParsedFile[], policy: Policy): Hidden {
  const systems = new Set(policy.hidesSystems);
  const photos = new Set<string>();
  for (const { source, data } of files) {
    if (source.role === 'system' && saysPrivate(data, EVERYTHING_OF.system))
      systems.add((data as SystemFile).system);
    if (source.role === 'entry')
      for (const photo of (data as EntryFile).photos ?? [])
        if (photo.private === true) photos.add(photo.file.normalize('NFC'));
  }
  return { systems, photos };
}

function saysPrivate(data: unknown, what: string): boolean {
  const said = (data as { readonly private?: readonly string[] }).private ?? [];
  return said.includes(what);
}

/** A file before fields are cut; null for one that is hidden whole. */
function draftOf(
  { source: { path, role }, data, body }: ParsedFile,
  policy: Policy,
  { systems, photos }: Hidden,
): DraftFile | null {
  const own = (data as Partial<EntryFile>).private ?? [];
  const hides = new Set<Hideable>([...policy.hides, ...(role === 'entry' || role === 'system' ? own : [])]);
  if (role === 'system' && systems.has((data as SystemFile).system)) return null;
  if (role === 'entry') {
    const [main] = (data as EntryFile).systems;
    if (hides.has(EVERYTHING_OF.entry as Hideable) || systems.has(main ?? '')) return null;
  }
  const sections = (data as Partial<EntryFile>)['private-sections'] ?? [];
  const shown = hides.has('prose') ? '' : withoutSections(body, sections);
  const stays = (url: string) => !hides.has('photos') && !photos.has(photoFromProse(url).normalize('NFC'));
  // Readings that the prose tells are kept with the data under a key that no field has: they go with the prose.
  const written = Object.fromEntries(
    Object.entries(data as object).filter(([key]) => key !== TOLD && !isOwnersOwn(role, [key])),
  );
  return { path, role, data: written, body: withoutPictures(shown, stays), hides };
}

function pathsToCut({ role, data, hides }: DraftFile, { systems, photos }: Hidden): readonly Path[] {
  const byField = leavesOf(data).flatMap((leaf) => {
    // Lists and maps as a whole are no leaves: what is hidden in them is found above one of their leaves.
    return prefixesOf(leaf.path).flatMap((path, index, all): Path[] => {
      const whole = index === all.length - 1;
      const found = whole ? leaf : { path, part: 'value' as const, value: undefined };
      const what = classOf(role, found);
      return isOwnersOwn(role, path) || (what !== null && hides.has(what)) ? [path] : [];
    });
  });
  switch (role) {
    case 'system':
      return [...byField, ...privateThings(data as SystemFile)];
    case 'entry':
      return [...byField, ...ofEntry(data as EntryFile, systems, photos)];
    default:
      return byField;
  }
}

function prefixesOf(path: Path): readonly Path[] {
  return path.map((_, index) => path.slice(0, index + 1));
}

function privateThings(data: SystemFile): readonly Path[] {
  return (['points', 'specs'] as const).flatMap((section) =>
    Object.entries(data[section] ?? {}).flatMap(([name, thing]) =>
      thing.private === true ? [[section, name]] : [],
    ),
  );
}

function ofEntry(
  data: EntryFile,
  systems: ReadonlySet<string>,
  photos: ReadonlySet<string>,
): readonly Path[] {
  const shared = data.systems.some((system) => systems.has(system));
  return [
    // Work on several systems would be counted for those that are left.
    ...(data.hours ?? []).flatMap(({ on }, index) => (shared && on === undefined ? [['hours', index]] : [])),
    ...(data.photos ?? []).flatMap(({ file }, index) =>
      photos.has(file.normalize('NFC')) ? [['photos', index]] : [],
    ),
    ...(['measurements', 'statements', 'tests', 'parts'] as const).flatMap((list) =>
      (data[list] ?? []).flatMap((item, index) => {
        const see = (item as { readonly see?: string }).see;
        const names =
          see !== undefined && [...photos].some((file) => file === see || file.endsWith(`/${see}`));
        return names ? [[list, index, 'see']] : [];
      }),
    ),
  ];
}
