import {
  type Connection,
  DiagnosticSeverity,
  type Diagnostic as LspDiagnostic,
} from 'vscode-languageserver/node';
import type { Diagnostic } from '../check/diagnostic.js';
import type { EditedBook, Found } from './book.js';
import type { Documents } from './documents.js';

/** Problems as the editor shows them: told of every file that has some, and taken back when they are mended. */

export interface Published {
  readonly tell: (book: EditedBook) => Promise<void>;
  /** Takes back everything that was told of a book. */
  readonly takeBack: (root: string) => void;
}

export function publishTo(connection: Connection, documents: Documents): Published {
  /** Addresses of files that have problems in the editor now, by book. */
  const told = new Map<string, ReadonlySet<string>>();
  const send = (uri: string, diagnostics: LspDiagnostic[]) => {
    void connection.sendDiagnostics({ uri, diagnostics });
  };
  return {
    tell: async (book) => {
      const found = await book.found();
      const byFile = new Map<string, LspDiagnostic[]>();
      for (const diagnostic of found.diagnostics) {
        const { uri } = documents.addressOf(book.root, diagnostic.file);
        byFile.set(uri, [...(byFile.get(uri) ?? []), asShown(diagnostic, book.root, found, documents)]);
      }
      for (const uri of told.get(book.root) ?? []) if (!byFile.has(uri)) send(uri, []);
      for (const [uri, diagnostics] of byFile) send(uri, diagnostics);
      told.set(book.root, new Set(byFile.keys()));
      // What completion will ask for next is made ready meanwhile.
      await book.known();
    },
    takeBack: (root) => {
      for (const uri of told.get(root) ?? []) send(uri, []);
      told.delete(root);
    },
  };
}

/** A problem with its place, its code and its hint. */
export function asShown(
  diagnostic: Diagnostic,
  root: string,
  { folder }: Found,
  documents: Documents,
): LspDiagnostic {
  const { file, span, code, message, hint, severity } = diagnostic;
  const text = folder.files.find(({ path }) => path === file)?.text ?? '';
  return {
    range: documents.rangeOf(root, file, text, span),
    severity: severity === 'error' ? DiagnosticSeverity.Error : DiagnosticSeverity.Warning,
    code,
    source: 'ribband',
    message: hint === null ? message : `${message}\n${hint}`,
  };
}
