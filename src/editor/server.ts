import {
  CodeActionKind,
  type Connection,
  DidChangeWatchedFilesNotification,
  type InitializeParams,
  type InitializeResult,
  MarkupKind,
  TextDocumentSyncKind,
} from 'vscode-languageserver/node';
import { answers, type Client } from './answers.js';
import { type DeskOptions, openDesk } from './desk.js';
import { followDocuments } from './documents.js';
import { publishTo } from './published.js';

/**
 * The language server: the Language Server Protocol (3.18) over a connection. What a file is told to be by the
 * editor does not matter; a file of a book is known by where it lies.
 */

/** Serves an editor at a connection until that ends. */
export function serveEditor(connection: Connection, options: DeskOptions): void {
  const client: Client = { markdown: false, snippets: false, documentChanges: false };
  let canWatch = false;
  const documents = followDocuments(connection);
  const published = publishTo(connection, documents);
  const complain = (error: unknown) => {
    connection.console.error(error instanceof Error ? (error.stack ?? error.message) : String(error));
  };
  const desk = openDesk(options, documents, (book) => published.tell(book).catch(complain));

  connection.onInitialize(({ capabilities }): InitializeResult => {
    Object.assign(client, clientOf(capabilities));
    canWatch = capabilities.workspace?.didChangeWatchedFiles?.dynamicRegistration === true;
    return { capabilities: OFFERED, serverInfo: { name: 'ribband' } };
  });
  connection.onInitialized(() => {
    if (!canWatch) return;
    const watchers = WATCHED.map((globPattern) => ({ globPattern }));
    connection.client.register(DidChangeWatchedFilesNotification.type, { watchers }).catch(complain);
  });
  documents.all.onDidChangeContent(({ document }) => {
    const place = documents.placeOf(document.uri);
    if (place !== null) desk.changed(place.root);
  });
  documents.all.onDidSave(({ document }) => {
    const place = documents.placeOf(document.uri);
    if (place !== null) desk.changed(place.root);
  });
  documents.all.onDidClose(({ document }) => {
    const place = documents.placeOf(document.uri);
    if (place === null) return;
    if (documents.openIn(place.root).size > 0) return desk.changed(place.root);
    desk.close(place.root);
    published.takeBack(place.root);
  });
  connection.onDidChangeWatchedFiles(() => desk.changedOnDisk());
  answers(connection, documents, desk, client);
  connection.listen();
}

/** What of a book can change on disk. */
const WATCHED = [
  '**/book.yaml',
  '**/systems/*.md',
  '**/entries/**/*.md',
  '**/plans/*.yaml',
  '**/photos/**',
  '**/series/*.csv',
];

const OFFERED: InitializeResult['capabilities'] = {
  textDocumentSync: { openClose: true, change: TextDocumentSyncKind.Incremental, save: true },
  completionProvider: { triggerCharacters: ['.', ' ', '"', '[', ':'], resolveProvider: true },
  hoverProvider: true,
  definitionProvider: true,
  referencesProvider: true,
  renameProvider: { prepareProvider: true },
  codeActionProvider: { codeActionKinds: [CodeActionKind.QuickFix] },
};

function clientOf({ textDocument, workspace }: InitializeParams['capabilities']): Client {
  const formats = textDocument?.hover?.contentFormat ?? [];
  return {
    markdown: formats.includes(MarkupKind.Markdown),
    snippets: textDocument?.completion?.completionItem?.snippetSupport === true,
    documentChanges: workspace?.workspaceEdit?.documentChanges === true,
  };
}
