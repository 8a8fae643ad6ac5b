import { describe, expect, it } from 'vitest';
import { type Checked, checkBook } from '../../src/check/check.js';
import { bookWith, ORIGINALS, type Original } from './mutations/book.js';
import { MUTATIONS, mutate } from './mutations/mutate.js';
import { pick, randomFrom } from './mutations/random.js';

/**
 * Whatever becomes of a file, checking it neither fails nor hangs, and says where it is wrong.
 *
 * 1,500 changed files in the normal run; RIBBAND_MUTATIONS=100000 for as many as that. Every one has a seed
 * of its own, which the failure names.
 */

const TODAY = '2026-06-01';
const EACH_TIME = 1_500;
const COUNT = Number(process.env['RIBBAND_MUTATIONS'] ?? EACH_TIME);
const SLOW = 1_000;

interface Outcome {
  readonly rejected: boolean;
  readonly took: number;
}

/** A second of the processor, not of the clock, is what counts: other programs may want it, too. */
async function timed(
  check: () => Promise<Checked>,
): Promise<{ readonly checked: Checked; readonly took: number }> {
  const clock = performance.now();
  const start = process.cpuUsage();
  const checked = await check();
  const { user, system } = process.cpuUsage(start);
  return { checked, took: Math.min(performance.now() - clock, (user + system) / 1_000) };
}

async function outcomeOf(seed: number): Promise<Outcome> {
  const random = randomFrom(seed);
  // Entries are what is written most; every third time it is one of the other files.
  const entries = ORIGINALS.filter((original) => original.role === 'entry');
  const original = pick<Original>(random, random() < 2 / 3 ? entries : ORIGINALS);
  const bytes = mutate(original.bytes, pick(random, MUTATIONS), random);
  const folder = bookWith(original, bytes);
  const { checked, took } = await timed(() => checkBook(folder, TODAY));
  const texts = new Map(folder.files.map((file) => [file.path, file.text]));
  for (const { file, span, message, fix, excerpt } of checked.diagnostics) {
    if (!ORIGINALS.some(({ path }) => path === file)) throw new Error(`a file that there is not: ${file}`);
    if (!(span.line >= 1 && span.column >= 1)) throw new Error(`no place: ${JSON.stringify(span)}`);
    const text = texts.get(file) ?? '';
    if (span.offset + span.length > text.length)
      throw new Error(`a place behind the end: ${JSON.stringify(span)}`);
    if (!text.split('\n')[span.line - 1]?.startsWith(excerpt))
      throw new Error('another line than the one marked');
    if (!/^\S.*[.?!]$/s.test(message) || /undefined|\[object|NaN is/.test(message))
      throw new Error(`a message: ${message}`);
    for (const edit of fix?.edits ?? [])
      if (edit.offset + edit.length > text.length)
        throw new Error(`a mend behind the end: ${JSON.stringify(edit)}`);
  }
  return { rejected: checked.diagnostics.some(({ severity }) => severity === 'error'), took };
}

describe('files that something has happened to', () => {
  it('begin as a book without a problem', async () => {
    const [first] = ORIGINALS;
    const { book, diagnostics } = await checkBook(
      bookWith(first as Original, (first as Original).bytes),
      TODAY,
    );
    expect(diagnostics).toEqual([]);
    expect(book?.entries).toHaveLength(3);
  });

  it(`are told of, ${COUNT.toLocaleString('en')} of them, and never bring the checker down`, async () => {
    const failed: string[] = [];
    let rejected = 0;
    let slowest = { seed: 0, took: 0 };
    for (let seed = 1; seed <= COUNT; seed += 1) {
      try {
        const outcome = await outcomeOf(seed);
        rejected += outcome.rejected ? 1 : 0;
        if (outcome.took > slowest.took) slowest = { seed, took: outcome.took };
      } catch (error) {
        failed.push(
          `seed ${seed}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`,
        );
        if (failed.length >= 10) break;
      }
    }
    if (COUNT > EACH_TIME)
      console.info(
        `${COUNT} changed files, ${rejected} rejected; slowest: seed ${slowest.seed}, ${Math.round(slowest.took)} ms`,
      );
    expect(failed).toEqual([]);
    expect(slowest.took, `seed ${slowest.seed}`).toBeLessThan(SLOW);
    expect(rejected).toBeGreaterThan(COUNT / 2);
    expect(rejected).toBeLessThan(COUNT);
  }, 3_600_000);

  it('are told of in the same words the second time', async () => {
    for (let seed = 1; seed <= 60; seed += 1) {
      const random = randomFrom(seed);
      const original = pick<Original>(random, ORIGINALS);
      const folder = bookWith(original, mutate(original.bytes, pick(random, MUTATIONS), random));
      expect(await checkBook(folder, TODAY), `seed ${seed}`).toEqual(await checkBook(folder, TODAY));
    }
  });
});
