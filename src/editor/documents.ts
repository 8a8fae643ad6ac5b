import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import {
  type Connection,
  type Range,
  type TextDocumentPositionParams,
  TextDocuments,
} from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { roleOf } from '../read/folder.js';
import type { Stretch } from '../read/thorough.js';
import type { NamedFile } from './mentions.js';
import { type PlaceInBook, placeInBook } from './overlay.js';

/**
 * The texts that are open in the editor, and the way between its addresses and positions (lines and columns in
 * UTF-16 units, both from nought) and a book's paths and offsets.
 */

const MARK_OF_ORDER = '\ufeff';

/** An open file of a book, and a place in it. */
export interface OpenPlace extends PlaceInBook {
  readonly file: NamedFile;
  readonly offset: number;
}

export interface Documents {
  readonly all: TextDocuments<TextDocument>;
  /** The place of an address in a book; null for what is in none. */
  readonly placeOf: (uri: string) => PlaceInBook | null;
  /** An open file and an offset in it, as a request names them. */
  readonly at: (params: TextDocumentPositionParams) => OpenPlace | null;
  /** The texts of a book that are open, by path, without a byte order mark. */
  readonly openIn: (root: string) => ReadonlyMap<string, string>;
  /** The address by which the editor knows a file, and the version of its text there; null for one not open. */
  readonly addressOf: (
    root: string,
    path: string,
  ) => { readonly uri: string; readonly version: number | null };
  /** A stretch of a file as lines and columns. `text` is that of the file, without a byte order mark. */
  readonly rangeOf: (root: string, path: string, text: string, stretch: Stretch) => Range;
}

/** Follows what is open at a connection. */
export function followDocuments(connection: Connection): Documents {
  const all = new TextDocuments(TextDocument);
  all.listen(connection);
  const find = (file: string) => all.all().find((document) => fileOf(document.uri) === file);
  const placeOf = (uri: string): PlaceInBook | null => {
    const file = fileOf(uri);
    return file === null ? null : placeInBook(file, (other) => find(other) !== undefined);
  };
  // Many places of one text are asked for in a row, and its lines need to be counted once.
  let last = { text: '', document: TextDocument.create('', '', 0, '') };
  const linesOf = (text: string): TextDocument => {
    if (last.text !== text) last = { text, document: TextDocument.create('', '', 0, text) };
    return last.document;
  };
  // An editor that shows the mark of byte order as a letter counts it in the first line.
  const shiftOf = (root: string, path: string) =>
    find(join(root, path))?.getText().startsWith(MARK_OF_ORDER) === true ? 1 : 0;
  return {
    all,
    placeOf,
    at: ({ textDocument, position }) => {
      const document = all.get(textDocument.uri);
      const place = placeOf(textDocument.uri);
      const role = place === null ? null : roleOf(place.path);
      if (document === undefined || place === null || role === null) return null;
      const text = unmarked(document.getText());
      const offset = document.offsetAt(position) - shiftOf(place.root, place.path);
      return { ...place, file: { path: place.path, role, text }, offset: Math.max(0, offset) };
    },
    openIn: (root) =>
      new Map(
        all.all().flatMap((document) => {
          const place = placeOf(document.uri);
          return place?.root === root ? [[place.path, unmarked(document.getText())] as const] : [];
        }),
      ),
    addressOf: (root, path) => {
      const file = join(root, path);
      const open = find(file);
      return open === undefined
        ? { uri: pathToFileURL(file).href, version: null }
        : { uri: open.uri, version: open.version };
    },
    rangeOf: (root, path, text, { offset, length }) => {
      const shift = shiftOf(root, path);
      const document = linesOf(shift === 0 ? text : MARK_OF_ORDER + text);
      return {
        start: document.positionAt(offset + shift),
        end: document.positionAt(offset + shift + length),
      };
    },
  };
}

function unmarked(text: string): string {
  return text.startsWith(MARK_OF_ORDER) ? text.slice(1) : text;
}

/** The file of an address; null for what is no file on this machine. */
function fileOf(uri: string): string | null {
  try {
    return uri.startsWith('file:') ? fileURLToPath(uri) : null;
  } catch {
    return null;
  }
}
