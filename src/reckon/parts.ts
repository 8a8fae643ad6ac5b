import type { PartMove, PartMoveName } from '../check/model.js';
import { daysBetween } from './calendar.js';
import type { PartPlace, PartState } from './model.js';

const AFTER: Readonly<Record<PartMoveName, PartPlace>> = {
  ordered: 'ordered',
  arrived: 'ashore',
  fitted: 'fitted',
  moved: 'fitted',
  removed: 'removed',
  returned: 'returned',
  sold: 'sold',
  scrapped: 'scrapped',
};

/**
 * What has become of one part. What is ordered again under the same name is on order again: its dates are
 * those of the last order.
 *
 * @param moves its moves, oldest first; at least one.
 */
export function partState(id: string, moves: readonly PartMove[], asOf: string): PartState {
  const last = moves[moves.length - 1] as PartMove;
  const since = moves.slice(
    Math.max(
      0,
      moves.findLastIndex((move) => move.move === 'ordered'),
    ),
  );
  const ordered = since[0]?.move === 'ordered' ? since[0].date : null;
  const arrived = since.find((move) => move.move === 'arrived')?.date ?? null;
  const now = placeAfter(last);
  const due = lastOf(since, (move) => move.due);
  return {
    id,
    what: lastOf(moves, (move) => move.what),
    system: last.system,
    now,
    since: last.date,
    ordered,
    arrived,
    due,
    supplier: lastOf(moves, (move) => move.supplier),
    serial: lastOf(moves, (move) => move.serial),
    cameLateDays: due !== null && arrived !== null && arrived > due ? daysBetween(due, arrived) : null,
    late: now === 'ordered' && due !== null && due < asOf,
    leadDays: ordered === null || arrived === null ? null : daysBetween(ordered, arrived),
    costs: sumCosts(moves),
    restsOn: [...new Set(moves.flatMap((move) => move.restsOn))],
    moves,
  };
}

/** Where a part is after a move. */
export function placeAfter({ move }: PartMove): PartPlace {
  return AFTER[move];
}

/** The move by which a part came where it is now; null where it is not fitted. Moving it makes no other part of it. */
export function fittedOn(moves: readonly PartMove[]): PartMove | null {
  const last = moves.at(-1);
  if (last === undefined || placeAfter(last) !== 'fitted') return null;
  return moves.findLast(({ move }) => move === 'fitted') ?? null;
}

function lastOf<T>(moves: readonly PartMove[], pick: (move: PartMove) => T | null): T | null {
  return moves.reduce<T | null>((found, move) => pick(move) ?? found, null);
}

function sumCosts(moves: readonly PartMove[]): PartState['costs'] {
  const sums = new Map<string, number>();
  for (const { cost } of moves)
    if (cost !== null) sums.set(cost.currency, (sums.get(cost.currency) ?? 0) + cost.amount);
  return [...sums].map(([currency, amount]) => ({ currency, amount: toCents(amount) }));
}

/** Sums of decimal amounts, freed of what binary fractions add to them. */
export function toCents(amount: number): number {
  return Math.round(amount * 1000) / 1000;
}
