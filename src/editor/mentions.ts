import { toldIn } from '../check/inline.js';
import { namesIn } from '../quantity/index.js';
import type { SourceFile } from '../read/folder.js';
import { type Field, fieldAt, type Space } from '../read/name-fields.js';
import { scalarsIn, type WrittenScalar, yamlOf } from '../read/scalars.js';

/** Every place in a book where something is named: for going to it, for finding it, and for renaming it. */

/** A name as it stands in a file. */
export interface Mention {
  readonly file: string;
  readonly space: Space;
  /** In full: `system.name` for what a system declares. */
  readonly name: string;
  /** The whole of it as written, in the text of its file. */
  readonly offset: number;
  readonly length: number;
  /** The last step of it: what a change of name replaces. */
  readonly own: { readonly offset: number; readonly length: number };
  readonly declares: boolean;
  /** Whether it is all that its scalar says, without quotes: then a name like a number has to be put in some. */
  readonly bare: boolean;
}

/** What the mentions of one file hang on in others. */
export interface DeclaredRefs {
  readonly has: (ref: string) => boolean;
  readonly isPoint: (ref: string) => boolean;
}

/** A file, as far as it matters where names stand in it. */
export type NamedFile = Pick<SourceFile, 'path' | 'role' | 'text'>;

/** Everything that a file names, in the order of its text. */
export async function mentionsIn(file: NamedFile, declared: DeclaredRefs): Promise<readonly Mention[]> {
  const scalars = scalarsIn(file.text, file.path.endsWith('.yaml'));
  const context = contextOf(file, scalars, declared);
  const written = scalars.flatMap((scalar) => {
    const field = fieldAt(file.role, scalar.path, scalar.part);
    return field === null || !scalar.verbatim ? [] : mentionsOf(scalar, field, context);
  });
  return [...written, ...(await toldMentions(file))];
}

/** The mention in which a place lies; its very end counts as in it. */
export function mentionAt(mentions: readonly Mention[], offset: number): Mention | null {
  return (
    mentions.find((one) => offset >= one.offset && offset < one.offset + one.length) ??
    mentions.find((one) => offset === one.offset + one.length) ??
    null
  );
}

interface Context {
  readonly file: string;
  /** The system whose names may stand alone in this file; null where none may. */
  readonly system: string | null;
  readonly declared: DeclaredRefs;
  /** The test named beside the readings of one, by the path of the test. */
  readonly testAt: (index: string | number | undefined) => string | null;
}

function contextOf(file: NamedFile, scalars: readonly WrittenScalar[], declared: DeclaredRefs): Context {
  const system = file.role === 'system' ? systemOf(file, scalars) : null;
  const own = new Set(
    scalars.flatMap(({ path, part }) =>
      part === 'key' && path.length === 2 && file.role === 'system' ? [`${system}.${path[1]}`] : [],
    ),
  );
  const ownPoints = new Set(
    scalars.flatMap(({ path, part }) =>
      part === 'key' && path.length === 2 && path[0] === 'points' ? [`${system}.${path[1]}`] : [],
    ),
  );
  const tests = new Map(
    scalars.flatMap(({ path, part, text }) =>
      part === 'value' && path[0] === 'tests' && path[2] === 'test' && path.length === 3
        ? [[path[1], text] as const]
        : [],
    ),
  );
  return {
    file: file.path,
    system,
    // What this very text declares comes first: the rest of the book may be a moment older.
    declared:
      system === null
        ? declared
        : {
            has: (ref) => own.has(ref) || declared.has(ref),
            isPoint: (ref) => (ref.startsWith(`${system}.`) ? ownPoints.has(ref) : declared.isPoint(ref)),
          },
    testAt: (index) => (index === undefined ? null : (tests.get(index) ?? null)),
  };
}

/** The name of the system that a file is about: as it says, else as the file is called. */
export function systemOf(file: Pick<NamedFile, 'path'>, scalars: readonly WrittenScalar[]): string {
  const said = scalars.find(
    ({ path, part }) => part === 'value' && path.length === 1 && path[0] === 'system',
  );
  return said?.text ?? file.path.replace(/^.*\//, '').replace(/\.md$/, '');
}

function mentionsOf(scalar: WrittenScalar, field: Field, context: Context): readonly Mention[] {
  const whole = { at: scalar.inside, text: scalar.text, bare: !scalar.quoted };
  switch (field.holds) {
    case 'name':
      return [mention(context.file, field.space, scalar.text, whole, field.declares)];
    case 'declared-ref':
      return [mention(context.file, 'ref', `${context.system}.${scalar.text}`, whole, true)];
    case 'ref':
      return [
        mention(context.file, 'ref', inFull(scalar.text, field.local ? context.system : null), whole, false),
      ];
    case 'requirement':
      return requirement(scalar, field.declares, context);
    case 'waits-on':
      return waitsOn(scalar, context);
    case 'formula':
      return formula(scalar, field.local ? context.system : null, context);
  }
}

interface Written {
  readonly at: number;
  readonly text: string;
  readonly bare: boolean;
}

function mention(
  file: string,
  space: Space,
  name: string,
  { at, text, bare }: Written,
  declares: boolean,
): Mention {
  const step = space === 'ref' ? text.lastIndexOf('.') + 1 : 0;
  const own = { offset: at + step, length: text.length - step };
  return { file, space, name, offset: at, length: text.length, own, declares, bare };
}

/** `capacity` inside the file of `house-dc` means `house-dc.capacity`. */
function inFull(name: string, system: string | null): string {
  return system === null || name.includes('.') ? name : `${system}.${name}`;
}

/** What a test requires is read at the point of the same name, where its system has one: then it is that point. */
function requirement(scalar: WrittenScalar, declares: boolean, context: Context): readonly Mention[] {
  const test =
    context.system === null ? context.testAt(scalar.path[1]) : `${context.system}.${scalar.path[1]}`;
  if (test === null) return [];
  const point = `${test.slice(0, test.indexOf('.'))}.${scalar.text}`;
  const whole = { at: scalar.inside, text: scalar.text, bare: !scalar.quoted };
  return context.declared.isPoint(point)
    ? [mention(context.file, 'ref', point, whole, false)]
    : [mention(context.file, 'requirement', `${test}/${scalar.text}`, whole, declares)];
}

const WAITS = /^(part|item|decision) (\S+)$/;

function waitsOn(scalar: WrittenScalar, { file }: Context): readonly Mention[] {
  const [, sort, name] = WAITS.exec(scalar.text) ?? [];
  if (sort === undefined || name === undefined) return [];
  const at = scalar.inside + sort.length + 1;
  return [mention(file, sort as 'part' | 'item' | 'decision', name, { at, text: name, bare: false }, false)];
}

function formula(
  scalar: WrittenScalar,
  system: string | null,
  { file, declared }: Context,
): readonly Mention[] {
  const isName = (name: string) => declared.has(inFull(name, system));
  return namesIn(scalar.text, isName).flatMap(({ name, offset }) => {
    const full = inFull(name, system);
    // Where names have to be given in full, a word alone is a slip and names nothing.
    if (!full.includes('.')) return [];
    return [mention(file, 'ref', full, { at: scalar.inside + offset, text: name, bare: false }, false)];
  });
}

const TOLD_NAMES: ReadonlyMap<string, Space> = new Map([
  ['point', 'ref'],
  ['with', 'instrument'],
  ['by', 'person'],
  ['system', 'system'],
]);

/** Names in readings that the prose of an entry tells. */
async function toldMentions(file: NamedFile): Promise<readonly Mention[]> {
  if (file.role !== 'entry') return [];
  const start = bodyStart(file.text);
  const told = await toldIn(file.text.slice(start));
  return told.flatMap(({ attributes }) =>
    attributes.flatMap(({ name, value }) => {
      const space = TOLD_NAMES.get(name.text);
      if (space === undefined || value.text === '') return [];
      const gap = value.text.length - value.text.trimStart().length;
      const text = value.text.trim();
      return [mention(file.path, space, text, { at: start + value.offset + gap, text, bare: false }, false)];
    }),
  );
}

/** Where the prose of a Markdown file begins: behind the line that closes the front matter. */
export function bodyStart(text: string): number {
  const yaml = yamlOf(text, false);
  if (yaml === null) return 0;
  const end = yaml.offset + yaml.length;
  const line = /^---[ \t]*(?:\r?\n|$)/.exec(text.slice(end))?.[0].length;
  return line === undefined ? text.length : end + line;
}
