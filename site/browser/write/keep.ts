/** Keeping what was typed in the browser: the form as text, pictures in a store of their own. */

/** What kept things are called: of each book apart, since one host may hold several. */
function keyOf(subject: string): string {
  return `ribband-write ${subject} ${location.pathname}`;
}

/** What was kept, or null where there is nothing or the browser does not let it be read. */
export function keptForm(subject: string): unknown {
  try {
    const kept = localStorage.getItem(keyOf(subject));
    return kept === null ? null : JSON.parse(kept);
  } catch {
    return null;
  }
}

/**
 * Tells whenever another tab has changed what is kept: two tabs that did not know of each other would each write
 * over what was typed in the other.
 *
 * @returns what ends it.
 */
export function onKeptElsewhere(subject: string, act: () => void): () => void {
  const changed = ({ key, storageArea }: StorageEvent) => {
    if (storageArea === localStorage && (key === null || key === keyOf(subject))) act();
  };
  // A page that the browser had put to sleep has heard of no change.
  const woken = ({ persisted }: PageTransitionEvent) => {
    if (persisted && keptForm(subject) !== null) act();
  };
  addEventListener('storage', changed);
  addEventListener('pageshow', woken);
  return () => {
    removeEventListener('storage', changed);
    removeEventListener('pageshow', woken);
  };
}

/** @returns whether the browser has taken it. */
export function keepForm(subject: string, form: unknown): boolean {
  try {
    localStorage.setItem(keyOf(subject), JSON.stringify(form));
    return true;
  } catch {
    return false;
  }
}

export function forgetForm(subject: string): void {
  try {
    localStorage.removeItem(keyOf(subject));
  } catch {
    // What could not be kept need not be forgotten.
  }
}

const STORE = 'pictures';

function openStore(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const opening = indexedDB.open('ribband-write', 1);
    opening.onupgradeneeded = () => opening.result.createObjectStore(STORE);
    opening.onsuccess = () => resolve(opening.result);
    opening.onerror = () => reject(opening.error ?? new Error('no store'));
  });
}

async function inStore<T>(
  mode: IDBTransactionMode,
  act: (store: IDBObjectStore) => IDBRequest<T>,
): Promise<T> {
  const db = await openStore();
  try {
    return await new Promise<T>((resolve, reject) => {
      const transaction = db.transaction(STORE, mode);
      const request = act(transaction.objectStore(STORE));
      transaction.oncomplete = () => resolve(request.result);
      transaction.onerror = () => reject(transaction.error ?? new Error('not kept'));
      transaction.onabort = () => reject(transaction.error ?? new Error('not kept'));
    });
  } finally {
    db.close();
  }
}

/** Keeps a picture. @returns whether the browser has taken it. */
export async function keepPicture(subject: string, id: number, picture: Blob): Promise<boolean> {
  try {
    // As bytes: some browsers lose blobs that are kept for long.
    const bytes = await picture.arrayBuffer();
    await inStore('readwrite', (store) => store.put(bytes, `${keyOf(subject)} ${id}`));
    return true;
  } catch {
    return false;
  }
}

export async function keptPicture(subject: string, id: number): Promise<Blob | null> {
  try {
    const bytes: unknown = await inStore('readonly', (store) => store.get(`${keyOf(subject)} ${id}`));
    return bytes instanceof ArrayBuffer ? new Blob([bytes], { type: 'image/jpeg' }) : null;
  } catch {
    return null;
  }
}

export async function forgetPicture(subject: string, id: number): Promise<void> {
  try {
    await inStore('readwrite', (store) => store.delete(`${keyOf(subject)} ${id}`));
  } catch {
    // What could not be kept need not be forgotten.
  }
}

/** Longest side in which a picture is kept: sharp enough for a label, small enough to send from the yard. */
const SIDE = 2400;

/**
 * A picture as it is kept: turned upright, no larger than need be, made anew from its pixels, so that nothing
 * a camera adds (the place, the time) goes with it.
 *
 * @returns null for what the browser cannot show.
 */
export async function cleanPicture(file: Blob): Promise<Blob | null> {
  try {
    const bitmap = await createImageBitmap(file);
    const scale = Math.min(1, SIDE / Math.max(bitmap.width, bitmap.height));
    const canvas = document.createElement('canvas');
    canvas.width = Math.max(1, Math.round(bitmap.width * scale));
    canvas.height = Math.max(1, Math.round(bitmap.height * scale));
    const context = canvas.getContext('2d');
    if (context === null) return null;
    context.fillStyle = '#fff';
    context.fillRect(0, 0, canvas.width, canvas.height);
    context.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
    bitmap.close();
    return await new Promise((resolve) => canvas.toBlob(resolve, 'image/jpeg', 0.9));
  } catch {
    return null;
  }
}

/** Draws a picture small. */
export async function drawSmall(picture: Blob, canvas: HTMLCanvasElement): Promise<void> {
  const bitmap = await createImageBitmap(picture);
  const scale = 160 / Math.max(bitmap.width, bitmap.height);
  canvas.width = Math.max(1, Math.round(bitmap.width * scale));
  canvas.height = Math.max(1, Math.round(bitmap.height * scale));
  canvas.getContext('2d')?.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
}
