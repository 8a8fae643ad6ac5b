import type { Role } from '../read/folder.js';
import { scalarsIn, type WrittenScalar, yamlOf } from '../read/scalars.js';
import { bodyStart } from './mentions.js';

/**
 * Where the cursor stands in a text that is being typed. A mark is put in at the cursor and looked for in what the
 * parser makes of it: so that a field, a list or a line that has nothing in it yet has a path all the same.
 */

/** The cursor in the fields of a file. */
export interface FieldCursor {
  readonly in: 'fields';
  readonly role: Role;
  readonly path: readonly (string | number)[];
  readonly part: 'key' | 'value';
  /** What stands before the cursor in the key or value. */
  readonly before: string;
  /** Where the key or value begins (behind its quote); the rest of its word goes on to `wordEnd`. */
  readonly start: number;
  readonly wordEnd: number;
  readonly quoted: boolean;
  /** Whether what stands here has the line to itself, behind the key that it belongs to. */
  readonly ownLine: boolean;
  /** Whether the key is followed by its colon already. */
  readonly hasColon: boolean;
  /** All keys and values of the text, with the mark taken out again. */
  readonly scalars: readonly WrittenScalar[];
}

/** The cursor in the prose, in a reading that is told there. */
export interface ProseCursor {
  readonly in: 'prose';
  readonly at: 'mark' | 'value' | 'attribute' | 'attribute-value';
  /** Of an attribute's value: which. */
  readonly attribute: string | null;
  readonly before: string;
  readonly start: number;
  /** Attributes that are there already, with their values. */
  readonly given: ReadonlyMap<string, string>;
}

const MARK = 'xRibbandCursorx';

/** Where a place in a file is; null where nothing can be offered. */
export function cursorAt(
  file: { role: Role; path: string; text: string },
  offset: number,
): FieldCursor | ProseCursor | null {
  const isYaml = file.path.endsWith('.yaml');
  const yaml = yamlOf(file.text, isYaml);
  if (yaml !== null && offset >= yaml.offset && offset <= yaml.offset + yaml.length)
    return fieldCursor(file, offset, isYaml);
  if (!isYaml && file.role === 'entry' && offset >= bodyStart(file.text))
    return proseCursor(file.text, offset);
  return null;
}

function fieldCursor(
  { role, text }: { role: Role; text: string },
  offset: number,
  isYaml: boolean,
): FieldCursor | null {
  const marked = text.slice(0, offset) + MARK + text.slice(offset);
  const scalars = scalarsIn(marked, isYaml);
  const here = scalars.find((scalar) => scalar.text.includes(MARK));
  if (here === undefined) return null;
  const before = text.slice(here.inside, offset);
  // A value in several lines is prose, and a quote that was never closed takes in the rest of the file.
  if (before.includes('\n') || !marked.startsWith(MARK, here.inside + before.length)) return null;
  const lineStart = text.lastIndexOf('\n', offset - 1) + 1;
  const after = text.slice(offset);
  const wordEnd = offset + (/^[\p{L}\p{N}._-]*/u.exec(after)?.[0].length ?? 0);
  return {
    in: 'fields',
    role,
    path: here.part === 'key' ? here.path.slice(0, -1) : here.path,
    part: here.part,
    before,
    start: here.inside,
    wordEnd,
    quoted: here.quoted,
    ownLine: /^\s*(?:-\s+)*["']?$/.test(text.slice(lineStart, here.inside)),
    hasColon: /^["']?\s*:/.test(text.slice(wordEnd)),
    scalars: scalars.filter((scalar) => scalar !== here).map((scalar) => unmarked(scalar, offset)),
  };
}

/** A scalar behind the mark stands nearer to the beginning once the mark is out. */
function unmarked(scalar: WrittenScalar, offset: number): WrittenScalar {
  const path = scalar.path.map((step) => (typeof step === 'string' ? step.replace(MARK, '') : step));
  if (scalar.offset < offset) return { ...scalar, path };
  return { ...scalar, path, offset: scalar.offset - MARK.length, inside: scalar.inside - MARK.length };
}

const OPEN_VALUE = /:reading\[([^\]\n]*)$/;
const OPEN_ATTRIBUTE = /:reading\[[^\]]*\]\{([^}]*)$/;
const STARTED = /(?:^|[\s(])(:r?e?a?d?i?n?g?)$/;
const GIVEN = /([\w-]+)\s*=\s*"([^"]*)"/g;

/** A reading is told in fewer letters than this. */
const LONGEST = 2000;

function proseCursor(text: string, offset: number): ProseCursor | null {
  const from = Math.max(bodyStart(text), text.lastIndexOf('\n\n', offset - 1), offset - LONGEST);
  const before = text.slice(from, offset);
  const inBraces = OPEN_ATTRIBUTE.exec(before)?.[1];
  if (inBraces !== undefined) return attributeCursor(inBraces, offset);
  const value = OPEN_VALUE.exec(before)?.[1];
  if (value !== undefined) {
    const attributes = /^[^\]\n]*\]\{([^}]*)\}/.exec(text.slice(offset))?.[1] ?? '';
    return {
      in: 'prose',
      at: 'value',
      attribute: null,
      before: value,
      start: offset - value.length,
      given: given(attributes),
    };
  }
  const started = STARTED.exec(before)?.[1];
  if (started === undefined) return null;
  return {
    in: 'prose',
    at: 'mark',
    attribute: null,
    before: started,
    start: offset - started.length,
    given: new Map(),
  };
}

function attributeCursor(inBraces: string, offset: number): ProseCursor {
  const all = given(inBraces);
  const open = /([\w-]+)\s*=\s*"([^"]*)$/.exec(
    inBraces.replaceAll(GIVEN, (found) => ' '.repeat(found.length)),
  );
  if (open !== null) {
    const [, attribute = '', before = ''] = open;
    return {
      in: 'prose',
      at: 'attribute-value',
      attribute,
      before,
      start: offset - before.length,
      given: all,
    };
  }
  const before = /[\w-]*$/.exec(inBraces)?.[0] ?? '';
  return { in: 'prose', at: 'attribute', attribute: null, before, start: offset - before.length, given: all };
}

function given(attributes: string): ReadonlyMap<string, string> {
  return new Map([...attributes.matchAll(GIVEN)].map(([, name = '', value = '']) => [name, value]));
}
