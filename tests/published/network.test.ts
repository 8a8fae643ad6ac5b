import { describe, expect, it } from 'vitest';
import { type Activity, type Schedule, schedule } from '../../src/reckon/network.js';

// University of Pittsburgh, operations research web notes on the critical path method: activities as arrows
// between events, with their times; 3-4 is a dummy. Values seen in the source.
const ARROWS = [
  [1, 2, 4],
  [2, 3, 8],
  [2, 4, 7],
  [2, 5, 6],
  [3, 4, 0],
  [3, 5, 9],
  [4, 6, 15],
  [5, 6, 12],
  [6, 7, 20],
] as const;
const EARLIEST = { 1: 0, 2: 4, 3: 12, 4: 12, 5: 21, 6: 33, 7: 53 };
const LATEST = { 1: 0, 2: 4, 3: 12, 4: 18, 5: 21, 6: 33, 7: 53 };
const LENGTH = 53;
const CRITICAL = ['1-2', '2-3', '3-5', '5-6', '6-7'];

/** An arrow becomes an activity that waits on all arrows into the event from which it leads. */
function asActivities(): readonly Activity[] {
  return ARROWS.map(([from, to, duration]) => ({
    id: `${from}-${to}`,
    duration,
    after: ARROWS.filter(([, end]) => end === from).map(([start, end]) => `${start}-${end}`),
  }));
}

function timesOfEvents({ activities, length }: Schedule) {
  const all = ARROWS.map(([from, to]) => ({ from, to, ...activities.get(`${from}-${to}`) }));
  const earliest: Record<number, number> = {};
  const latest: Record<number, number> = {};
  for (const event of [1, 2, 3, 4, 5, 6, 7]) {
    const into = all.filter(({ to }) => to === event);
    const outOf = all.filter(({ from }) => from === event);
    earliest[event] = Math.max(0, ...into.map(({ earliestFinish = Number.NaN }) => earliestFinish));
    latest[event] = Math.min(length, ...outOf.map(({ latestStart = Number.NaN }) => latestStart));
  }
  return { earliest, latest };
}

describe('the critical path method on a published network', () => {
  const found = schedule(asActivities()) as Schedule;

  it('has the published length and critical path', () => {
    expect(found.length).toBe(LENGTH);
    expect(found.longest).toEqual(CRITICAL);
  });

  it('has the published times of its events', () => {
    expect(timesOfEvents(found)).toEqual({ earliest: EARLIEST, latest: LATEST });
  });

  it('has no float on the critical path and some everywhere else', () => {
    const tight = [...found.activities.values()].filter(({ float }) => float === 0).map(({ id }) => id);
    expect(tight.sort()).toEqual(CRITICAL);
  });
});
