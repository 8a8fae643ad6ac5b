import { describe, expect, it } from 'vitest';
import { lotsOf } from '../../src/render/lots.js';

/** Whether a promise is settled once all that is due has run. */
async function isSettled(promise: Promise<void>): Promise<boolean> {
  let settled = false;
  void promise.then(() => {
    settled = true;
  });
  await new Promise((resolve) => setImmediate(resolve));
  return settled;
}

/** Marks with some lots that the other thread has taken. */
function marks(count: number, ...others: readonly number[]): Int32Array {
  const taken = new Int32Array(new SharedArrayBuffer(4 * count));
  for (const lot of others) taken[lot] = 1;
  return taken;
}

describe('lots of work', () => {
  it('that nobody has begun are taken, and never waited for, however often they are asked for', async () => {
    const taken = marks(3);
    const lots = lotsOf(taken);
    for (let times = 0; times < 3; times += 1) expect(await isSettled(lots.ready([0, 1]))).toBe(true);
    expect([...taken]).toEqual([1, 1, 0]);
  });

  it('that the other thread has begun are waited for by everybody who asks', async () => {
    const lots = lotsOf(marks(2, 1));
    const [one, other] = [lots.ready([0, 1]), lots.ready([1])];
    expect([await isSettled(one), await isSettled(other)]).toEqual([false, false]);
    lots.done(1);
    expect([await isSettled(one), await isSettled(other)]).toEqual([true, true]);
    expect(await isSettled(lots.ready([1]))).toBe(true);
  });

  it('are waited for no longer when the other thread has ended', async () => {
    const lots = lotsOf(marks(3, 0, 2));
    const waiting = [lots.ready([0]), lots.ready([2, 0])];
    lots.ended();
    for (const one of waiting) expect(await isSettled(one)).toBe(true);
    expect(await isSettled(lots.ready([0, 1, 2]))).toBe(true);
  });
});
