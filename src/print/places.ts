/** The little of a read PDF that is used; the types that its reader ships lead to files by names that nobody finds. */
export interface PdfDocument {
  readonly getDestinations: () => Promise<Readonly<Record<string, unknown>>>;
  readonly getPageIndex: (reference: PdfReference) => Promise<number>;
  readonly getOutline: () => Promise<unknown>;
  readonly getPage: (number: number) => Promise<{ readonly view: readonly number[] }>;
  readonly destroy: () => Promise<void>;
}

/** The number of an object of a PDF. */
interface PdfReference {
  readonly num: number;
  readonly gen: number;
}

/**
 * The page of each place of a PDF that a link in it leads to, counted from 1, by the id of the place in the page
 * that was printed.
 */
export async function placesOf(pdf: Uint8Array): Promise<ReadonlyMap<string, number>> {
  const { getDocumentProxy } = await import('unpdf');
  // The reader takes the bytes for its own; what was handed in stays as it is.
  const document = (await getDocumentProxy(new Uint8Array(pdf))) as PdfDocument;
  try {
    const found = new Map<string, number>();
    for (const [id, destination] of Object.entries(await document.getDestinations())) {
      const [page] = destination as readonly unknown[];
      if (isReference(page)) found.set(id, (await document.getPageIndex(page)) + 1);
    }
    return found;
  } finally {
    await document.destroy();
  }
}

/** A reference to an object of a PDF. */
function isReference(value: unknown): value is PdfReference {
  return typeof value === 'object' && value !== null && 'num' in value && 'gen' in value;
}
