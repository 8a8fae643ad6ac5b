/** Turning the bytes of a file into text, without guessing. */

/** Largest text file of a book, in bytes. A megabyte of prose in one entry is still read. */
export const MAX_TEXT_BYTES = 4_000_000;

/** Largest file of a logger's readings, in bytes: two million rows and more. */
export const MAX_SERIES_BYTES = 50_000_000;

export type Decoded =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly why: 'not-utf8' | 'file-too-large' };

const utf8 = new TextDecoder('utf-8', { fatal: true, ignoreBOM: false });

/**
 * Decodes UTF-8 strictly. A byte order mark is dropped; line ends stay as they are, so that offsets into the
 * text are offsets into what an editor shows.
 */
export function decode(bytes: Uint8Array, maxBytes = MAX_TEXT_BYTES): Decoded {
  if (bytes.byteLength > maxBytes) return { ok: false, why: 'file-too-large' };
  try {
    const text = utf8.decode(bytes);
    return text.includes('\0') ? { ok: false, why: 'not-utf8' } : { ok: true, text };
  } catch {
    return { ok: false, why: 'not-utf8' };
  }
}

const BYTE_ORDER_MARK = [0xef, 0xbb, 0xbf] as const;

/** Encodes a changed text for the file it came from: with a byte order mark where that file has one. */
export function encodeLike(text: string, before: Uint8Array): Uint8Array {
  const bytes = new TextEncoder().encode(text);
  if (!BYTE_ORDER_MARK.every((byte, at) => before[at] === byte)) return bytes;
  return Uint8Array.from([...BYTE_ORDER_MARK, ...bytes]);
}
