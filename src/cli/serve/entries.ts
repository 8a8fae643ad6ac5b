import { createHash, randomInt, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import { type Draft, readDraft } from '../../draft/draft.js';
import { Refusal } from '../refusal.js';
import type { Brought, Taken } from '../take-entry.js';

/** Taking in what the writing page sends: an entry as its answers, with its pictures. */

/**
 * Takes a draft with its pictures, by the paths that the draft proposes, into the book. The same draft sent again
 * under the same name is the same entry; without a name it is another one.
 */
export type TakeIn = (
  draft: Draft,
  pictures: ReadonlyMap<string, Uint8Array>,
  sentAs: string | null,
) => Promise<Taken>;

/** What is answered: JSON for the page, or a sentence. */
export interface EntryReply {
  readonly status: 200 | 400 | 401 | 413 | 415 | 422;
  readonly body: object | string;
}

/** An entry with all its pictures, and the entry alone. In bytes. */
const MOST = 25_000_000;
const MOST_DRAFT = 1_000_000;

/** Letters that are not taken for each other when they are typed off a screen. */
const LETTERS = 'abcdefghjkmnpqrstuvwxyz23456789';

/** A word that nobody guesses, short enough to be typed on a phone: twelve letters, some 59 bits. */
export function newWord(): string {
  const letters = Array.from({ length: 12 }, () => LETTERS[randomInt(LETTERS.length)]).join('');
  return `${letters.slice(0, 4)}-${letters.slice(4, 8)}-${letters.slice(8)}`;
}

/**
 * Takes in one entry. That the request comes from a page of this site has been made sure of before.
 *
 * @param word without which nothing is taken.
 */
export async function receiveEntry(
  request: IncomingMessage,
  word: string,
  takeIn: TakeIn,
): Promise<EntryReply> {
  const type = request.headers['content-type'] ?? '';
  const no = isSame(request.headers['x-ribband-word'], word) ? wrongType(type) : NOT_LET_IN;
  // A browser hears the answer only once it has sent all: what is refused is let run out unkept.
  const bytes = await readAll(request, no === null);
  if (no !== null) return no;
  if (bytes === null)
    return {
      status: 413,
      body: 'This is more than 25 MB: leave out some pictures and send them with another entry.',
    };
  const sent = await readSent(bytes, type);
  return 'status' in sent ? sent : answerOf(() => takeIn(sent.draft, sent.pictures, sent.sentAs));
}

const NOT_LET_IN: EntryReply = { status: 401, body: 'The word that the terminal shows is needed.' };

function wrongType(type: string): EntryReply | null {
  if (type.startsWith('multipart/form-data')) return null;
  return { status: 415, body: 'An entry comes as a form with its pictures.' };
}

/** Compared in a time that tells nothing. */
function isSame(given: string | string[] | undefined, word: string): boolean {
  const hash = (text: string) => createHash('sha256').update(text).digest();
  return typeof given === 'string' && timingSafeEqual(hash(given), hash(word));
}

/** All of the body, or null as soon as it is too much; empty where it is not to be kept. */
async function readAll(request: IncomingMessage, isKept: boolean): Promise<Uint8Array | null> {
  if (Number(request.headers['content-length'] ?? 0) > MOST) return null;
  const pieces: Uint8Array[] = [];
  let size = 0;
  for await (const piece of request as AsyncIterable<Uint8Array>) {
    size += piece.byteLength;
    if (size > MOST) return null;
    if (isKept) pieces.push(piece);
  }
  return Buffer.concat(pieces);
}

interface SentEntry {
  readonly draft: Draft;
  readonly pictures: ReadonlyMap<string, Uint8Array>;
  readonly sentAs: string | null;
}

const NO_ENTRY: EntryReply = { status: 400, body: 'That is no entry.' };

async function readSent(bytes: Uint8Array, type: string): Promise<SentEntry | EntryReply> {
  try {
    const form = await new Response(Buffer.from(bytes), { headers: { 'content-type': type } }).formData();
    const written = form.get('draft');
    if (typeof written !== 'string') return NO_ENTRY;
    if (Buffer.byteLength(written) > MOST_DRAFT)
      return { status: 413, body: 'The entry alone has more than 1 MB.' };
    const draft = readDraft(JSON.parse(written));
    const files = form.getAll('picture').filter((part) => typeof part !== 'string');
    if (draft === null || files.length !== draft.photos.length) return NO_ENTRY;
    const pictures = new Map<string, Uint8Array>();
    for (const [index, photo] of draft.photos.entries())
      pictures.set(photo.file, new Uint8Array((await files[index]?.arrayBuffer()) ?? new ArrayBuffer(0)));
    const name = form.get('sent-as');
    const sentAs = typeof name === 'string' && name !== '' ? name : null;
    return pictures.size === draft.photos.length ? { draft, pictures, sentAs } : NO_ENTRY;
  } catch {
    return NO_ENTRY;
  }
}

async function answerOf(take: () => Promise<Taken>): Promise<EntryReply> {
  try {
    const taken = await take();
    if (!taken.ok) return { status: 422, body: { is: 'refused', problems: taken.problems.map(problemOf) } };
    const id = taken.path.slice(taken.path.lastIndexOf('/') + 1).replace(/\.md$/, '');
    return { status: 200, body: { is: 'written', path: taken.path, page: `entries/${id}.html` } };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const problem = { severity: 'error', message: error.message, hint: error.hint, answer: null };
    return { status: 422, body: { is: 'refused', problems: [problem] } };
  }
}

function problemOf({ diagnostic: { severity, message, hint }, answer }: Brought): object {
  return { severity, message, hint, answer };
}
