/**
 * The critical path method (Kelley and Walker 1959, from memory): earliest and latest times of activities
 * that wait on each other, the float of each, and the longest chain. Times are plain numbers in one unit,
 * counted from the start; what the unit is, is the caller's business.
 */
export interface Activity {
  readonly id: string;
  /** At least zero. */
  readonly duration: number;
  /** Activities that have to be finished first; unknown names are passed over. */
  readonly after: readonly string[];
}

export interface Scheduled {
  readonly id: string;
  readonly earliestStart: number;
  readonly earliestFinish: number;
  readonly latestStart: number;
  readonly latestFinish: number;
  /** By how much it can slip without moving the end. */
  readonly float: number;
}

export interface Schedule {
  readonly activities: ReadonlyMap<string, Scheduled>;
  readonly length: number;
  /** The chain that decides the length, first activity first; empty for no activities. */
  readonly longest: readonly string[];
}

/**
 * Schedules activities.
 *
 * @returns null where they wait on each other in a circle, which the checker reports.
 */
export function schedule(activities: readonly Activity[]): Schedule | null {
  const byId = new Map(activities.map((activity) => [activity.id, activity]));
  const after = new Map(
    activities.map((activity) => [activity.id, [...new Set(activity.after)].filter((id) => byId.has(id))]),
  );
  const order = inOrder(after);
  if (order === null) return null;
  const start = new Map<string, number>();
  const finish = new Map<string, number>();
  for (const id of order) {
    const { duration } = byId.get(id) as Activity;
    const begin = Math.max(0, ...(after.get(id) ?? []).map((before) => finish.get(before) ?? 0));
    start.set(id, begin);
    finish.set(id, begin + duration);
  }
  const length = Math.max(0, ...finish.values());
  const latest = latestFinishes(order, after, byId, length);
  const scheduled = new Map(
    order.map((id): [string, Scheduled] => {
      const { duration } = byId.get(id) as Activity;
      const [earliestStart, earliestFinish, latestFinish] = [
        start.get(id) ?? 0,
        finish.get(id) ?? 0,
        latest.get(id) ?? length,
      ];
      return [
        id,
        {
          id,
          earliestStart,
          earliestFinish,
          latestStart: latestFinish - duration,
          latestFinish,
          float: slack(latestFinish - earliestFinish, length),
        },
      ];
    }),
  );
  return { activities: scheduled, length, longest: longestChain(order, after, finish, start, length) };
}

/** Times are added up forwards and taken off backwards, which differ in the last bits. */
function slack(difference: number, length: number): number {
  return difference < 1e-9 * length ? 0 : difference;
}

/** Names so that each comes after all it waits on (Kahn 1962, from memory); null for a circle. */
function inOrder(after: ReadonlyMap<string, readonly string[]>): readonly string[] | null {
  const waiting = new Map([...after].map(([id, before]) => [id, before.length]));
  const followers = new Map<string, string[]>();
  for (const [id, before] of after)
    for (const one of before) followers.set(one, [...(followers.get(one) ?? []), id]);
  const ready = [...waiting].filter(([, count]) => count === 0).map(([id]) => id);
  for (let at = 0; at < ready.length; at += 1) {
    for (const next of followers.get(ready[at] as string) ?? []) {
      const left = (waiting.get(next) ?? 0) - 1;
      waiting.set(next, left);
      if (left === 0) ready.push(next);
    }
  }
  return ready.length === after.size ? ready : null;
}

function latestFinishes(
  order: readonly string[],
  after: ReadonlyMap<string, readonly string[]>,
  byId: ReadonlyMap<string, Activity>,
  length: number,
): ReadonlyMap<string, number> {
  const latest = new Map(order.map((id) => [id, length]));
  for (const id of [...order].reverse()) {
    const begin = (latest.get(id) ?? length) - (byId.get(id)?.duration ?? 0);
    for (const before of after.get(id) ?? [])
      latest.set(before, Math.min(latest.get(before) ?? length, begin));
  }
  return latest;
}

/**
 * Back from what finishes last, always to the one that let it start. Of several that finish at the end it is the
 * one after which nothing comes: an end that takes no time belongs to its chain.
 */
function longestChain(
  order: readonly string[],
  after: ReadonlyMap<string, readonly string[]>,
  finish: ReadonlyMap<string, number>,
  start: ReadonlyMap<string, number>,
  length: number,
): readonly string[] {
  const chain: string[] = [];
  let here = order.findLast((id) => finish.get(id) === length);
  while (here !== undefined) {
    chain.unshift(here);
    const begin = start.get(here);
    here = (after.get(here) ?? []).find((before) => finish.get(before) === begin);
  }
  return chain;
}
