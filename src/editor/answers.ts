import {
  type CodeAction,
  CodeActionKind,
  type CodeActionParams,
  type CompletionItem,
  CompletionItemKind,
  type CompletionParams,
  type Connection,
  ErrorCodes,
  type Hover,
  InsertTextFormat,
  type Location,
  type MarkupContent,
  MarkupKind,
  type Range,
  type ReferenceParams,
  type RenameParams,
  ResponseError,
  type TextDocumentPositionParams,
  type TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver/node';
import type { Edit } from '../check/diagnostic.js';
import type { Space } from '../read/name-fields.js';
import type { EditedBook } from './book.js';
import { type Card, printCard } from './card.js';
import { cardOf, fieldCard } from './cards.js';
import { completionsAt } from './complete.js';
import type { Desk } from './desk.js';
import type { Documents, OpenPlace } from './documents.js';
import { tellOf } from './hover.js';
import { type Mention, mentionAt, mentionsIn } from './mentions.js';
import type { Offer } from './offer.js';
import { asShown } from './published.js';
import { renameAll, unrenamable } from './rename.js';

/** The editor's questions, each answered from the book as it is at that moment. */

/** What the editor can do. */
export interface Client {
  readonly markdown: boolean;
  readonly snippets: boolean;
  /** Whether it takes edits that name the version of the text that they are for. */
  readonly documentChanges: boolean;
}

interface Answering {
  readonly documents: Documents;
  readonly desk: Desk;
  readonly client: Client;
}

/** Answers at a connection. */
export function answers(connection: Connection, documents: Documents, desk: Desk, client: Client): void {
  const answering: Answering = { documents, desk, client };
  connection.onCompletion((params) => complete(params, answering));
  connection.onCompletionResolve((item) => explain(item, answering));
  connection.onHover((params) => hover(params, answering));
  connection.onDefinition((params) => define(params, answering));
  connection.onReferences((params) => refer(params, answering));
  connection.onPrepareRename((params) => prepareRename(params, answering));
  connection.onRenameRequest((params) => rename(params, answering));
  connection.onCodeAction((params) => mend(params, answering));
}

// Completion

const SORTS: Readonly<Record<Offer['sort'], CompletionItemKind>> = {
  field: CompletionItemKind.Property,
  choice: CompletionItemKind.EnumMember,
  name: CompletionItemKind.Reference,
  unit: CompletionItemKind.Unit,
};

/** What goes along with an item, so that more can be told of it when it is looked at. */
interface ItemData {
  readonly root: string;
  readonly about: Offer['about'];
}

async function complete(
  params: CompletionParams,
  { documents, desk, client }: Answering,
): Promise<CompletionItem[]> {
  const place = documents.at(params);
  if (place === null) return [];
  const book = desk.book(place.root);
  const reckoning = await book.lately();
  const found = completionsAt(place.file, place.offset, {
    reckoning,
    ...book.beside(),
    today: book.today(),
  });
  if (found === null) return [];
  const range = rangeIn(place, { offset: found.start, length: found.end - found.start }, documents);
  // An editor takes a completion only in the line of its cursor; anything else is no completion.
  const { line } = params.position;
  if (range.start.line !== line || range.end.line !== line) return [];
  return found.offers.map((offer, index) => itemOf(offer, index, range, place.root, client));
}

function itemOf(
  offer: Offer,
  index: number,
  range: Range,
  root: string,
  { snippets }: Client,
): CompletionItem {
  const isSnippet = offer.snippet && snippets;
  // Without snippets the places to fill in are left empty.
  const newText = offer.snippet && !snippets ? offer.insert.replaceAll(/\$\d/g, '') : offer.insert;
  const data: ItemData = { root, about: offer.about };
  return {
    label: offer.label,
    kind: SORTS[offer.sort],
    ...(offer.detail === '' ? {} : { detail: offer.detail }),
    filterText: offer.label,
    sortText: `${offer.rank}${String(index).padStart(6, '0')}`,
    textEdit: { range, newText },
    insertTextFormat: isSnippet ? InsertTextFormat.Snippet : InsertTextFormat.PlainText,
    data,
  };
}

async function explain(item: CompletionItem, { desk, client }: Answering): Promise<CompletionItem> {
  const { root, about } = (item.data ?? { about: null }) as ItemData;
  if (about === null) return item;
  const card = 'field' in about ? fieldCard(item.label, about.field) : await cardFor(about, desk.book(root));
  return card === null ? item : { ...item, documentation: printed([card], client) };
}

async function cardFor({ space, name }: { readonly space: Space; readonly name: string }, book: EditedBook) {
  const known = await book.lately();
  return known === null ? null : cardOf(space, name, known);
}

// Hovering

async function hover(
  params: TextDocumentPositionParams,
  { documents, desk, client }: Answering,
): Promise<Hover | null> {
  const place = documents.at(params);
  if (place === null) return null;
  const book = desk.book(place.root);
  const told = await tellOf(place.file, place.offset, await book.known(), await book.declared());
  return told === null
    ? null
    : { contents: printed(told.cards, client), range: rangeIn(place, told, documents) };
}

function printed(cards: readonly Card[], { markdown }: Client): MarkupContent {
  return {
    kind: markdown ? MarkupKind.Markdown : MarkupKind.PlainText,
    value: cards.map((card) => printCard(card, markdown)).join('\n\n'),
  };
}

// Going to

async function mentionHere(place: OpenPlace, book: EditedBook): Promise<Mention | null> {
  return mentionAt(await mentionsIn(place.file, await book.declared()), place.offset);
}

/** All places of the book where the same thing is named. */
async function sameAs(mention: Mention, book: EditedBook): Promise<readonly Mention[]> {
  const letters = mention.name.slice(mention.name.search(/[^./]*$/));
  const all = await book.mentions(letters);
  return all.filter(({ space, name }) => space === mention.space && name === mention.name);
}

async function define(params: TextDocumentPositionParams, answering: Answering): Promise<Location[]> {
  const { documents, desk } = answering;
  const place = documents.at(params);
  if (place === null) return [];
  const book = desk.book(place.root);
  const mention = await mentionHere(place, book);
  if (mention === null) return [];
  const declaring = (await sameAs(mention, book)).filter(({ declares }) => declares);
  // A part is told of in many entries: it begins where it is told of first. Files are named by their days.
  const first = [...declaring].sort((a, b) => (nameOf(a.file) < nameOf(b.file) ? -1 : 1))[0];
  return first === undefined ? [] : locations([first], book, answering);
}

function nameOf(file: string): string {
  return file.slice(file.lastIndexOf('/') + 1);
}

async function refer(params: ReferenceParams, answering: Answering): Promise<Location[]> {
  const place = answering.documents.at(params);
  if (place === null) return [];
  const book = answering.desk.book(place.root);
  const mention = await mentionHere(place, book);
  if (mention === null) return [];
  const all = await sameAs(mention, book);
  const asked = params.context.includeDeclaration ? all : all.filter(({ declares }) => !declares);
  return locations(asked, book, answering);
}

async function locations(
  mentions: readonly Mention[],
  book: EditedBook,
  { documents }: Answering,
): Promise<Location[]> {
  const text = await textsOf(book);
  return mentions.map(({ file, offset, length }) => ({
    uri: documents.addressOf(book.root, file).uri,
    range: documents.rangeOf(book.root, file, text(file), { offset, length }),
  }));
}

async function textsOf(book: EditedBook): Promise<(file: string) => string> {
  const { folder } = await book.found();
  const texts = new Map(folder.files.map(({ path, text }) => [path, text]));
  return (file) => texts.get(file) ?? '';
}

function rangeIn(
  { root, path, file }: OpenPlace,
  stretch: { readonly offset: number; readonly length: number },
  documents: Documents,
): Range {
  return documents.rangeOf(root, path, file.text, stretch);
}

// Renaming

function refusal(why: string): ResponseError<void> {
  return new ResponseError(ErrorCodes.InvalidRequest, why);
}

async function prepareRename(
  params: TextDocumentPositionParams,
  { documents, desk }: Answering,
): Promise<{ range: Range; placeholder: string } | null> {
  const place = documents.at(params);
  if (place === null) return null;
  const mention = await mentionHere(place, desk.book(place.root));
  if (mention === null) return null;
  const fixed = unrenamable(mention);
  if (fixed !== null) throw refusal(fixed);
  const { offset, length } = mention;
  return {
    range: rangeIn(place, mention, documents),
    placeholder: place.file.text.slice(offset, offset + length),
  };
}

async function rename(params: RenameParams, answering: Answering): Promise<WorkspaceEdit | null> {
  const place = answering.documents.at(params);
  if (place === null) return null;
  const book = answering.desk.book(place.root);
  // A file may have changed on disk without a word.
  book.touch();
  const mention = await mentionHere(place, book);
  if (mention === null) throw refusal('There is no name here that could be changed.');
  const renamed = await renameAll(book, mention, params.newName);
  if (!renamed.ok) throw refusal(renamed.why);
  return workspaceEdit(renamed.edits, book, answering);
}

async function workspaceEdit(
  edits: readonly Edit[],
  book: EditedBook,
  { documents, client }: Answering,
): Promise<WorkspaceEdit> {
  const text = await textsOf(book);
  const byFile = new Map<string, TextEdit[]>();
  for (const { file, text: newText, ...stretch } of edits) {
    const range = documents.rangeOf(book.root, file, text(file), stretch);
    byFile.set(file, [...(byFile.get(file) ?? []), { range, newText }]);
  }
  const addressed = [...byFile].map(([file, of]) => ({ ...documents.addressOf(book.root, file), edits: of }));
  if (!client.documentChanges)
    return { changes: Object.fromEntries(addressed.map(({ uri, edits: of }) => [uri, of])) };
  return {
    documentChanges: addressed.map(({ uri, version, edits: of }) => ({
      textDocument: { uri, version },
      edits: of,
    })),
  };
}

// Mending

async function mend({ textDocument, range }: CodeActionParams, answering: Answering): Promise<CodeAction[]> {
  const { documents, desk } = answering;
  const place = documents.placeOf(textDocument.uri);
  if (place === null) return [];
  const book = desk.book(place.root);
  const found = await book.found();
  const here = found.diagnostics.filter(({ file, fix }) => file === place.path && fix !== null);
  const actions = await Promise.all(
    here.map(async (diagnostic): Promise<CodeAction | null> => {
      const shown = asShown(diagnostic, place.root, found, documents);
      if (diagnostic.fix === null || !overlap(shown.range, range)) return null;
      return {
        title: diagnostic.fix.title,
        kind: CodeActionKind.QuickFix,
        diagnostics: [shown],
        isPreferred: true,
        edit: await workspaceEdit(diagnostic.fix.edits, book, answering),
      };
    }),
  );
  return actions.filter((action) => action !== null);
}

function overlap(a: Range, b: Range): boolean {
  return !isBefore(a.end, b.start) && !isBefore(b.end, a.start);
}

function isBefore(a: Range['start'], b: Range['start']): boolean {
  return a.line < b.line || (a.line === b.line && a.character < b.character);
}
