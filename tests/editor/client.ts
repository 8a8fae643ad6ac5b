import { cpSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { PassThrough } from 'node:stream';
import { pathToFileURL } from 'node:url';
import { StreamMessageReader, StreamMessageWriter } from 'vscode-jsonrpc/node';
import { createConnection } from 'vscode-languageserver/node';
import {
  type ClientCapabilities,
  type CodeAction,
  CodeActionRequest,
  type CompletionItem,
  CompletionRequest,
  CompletionResolveRequest,
  createProtocolConnection,
  DefinitionRequest,
  type Diagnostic,
  DidChangeTextDocumentNotification,
  DidCloseTextDocumentNotification,
  DidOpenTextDocumentNotification,
  DidSaveTextDocumentNotification,
  type Hover,
  HoverRequest,
  InitializedNotification,
  InitializeRequest,
  type InitializeResult,
  type Location,
  type Position,
  PrepareRenameRequest,
  type ProtocolConnection,
  PublishDiagnosticsNotification,
  type Range,
  ReferencesRequest,
  RenameRequest,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver-protocol/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { lastingMemory } from '../../src/cli/lasting-memory.js';
import { checkAndReckon } from '../../src/cli/reckon-book.js';
import { serveEditor } from '../../src/editor/server.js';
import { NO_CACHE } from '../../src/write/cache.js';
import { tempFolder } from '../folders.js';

/** An editor, as far as tests need one, at a language server. */

export const TODAY = '2026-11-20';
export const ROOT = join(import.meta.dirname, '../..');

/** A copy of the demo book in a folder whose name is as awkward as names get. */
export function demoBook(): string {
  const folder = emptyFolder();
  const root = join(folder, 'log');
  cpSync(join(ROOT, 'log'), root, { recursive: true, filter: (file) => !/\/\.[^/]*$/.test(file) });
  return root;
}

/** A book of these files. */
export function bookOf(files: Readonly<Record<string, string>>): string {
  const root = emptyFolder();
  for (const [path, text] of Object.entries(files)) put(root, path, text);
  return root;
}

export function put(root: string, path: string, text: string): void {
  mkdirSync(dirname(join(root, path)), { recursive: true });
  writeFileSync(join(root, path), text);
}

function emptyFolder(): string {
  return tempFolder('ribband editor Größe #1 ');
}

export const CAPABILITIES: ClientCapabilities = {
  textDocument: {
    hover: { contentFormat: ['markdown', 'plaintext'] },
    completion: { completionItem: { snippetSupport: true } },
  },
};

export interface Editor {
  readonly connection: ProtocolConnection;
  readonly initialized: InitializeResult;
  /** The text of a file as it is in the editor. */
  readonly text: (path: string) => string;
  readonly open: (path: string, text?: string) => void;
  /** Puts a text in place of what stands there once. */
  readonly type: (path: string, from: string, to: string) => void;
  readonly replace: (path: string, text: string) => void;
  readonly close: (path: string) => void;
  readonly save: (path: string) => void;
  /** What was told of a file last; undefined where nothing was. */
  readonly told: (path: string) => readonly Diagnostic[] | undefined;
  /** Waits until what is told of a file is as it has to be. */
  readonly until: (
    path: string,
    fits: (told: readonly Diagnostic[]) => boolean,
  ) => Promise<readonly Diagnostic[]>;
  /** All addresses of which something was told. */
  readonly addresses: () => readonly string[];
  /** The place of a mark in a text: where `‸` stands in it. */
  readonly place: (path: string, marked: string) => Position;
  readonly complete: (path: string, marked: string) => Promise<readonly CompletionItem[]>;
  readonly resolve: (item: CompletionItem) => Promise<CompletionItem>;
  readonly hover: (path: string, marked: string) => Promise<Hover | null>;
  readonly define: (path: string, marked: string) => Promise<readonly Location[]>;
  readonly refer: (path: string, marked: string) => Promise<readonly Location[]>;
  readonly prepare: (path: string, marked: string) => Promise<unknown>;
  readonly rename: (path: string, marked: string, name: string) => Promise<WorkspaceEdit | null>;
  readonly mends: (path: string, range: Range) => Promise<readonly CodeAction[]>;
  readonly uri: (path: string) => string;
}

export const CURSOR = '‸';

/** Starts a server in this process and greets it. */
export async function editor(root: string, capabilities = CAPABILITIES): Promise<Editor> {
  const [up, down] = [new PassThrough(), new PassThrough()];
  serveEditor(createConnection(new StreamMessageReader(up), new StreamMessageWriter(down)), {
    check: checkAndReckon,
    memory: () => lastingMemory(NO_CACHE),
    today: () => TODAY,
  });
  return greet(
    root,
    createProtocolConnection(new StreamMessageReader(down), new StreamMessageWriter(up)),
    capabilities,
  );
}

/** Greets a server at a connection. @param address how the address of a file is written. */
export async function greet(
  root: string,
  connection: ProtocolConnection,
  capabilities = CAPABILITIES,
  address = (file: string) => pathToFileURL(file).href,
): Promise<Editor> {
  const documents = new Map<string, TextDocument>();
  const told = new Map<string, readonly Diagnostic[]>();
  const waiting = new Set<() => void>();
  const uri = (path: string) => address(join(root, path));
  connection.onNotification(PublishDiagnosticsNotification.type, (params) => {
    told.set(params.uri, params.diagnostics);
    for (const look of waiting) look();
  });
  connection.listen();
  const initialized = await connection.sendRequest(InitializeRequest.type, {
    processId: null,
    rootUri: null,
    capabilities,
  });
  await connection.sendNotification(InitializedNotification.type, {});
  const document = (path: string): TextDocument => {
    const known = documents.get(path);
    if (known === undefined) throw new Error(`${path} is not open`);
    return known;
  };
  const send = (work: Promise<void>) => {
    work.catch((error: unknown) => {
      throw error;
    });
  };
  const change = (path: string, range: Range | null, text: string) => {
    const before = document(path);
    const changes = range === null ? [{ text }] : [{ range, text }];
    const after = TextDocument.update(before, changes, before.version + 1);
    documents.set(path, after);
    send(
      connection.sendNotification(DidChangeTextDocumentNotification.type, {
        textDocument: { uri: uri(path), version: after.version },
        contentChanges: changes,
      }),
    );
  };
  const place = (path: string, marked: string): Position => {
    const plain = marked.replace(CURSOR, '');
    const text = document(path).getText();
    const at = text.indexOf(plain);
    if (at < 0 || text.indexOf(plain, at + 1) >= 0) throw new Error(`not once in ${path}: ${plain}`);
    return document(path).positionAt(at + marked.indexOf(CURSOR));
  };
  const at = (path: string, marked: string) => ({
    textDocument: { uri: uri(path) },
    position: place(path, marked),
  });
  const listOf = async <T>(answer: Promise<T | T[] | null>): Promise<readonly T[]> => {
    const found = await answer;
    return found === null ? [] : Array.isArray(found) ? found : [found];
  };
  return {
    connection,
    initialized,
    uri,
    text: (path) => document(path).getText(),
    open: (path, text = readFileSync(join(root, path), 'utf8')) => {
      const opened = TextDocument.create(uri(path), 'plaintext', 1, text);
      documents.set(path, opened);
      send(
        connection.sendNotification(DidOpenTextDocumentNotification.type, {
          textDocument: { uri: uri(path), languageId: 'plaintext', version: 1, text },
        }),
      );
    },
    type: (path, from, to) => {
      const start = place(path, `${CURSOR}${from}`);
      const end = document(path).positionAt(document(path).offsetAt(start) + from.length);
      change(path, { start, end }, to);
    },
    replace: (path, text) => change(path, null, text),
    close: (path) => {
      documents.delete(path);
      send(
        connection.sendNotification(DidCloseTextDocumentNotification.type, {
          textDocument: { uri: uri(path) },
        }),
      );
    },
    save: (path) => {
      put(root, path, document(path).getText());
      send(
        connection.sendNotification(DidSaveTextDocumentNotification.type, {
          textDocument: { uri: uri(path) },
        }),
      );
    },
    told: (path) => told.get(uri(path)),
    addresses: () => [...told.keys()],
    until: (path, fits) =>
      new Promise((resolve, reject) => {
        const limit = setTimeout(() => {
          waiting.delete(look);
          reject(new Error(`never told of ${path}: ${JSON.stringify(told.get(uri(path)))}`));
        }, 30_000);
        const look = () => {
          const now = told.get(uri(path));
          if (now === undefined || !fits(now)) return;
          clearTimeout(limit);
          waiting.delete(look);
          resolve(now);
        };
        waiting.add(look);
        look();
      }),
    place,
    complete: async (path, marked) => {
      const found = await connection.sendRequest(CompletionRequest.type, at(path, marked));
      return found === null ? [] : Array.isArray(found) ? found : found.items;
    },
    resolve: (item) => connection.sendRequest(CompletionResolveRequest.type, item),
    hover: (path, marked) => connection.sendRequest(HoverRequest.type, at(path, marked)),
    define: (path, marked) =>
      listOf(connection.sendRequest(DefinitionRequest.type, at(path, marked)) as Promise<Location[] | null>),
    refer: (path, marked) =>
      listOf(
        connection.sendRequest(ReferencesRequest.type, {
          ...at(path, marked),
          context: { includeDeclaration: true },
        }),
      ),
    prepare: (path, marked) => connection.sendRequest(PrepareRenameRequest.type, at(path, marked)),
    rename: (path, marked, newName) =>
      connection.sendRequest(RenameRequest.type, { ...at(path, marked), newName }),
    mends: async (path, range) => {
      const textDocument = { uri: uri(path) };
      const found = await connection.sendRequest(CodeActionRequest.type, {
        textDocument,
        range,
        context: { diagnostics: [] },
      });
      return (found ?? []).filter((action): action is CodeAction => 'kind' in action);
    },
  };
}

/** The stretch of a text that a range means. */
export function inRange(text: string, range: Range): string {
  return TextDocument.create('', '', 0, text).getText(range);
}

/** A text with edits of it. */
export function edited(text: string, edits: readonly TextEdit[]): string {
  return TextDocument.applyEdits(TextDocument.create('', '', 0, text), [...edits]);
}

/** What of a hover is read. */
export function words(hover: Hover | null): string {
  if (hover === null || typeof hover.contents === 'string' || Array.isArray(hover.contents)) return '';
  return hover.contents.value;
}
