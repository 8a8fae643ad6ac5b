import type { Entry, PartMove } from '../check/model.js';
import { monthOf } from './calendar.js';
import type { HoursRollup, HoursRow, MoneyRow } from './model.js';
import { toCents } from './parts.js';

/** Working time by system, month and person. What is not said to be spent on one system is shared equally. */
export function hoursRollup(entries: readonly Entry[]): HoursRollup {
  const bySystem = new Map<string, number>();
  const byMonth = new Map<string, number>();
  const byPerson = new Map<string, number>();
  let total = 0;
  for (const entry of entries) {
    for (const { spent, by, on } of entry.hours) {
      total += spent;
      add(byMonth, monthOf(entry.date), spent);
      add(byPerson, by, spent);
      const systems = on === null ? entry.systems : [on];
      for (const system of systems) add(bySystem, system, spent / systems.length);
    }
  }
  return {
    total: tidy(total),
    bySystem: rows(bySystem, byAmount),
    byMonth: rows(byMonth, byKey),
    byPerson: rows(byPerson, byAmount),
  };
}

/** Money spent on parts, one row a currency: by system, month and supplier. */
export function moneyRollup(entries: readonly Entry[]): readonly MoneyRow[] {
  const byCurrency = new Map<string, PartMove[]>();
  for (const move of entries.flatMap((entry) => entry.parts)) {
    if (move.cost === null) continue;
    byCurrency.set(move.cost.currency, [...(byCurrency.get(move.cost.currency) ?? []), move]);
  }
  return [...byCurrency]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([currency, moves]) => moneyRow(currency, moves));
}

function moneyRow(currency: string, moves: readonly PartMove[]): MoneyRow {
  const sum = (key: (move: PartMove) => string) => {
    const sums = new Map<string, number>();
    for (const move of moves) add(sums, key(move), move.cost?.amount ?? 0);
    return [...sums].map(([name, amount]) => ({ key: name, amount: toCents(amount) }));
  };
  const largest = (a: { amount: number; key: string }, b: { amount: number; key: string }) =>
    b.amount - a.amount || (a.key < b.key ? -1 : 1);
  return {
    currency,
    total: toCents(moves.reduce((total, move) => total + (move.cost?.amount ?? 0), 0)),
    bySystem: sum((move) => move.system).sort(largest),
    byMonth: sum((move) => monthOf(move.date)).sort((a, b) => (a.key < b.key ? -1 : 1)),
    bySupplier: sum((move) => move.supplier ?? '').sort(largest),
  };
}

function add(sums: Map<string, number>, key: string, amount: number): void {
  sums.set(key, (sums.get(key) ?? 0) + amount);
}

const byAmount = (a: HoursRow, b: HoursRow) => b.hours - a.hours || (a.key < b.key ? -1 : 1);
const byKey = (a: HoursRow, b: HoursRow) => (a.key < b.key ? -1 : 1);

function rows(
  sums: ReadonlyMap<string, number>,
  order: (a: HoursRow, b: HoursRow) => number,
): readonly HoursRow[] {
  return [...sums].map(([key, hours]) => ({ key, hours: tidy(hours) })).sort(order);
}

/** Hours to the minute or better, freed of what binary fractions add. */
function tidy(hours: number): number {
  return Math.round(hours * 1e6) / 1e6;
}
