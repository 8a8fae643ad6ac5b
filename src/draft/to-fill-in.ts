import type { BookFacts, SystemFacts } from '../reckon/facts.js';
import type { Draft } from './draft.js';
import { oneLine } from './yaml.js';

/**
 * What can be filled in, as comments: what belongs before the items that are done, and the other open items
 * behind them. Values are left out on purpose: a line that is only uncommented must not repeat the last reading
 * as a new one.
 */
export function toFillIn(
  draft: Draft,
  facts: BookFacts,
): { readonly before: readonly string[]; readonly after: readonly string[] } {
  const systems = draft.systems.flatMap((id) => facts.systems.find((system) => system.id === id) ?? []);
  return {
    before: [...hoursLines(facts), ...meterLines(systems), ...measurementLines(systems)],
    after: closingLines(draft, systems),
  };
}

function hoursLines({ people }: BookFacts): string[] {
  const [person] = people;
  return person === undefined ? [] : ['# hours:', `#   - { by: ${person.id}, spent:  h }`];
}

function meterLines(systems: readonly SystemFacts[]): string[] {
  const rows = systems
    .flatMap(({ meters }) => meters)
    .map(({ ref, unit, last }): Row => [`- { meter: ${ref}, reads:  ${unit} }`, last && lastTime(last)]);
  return rows.length === 0 ? [] : ['# meters:', ...aligned(rows)];
}

function measurementLines(systems: readonly SystemFacts[]): string[] {
  const rows = systems
    .flatMap(({ points }) => points)
    .map((point): Row => {
      const unit = point.unit === '1' ? '' : ` ${point.unit}`;
      const before = point.last === null ? '' : `; ${lastTime(point.last)}`;
      return [`- ${point.ref}: ${unit}`.trimEnd(), oneLine(point.title) + before];
    });
  return rows.length === 0 ? [] : ['# measurements:', ...aligned(rows)];
}

function closingLines({ closes }: Draft, systems: readonly SystemFacts[]): string[] {
  const others = systems.flatMap(({ items }) => items).filter(({ id }) => !closes.includes(id));
  const rows = others.map(({ id, what }): Row => [`- ${id}`, oneLine(what)]);
  if (rows.length === 0) return [];
  return closes.length === 0 ? ['# closes:', ...aligned(rows)] : aligned(rows);
}

type Row = readonly [line: string, remark: string | null];

/** Lines of a list that is commented out, with their remarks below each other. */
function aligned(rows: readonly Row[]): string[] {
  const width = Math.max(...rows.map(([line]) => line.length));
  return rows.map(([line, remark]) => `#   ${remark === null ? line : `${line.padEnd(width)}  # ${remark}`}`);
}

function lastTime({ written, date }: { readonly written: string; readonly date: string }): string {
  return `last ${oneLine(written)} on ${date}`;
}
