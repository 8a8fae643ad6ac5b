import type { Piece } from '../write/pieces.js';
import type { ProseView } from './prose-context.js';

/** One file of the site that is made from the book. */
export interface Page {
  /** Path from the site's folder, with forward slashes and its ending: `entries/2026-04-18-capacity-test.html`. */
  readonly path: string;
  /** The same key always stands for the same bytes, whatever else has changed. */
  readonly key: string;
  /** Its prose, where it has any: what takes longest to make, and can be made ahead of the page. */
  readonly prose?: () => ProseView;
  /** Makes the whole file. */
  readonly render: () => string;
  /**
   * Where the file is put together from pieces, each with a key of its own: they make the file when joined, and those
   * whose key has not changed can be taken from the file as it was made the last time.
   */
  readonly pieces?: readonly Piece[];
}
