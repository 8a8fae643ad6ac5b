import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Activity, type Schedule, schedule } from '../../src/reckon/network.js';

/** Random activities without a circle: each waits only on ones made before it, told in any order. */
const duration = fc.oneof(
  fc.integer({ min: 0, max: 9 }),
  // Finer than this is nothing that a schedule tells apart.
  fc.double({ min: 0, max: 9, noNaN: true }).map((hours) => Math.round(hours * 1e6) / 1e6),
);
const acyclic = fc
  .array(fc.record({ duration, before: fc.array(fc.nat({ max: 20 }), { maxLength: 4 }) }), {
    minLength: 1,
    maxLength: 12,
  })
  .map((made) =>
    made.map(
      ({ duration: takes, before }, index): Activity => ({
        id: `a${index}`,
        duration: takes,
        after: index === 0 ? [] : before.map((at) => `a${at % index}`),
      }),
    ),
  )
  .chain((made) => fc.shuffledSubarray(made, { minLength: made.length, maxLength: made.length }));

/** All chains from a beginning to an end, by trying every way. */
function chains(activities: readonly Activity[]): readonly (readonly Activity[])[] {
  const byId = new Map(activities.map((activity) => [activity.id, activity]));
  const upTo = (activity: Activity): readonly (readonly Activity[])[] => {
    const before = [...new Set(activity.after)].map((id) => byId.get(id) as Activity);
    return before.length === 0
      ? [[activity]]
      : before.flatMap((one) => upTo(one).map((chain) => [...chain, activity]));
  };
  const waitedOn = new Set(activities.flatMap(({ after }) => after));
  return activities.filter(({ id }) => !waitedOn.has(id)).flatMap(upTo);
}

const hoursOf = (chain: readonly Activity[]) => chain.reduce((sum, one) => sum + one.duration, 0);

describe('the network of activities', () => {
  it('is as long as the longest chain, found by trying all', () => {
    fc.assert(
      fc.property(acyclic, (activities) => {
        const found = schedule(activities) as Schedule;
        const longest = Math.max(...chains(activities).map(hoursOf));
        expect(found.length).toBeCloseTo(longest, 9);
        const byId = new Map(activities.map((activity) => [activity.id, activity]));
        expect(hoursOf(found.longest.map((id) => byId.get(id) as Activity))).toBeCloseTo(longest, 9);
      }),
    );
  });

  it('has a longest chain that is one: from a beginning to an end, each waiting on the one before', () => {
    fc.assert(
      fc.property(acyclic, (activities) => {
        const { longest } = schedule(activities) as Schedule;
        const ways = chains(activities).map((chain) => chain.map(({ id }) => id).join(' '));
        expect(ways).toContain(longest.join(' '));
      }),
    );
  });

  it('starts each when all it waits on is finished, and no float is negative', () => {
    fc.assert(
      fc.property(acyclic, (activities) => {
        const { activities: times, length } = schedule(activities) as Schedule;
        expect(times.size).toBe(activities.length);
        for (const { id, after, duration: takes } of activities) {
          const time = times.get(id);
          const ready = Math.max(
            0,
            ...after.map((before) => times.get(before)?.earliestFinish ?? Number.NaN),
          );
          expect(time?.earliestStart).toBe(ready);
          expect(time?.earliestFinish).toBe(ready + takes);
          expect(time?.float).toBeGreaterThanOrEqual(0);
          expect(time?.latestFinish).toBeLessThanOrEqual(length);
        }
      }),
    );
  });

  it('loses nothing by using up a float, and something by more', () => {
    fc.assert(
      fc.property(acyclic, fc.nat({ max: 20 }), (activities, which) => {
        const chosen = activities[which % activities.length] as Activity;
        const { activities: times, length } = schedule(activities) as Schedule;
        const float = times.get(chosen.id)?.float ?? 0;
        const longer = (by: number) =>
          schedule(activities.map((one) => (one === chosen ? { ...one, duration: one.duration + by } : one)))
            ?.length;
        expect(longer(float)).toBeCloseTo(length, 9);
        expect(longer(float + 1)).toBeCloseTo(length + 1, 9);
      }),
    );
  });

  it('does not hang on the order in which activities are told', () => {
    fc.assert(
      fc.property(acyclic, (activities) => {
        const [one, other] = [activities, [...activities].reverse()].map((list) => schedule(list));
        expect(one?.length).toBe(other?.length);
        for (const [id, time] of one?.activities ?? []) expect(other?.activities.get(id)).toEqual(time);
      }),
    );
  });

  it('puts an end that takes no time at the end of its chain', () => {
    const activities = [
      { id: 'launch', duration: 0, after: ['paint', 'valves'] },
      { id: 'paint', duration: 8, after: [] },
      { id: 'valves', duration: 3, after: [] },
    ];
    expect(schedule(activities)?.longest).toEqual(['paint', 'launch']);
  });

  it('passes over names that it does not know', () => {
    expect(schedule([{ id: 'a', duration: 2, after: ['gone'] }])).toMatchObject({
      length: 2,
      longest: ['a'],
    });
  });

  it('has no schedule for a circle, and an empty one for nothing', () => {
    expect(schedule([{ id: 'a', duration: 1, after: ['a'] }])).toBeNull();
    expect(
      schedule([
        { id: 'a', duration: 1, after: ['c'] },
        { id: 'b', duration: 1, after: ['a'] },
        { id: 'c', duration: 1, after: ['b'] },
      ]),
    ).toBeNull();
    expect(schedule([])).toMatchObject({ length: 0, longest: [] });
  });
});
