import type { Draft } from '../../../src/draft/draft.js';
import type { AnswerPath } from '../../../src/draft/entry-text.js';
import type { Remark } from '../../../src/draft/remarks.js';

/** The ways out of the form: into the book through a server that offers it, as files, or to another program. */

/** What the server made of an entry. */
export type Sent =
  | { readonly is: 'written'; readonly path: string; readonly page: string }
  | {
      readonly is: 'refused';
      readonly problems: readonly (Remark & { readonly answer: AnswerPath | null })[];
    }
  /** The word from the terminal is wrong or lacks. */
  | { readonly is: 'not-let-in' }
  | { readonly is: 'failed'; readonly why: string };

export interface Picture {
  readonly file: string;
  readonly blob: Blob;
}

/** Where the server takes entries; null on any other host. */
export function serverAddress(): string | null {
  return document.querySelector<HTMLMetaElement>('meta[name="ribband-takes-entries"]')?.content ?? null;
}

const WORD = 'ribband-word';

/** The word that lets in: from the address, which then no longer shows it, or from earlier in this tab. */
export function wordOfServer(): string {
  const given = /^#word=([\w-]+)$/.exec(location.hash)?.[1];
  try {
    if (given === undefined) return sessionStorage.getItem(WORD) ?? '';
    sessionStorage.setItem(WORD, given);
  } catch {
    // Then it is asked for again after a reload.
  }
  if (given !== undefined) history.replaceState(null, '', location.pathname);
  return given ?? '';
}

export function keepWord(word: string): void {
  try {
    sessionStorage.setItem(WORD, word);
  } catch {
    // As above.
  }
}

/**
 * Sends an entry to the server. Never throws.
 *
 * @param sentAs under which the server takes the same entry once only: an answer may get lost on its way.
 */
export async function sendEntry(
  address: string,
  word: string,
  sentAs: string,
  draft: Draft,
  pictures: readonly Picture[],
): Promise<Sent> {
  const body = new FormData();
  body.append('draft', JSON.stringify(draft));
  body.append('sent-as', sentAs);
  for (const { file, blob } of pictures) body.append('picture', blob, file.slice(file.lastIndexOf('/') + 1));
  try {
    const headers = { 'x-ribband-word': word };
    const response = await fetch(address, { method: 'POST', body, headers, redirect: 'error' });
    if (response.status === 401) return { is: 'not-let-in' };
    if (response.status === 200 || response.status === 422) return (await response.json()) as Sent;
    return { is: 'failed', why: (await response.text()).trim() };
  } catch {
    return { is: 'failed', why: 'The server cannot be reached. All is kept here; try again later.' };
  }
}

/** Hands a file to the browser's downloads. */
export function download(name: string, content: Blob): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(content);
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

/** The files of an entry, where this browser can hand them to another program; null where it cannot. */
export function shareable(name: string, text: string, pictures: readonly Picture[]): ShareData | null {
  if (typeof navigator.canShare !== 'function') return null;
  const photos = pictures.map(({ file, blob }) => new File([blob], baseName(file), { type: 'image/jpeg' }));
  // Some browsers hand over plain text only.
  for (const type of ['text/markdown', 'text/plain']) {
    const data = { files: [new File([text], name, { type }), ...photos], title: name };
    if (navigator.canShare(data)) return data;
  }
  return null;
}

export function baseName(file: string): string {
  return file.slice(file.lastIndexOf('/') + 1);
}
