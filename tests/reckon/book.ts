import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { checkBook } from '../../src/check/check.js';
import type {
  Basis,
  CheckedBook,
  Claim,
  Reading,
  Spec,
  Statement,
  Uncertainty,
} from '../../src/check/model.js';
import {
  type Interval,
  type Kind,
  parseInterval,
  parseQuantity,
  parseWithin,
  type Quantity,
} from '../../src/quantity/index.js';
import { readFolder } from '../../src/read/folder.js';
import type { Reckoning } from '../../src/reckon/model.js';
import { reckon } from '../../src/reckon/reckon.js';

/** Small books for tests of the reckoning, and the values they are made of. */

/** Files of a book: text by path. `book.yaml` may be left out. */
export type Files = Readonly<Record<string, string>>;

const BOOK = `book: skiff
currency: EUR
subject: { name: Skiff }
people:
  owner: { name: the owner }
  friend: { name: a friend }
  surveyor: { name: the surveyor, third-party: true }
instruments:
  clamp: { name: clamp meter, measures: { current: { accuracy: 2 % }, voltage: { accuracy: 1 % + 0.05 V } } }
`;

/** The day on which books of tests are checked. */
export const TODAY = '2030-01-01';

/** A system file, by its path: front matter as written below `system` and `title`. */
export function system(id: string, frontMatter: string): Files {
  return { [`systems/${id}.md`]: `---\nsystem: ${id}\ntitle: System ${id}\n${frontMatter}\n---\n` };
}

/** An entry, by its path: front matter as written below `date`, `title` and `systems`. */
export function entry(date: string, frontMatter: string, name = 'work', systems = ['s']): Files {
  const head = `date: ${date}\ntitle: ${name}\nsystems: [${systems.join(', ')}]\n`;
  return { [`entries/${date.slice(0, 4)}/${date}-${name}.md`]: `---\n${head}${frontMatter}\n---\n` };
}

/** Runs something on a folder of its own, which is taken away afterwards. */
export async function withFolder<T>(use: (root: string) => T | Promise<T>): Promise<T> {
  const root = mkdtempSync(join(tmpdir(), 'ribband-reckon-'));
  try {
    return await use(root);
  } finally {
    rmSync(root, { recursive: true, force: true });
  }
}

/** Writes files into a folder. */
export function writeFiles(root: string, files: Files): void {
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(root, path)), { recursive: true });
    writeFileSync(join(root, path), text);
  }
}

/**
 * A book through the real reader and checker.
 *
 * @throws where the checker finds an error in it: a test is to know what it reckons with.
 */
export async function bookOf(...files: readonly Files[]): Promise<CheckedBook> {
  return withFolder(async (root) => {
    writeFiles(root, Object.assign({ 'book.yaml': BOOK }, ...files) as Files);
    const { book, diagnostics } = await checkBook(readFolder(root), TODAY);
    const errors = diagnostics.filter(({ severity }) => severity === 'error');
    if (book === null || errors.length > 0)
      throw new Error(errors.map(({ file, span, message }) => `${file}:${span.line}: ${message}`).join('\n'));
    return book;
  });
}

/** A book of such files, reckoned. */
export async function reckoned(asOf: string, ...files: readonly Files[]): Promise<Reckoning> {
  return reckon(await bookOf(...files), asOf);
}

/** Reads a quantity that is known to be right. */
export function quantity(written: string, kind?: Kind): Quantity {
  const read = kind === undefined ? parseQuantity(written) : parseQuantity(written, kind);
  if (!read.ok) throw new Error(`${written}: ${read.problem.message}`);
  return read.quantity;
}

/** Reads a period of the calendar that is known to be right. */
export function interval(written: string): Interval {
  const read = parseInterval(written);
  if (!read.ok) throw new Error(read.problem.message);
  return read.interval;
}

/** `400 Ah` as a number with its unit, `"TL-200"` (in quotes) as a text. */
export function claim(written: string): Claim {
  return written.startsWith('"')
    ? { type: 'text', text: written.slice(1, -1) }
    : { type: 'quantity', quantity: quantity(written) };
}

function uncertaintyOf(value: Claim): Uncertainty {
  const si = value.type === 'quantity' ? value.quantity.siUncertainty : null;
  return { si, from: si === null ? 'unknown' : 'written' };
}

/** What a made-up spec states; all else as the checker would have it. */
export interface Stated {
  readonly value: string;
  readonly basis?: Basis;
  readonly needs?: Basis;
  readonly within?: string;
  readonly means?: Spec['means'];
  readonly againEvery?: string;
  readonly since?: string;
}

/** A spec `s.claimed` with the point `s.point`. */
export function specOf({ value, basis = 'told', means = 'about', ...stated }: Stated): Spec {
  const says = claim(value);
  const place = { file: 'systems/s.md', path: ['specs', 'claimed'] };
  const allowance =
    says.type === 'text' ? { share: 0, amount: 0 } : allowanceOf(says.quantity, stated.within);
  return {
    ref: 's.claimed',
    system: 's',
    name: 'claimed',
    title: 'What is claimed',
    claim: says,
    basis,
    source: null,
    since: stated.since ?? null,
    band: says.type === 'text' ? null : bandOf(says.quantity, allowance, means),
    allowance,
    bandWritten: stated.within ?? null,
    means,
    point: says.type === 'text' ? null : 's.point',
    needs: stated.needs ?? (says.type === 'text' ? 'marked' : 'measured'),
    againEvery: stated.againEvery === undefined ? null : interval(stated.againEvery),
    checkBy: null,
    place,
  };
}

function allowanceOf(of: Quantity, within: string | undefined): Spec['allowance'] {
  if (within === undefined) return { share: 0, amount: of.siUncertainty ?? 0 };
  const read = parseWithin(within, of.kind);
  if (!read.ok) throw new Error(read.problem.message);
  return read.within;
}

function bandOf(of: Quantity, { share, amount }: Spec['allowance'], means: Spec['means']): Spec['band'] {
  const half = share * Math.abs(of.si) + amount;
  return {
    low: means === 'at-most' ? null : of.si - half,
    high: means === 'at-least' ? null : of.si + half,
    lowOpen: false,
    highOpen: false,
  };
}

interface Told {
  readonly date: string;
  readonly value: string;
  readonly basis?: Basis;
  readonly entry?: string;
}

const NOTHING_SAID = { with: null, by: null, under: [], see: null, note: null };

/** A reading of `s.point`. */
export function readingOf({ date, value, basis = 'measured', entry: id = `${date}-work` }: Told): Reading {
  const says = claim(value);
  if (says.type === 'text') throw new Error('a reading is a number with its unit');
  return {
    ...NOTHING_SAID,
    date,
    system: 's',
    point: 's.point',
    what: null,
    quantity: says.quantity,
    uncertainty: uncertaintyOf(says),
    basis: basis as Reading['basis'],
    test: null,
    entry: id,
    place: { file: `entries/${id}.md`, path: ['measurements', 0] },
  };
}

/** A statement about `s.claimed`. */
export function statementOf({ date, value, basis = 'marked', entry: id = `${date}-work` }: Told): Statement {
  const says = claim(value);
  return {
    ...NOTHING_SAID,
    date,
    spec: 's.claimed',
    says,
    uncertainty: uncertaintyOf(says),
    basis,
    entry: id,
    place: { file: `entries/${id}.md`, path: ['statements', 0] },
  };
}
