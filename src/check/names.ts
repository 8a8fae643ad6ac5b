import type { EntryFile } from '../../schemas/entry.js';
import { type Sort, unknown } from './messages.js';
import type {
  CheckedBook,
  Derived,
  Instrument,
  Meter,
  Person,
  Place,
  Point,
  Spec,
  System,
  TestProcedure,
  Upkeep,
} from './model.js';
import { nearest } from './nearest.js';
import type { Report } from './problem.js';
import { systemTitled } from './system-titles.js';

/** Everything in the book that can be named, for looking names up and for saying which was meant. */
export interface Names {
  readonly systems: ReadonlyMap<string, System>;
  /** Systems whose files have problems: what they declare is not known, and nothing is said of their names. */
  readonly broken: ReadonlySet<string>;
  readonly points: ReadonlyMap<string, Point>;
  readonly meters: ReadonlyMap<string, Meter>;
  readonly specs: ReadonlyMap<string, Spec>;
  readonly derived: ReadonlyMap<string, Derived>;
  readonly tests: ReadonlyMap<string, TestProcedure>;
  readonly upkeep: ReadonlyMap<string, Upkeep>;
  readonly people: ReadonlyMap<string, Person>;
  readonly instruments: ReadonlyMap<string, Instrument>;
  readonly parts: ReadonlySet<string>;
  readonly items: ReadonlySet<string>;
  readonly decisions: ReadonlySet<string>;
  /** Some entry, or book.yaml, could not be read: parts, items and decisions may be declared there. */
  readonly entriesBroken: boolean;
  readonly bookBroken: boolean;
}

/** What of a book is declared outside its entries. */
export type Declared = Pick<CheckedBook, 'people' | 'instruments' | 'systems'>;

/** Gathers the names of a book. */
export function gatherNames(
  declared: Declared,
  entries: readonly EntryFile[],
  broken: { readonly systems: ReadonlySet<string>; readonly entries: boolean; readonly book: boolean },
): Names {
  return {
    systems: declared.systems,
    broken: broken.systems,
    ...gatherRefs(declared.systems),
    people: declared.people,
    instruments: declared.instruments,
    parts: new Set(entries.flatMap((entry) => entry.parts?.map((part) => part.part) ?? [])),
    items: new Set(entries.flatMap((entry) => entry.opens?.map((open) => open.item) ?? [])),
    decisions: new Set(
      entries.flatMap((entry) => entry.decisions?.map((decision) => decision.decision) ?? []),
    ),
    entriesBroken: broken.entries,
    bookBroken: broken.book,
  };
}

function gatherRefs(systems: ReadonlyMap<string, System>) {
  const all = [...systems.values()];
  const byRef = <T extends { readonly ref: string }>(pick: (system: System) => ReadonlyMap<string, T>) =>
    new Map(all.flatMap((system) => [...pick(system).values()].map((found) => [found.ref, found] as const)));
  return {
    points: byRef((system) => system.points),
    meters: byRef((system) => system.meters),
    specs: byRef((system) => system.specs),
    derived: byRef((system) => system.derived),
    tests: byRef((system) => system.tests),
    upkeep: byRef((system) => system.upkeep),
  };
}

const BY_REF = { point: 'points', meter: 'meters', spec: 'specs', test: 'tests', upkeep: 'upkeep' } as const;

/** Looks up `system.name`; an unknown one is reported with the nearest known. */
export function findRef<S extends keyof typeof BY_REF>(
  names: Names,
  sort: S,
  ref: string,
  path: Place['path'],
  report: Report,
  part: 'key' | 'value' = 'value',
): (Names[(typeof BY_REF)[S]] extends ReadonlyMap<string, infer T> ? T : never) | null {
  const map = names[BY_REF[sort]] as ReadonlyMap<string, never>;
  const found = map.get(ref);
  if (found !== undefined) return found;
  reportRef(names, sort, ref, [...map.keys()], path, report, part);
  return null;
}

function reportRef(
  names: Names,
  sort: Sort,
  ref: string,
  known: readonly string[],
  path: Place['path'],
  report: Report,
  part: 'key' | 'value',
): void {
  const [system = '', name = ''] = ref.split('.');
  if (names.broken.has(system)) return;
  if (!names.systems.has(system)) {
    report(
      unknown('system', system, nearest(system, names.systems.keys()), [...names.systems.keys()]),
      path,
      {
        part,
        slice: { offset: 0, length: system.length },
      },
    );
    return;
  }
  const beside = known
    .filter((other) => other.startsWith(`${system}.`))
    .map((other) => other.slice(system.length + 1));
  const near = nearest(name, beside);
  report(unknown(sort, ref, near === null ? nearest(ref, known) : `${system}.${near}`), path, { part });
}

/** Whether a name is a point, a spec or a derived value; an unknown one is reported. */
export function findValueName(names: Names, ref: string, path: Place['path'], report: Report): boolean {
  if (names.points.has(ref) || names.specs.has(ref) || names.derived.has(ref)) return true;
  reportRef(
    names,
    'name',
    ref,
    [...names.points.keys(), ...names.specs.keys(), ...names.derived.keys()],
    path,
    report,
    'value',
  );
  return false;
}

/** Looks up a system; an unknown one is reported. */
export function findSystem(names: Names, id: string, path: Place['path'], report: Report): boolean {
  if (names.systems.has(id) || names.broken.has(id)) return true;
  const near = systemTitled(names.systems, id) ?? nearest(id, names.systems.keys());
  report(unknown('system', id, near, [...names.systems.keys()]), path);
  return false;
}

/** Looks up a person or instrument of book.yaml; null, without a word, where book.yaml itself is broken. */
export function findListed<S extends 'person' | 'instrument'>(
  names: Names,
  sort: S,
  id: string | undefined,
  path: Place['path'],
  report: Report,
): (S extends 'person' ? Person : Instrument) | null {
  if (id === undefined) return null;
  const map = (sort === 'person' ? names.people : names.instruments) as ReadonlyMap<string, never>;
  const found = map.get(id);
  if (found !== undefined) return found;
  if (!names.bookBroken) report(unknown(sort, id, nearest(id, map.keys()), [...map.keys()]), path);
  return null;
}

/** Whether an entry declares a part, item or decision of that name; an unknown one is reported. */
export function findTold(
  names: Names,
  sort: 'part' | 'item' | 'decision',
  id: string,
  path: Place['path'],
  report: Report,
  slice?: { readonly offset: number; readonly length: number },
): boolean {
  const known = { part: names.parts, item: names.items, decision: names.decisions }[sort];
  if (known.has(id) || names.entriesBroken) return true;
  report(unknown(sort, id, nearest(id, known)), path, slice === undefined ? {} : { slice });
  return false;
}
