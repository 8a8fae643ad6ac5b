import type { Quantity } from '../quantity/index.js';
import type { ItemState, Reckoning } from '../reckon/model.js';
import { modeline } from './schema-copies.js';
import { oneLine, scalar } from './yaml-text.js';

/** What a new entry is to say. */
export interface EntryDraft {
  readonly date: string;
  readonly title: string;
  readonly systems: readonly string[];
  readonly closes: readonly string[];
  /** Whether the book has schemas for an editor to find. */
  readonly withSchema: boolean;
}

/**
 * The text of a new entry: what is known, and as comments what can be filled in. Values are left out of the
 * comments on purpose: a line that is only uncommented must not repeat the last reading as a new one.
 */
export function entryText(draft: EntryDraft, reckoning: Reckoning): string {
  const lines = [
    '---',
    ...(draft.withSchema ? [modeline('entry', '../../')] : []),
    `date: ${draft.date}`,
    `title: ${scalar(draft.title)}`,
    `systems: [${draft.systems.join(', ')}]`,
    ...hoursLines(reckoning),
    ...meterLines(draft.systems, reckoning),
    ...measurementLines(draft.systems, reckoning),
    ...closingLines(draft, reckoning),
    '---',
    '',
  ];
  return `${lines.join('\n')}\n`;
}

/** Open items of some systems, those of the first system first. */
export function openItems(systems: readonly string[], reckoning: Reckoning): readonly ItemState[] {
  const open = [...reckoning.items.values()].filter((item) => item.status !== 'done');
  return systems.flatMap((system) => open.filter((item) => item.opened.system === system));
}

function hoursLines(reckoning: Reckoning): string[] {
  const [person] = reckoning.book.people.keys();
  return person === undefined ? [] : ['# hours:', `#   - { by: ${person}, spent:  h }`];
}

function meterLines(systems: readonly string[], reckoning: Reckoning): string[] {
  const meters = [...reckoning.meters.values()].filter(({ meter }) => systems.includes(systemOf(meter)));
  if (meters.length === 0) return [];
  const rows = meters.map(({ meter, unit, readings }): Row => {
    const last = readings.at(-1);
    return [
      `- { meter: ${meter}, reads:  ${unit} }`,
      last === undefined ? null : lastTime(last.reads, last.date),
    ];
  });
  return ['# meters:', ...aligned(rows)];
}

function measurementLines(systems: readonly string[], reckoning: Reckoning): string[] {
  const points = systems.flatMap((system) =>
    [...reckoning.timelines.values()].filter(({ point }) => point.system === system),
  );
  if (points.length === 0) return [];
  const rows = points.map(({ point, last }): Row => {
    const unit = point.unit === '1' ? '' : ` ${point.unit}`;
    const before = last === null ? '' : `; ${lastTime(last.reading.quantity, last.reading.date)}`;
    return [`- ${point.ref}: ${unit}`.trimEnd(), oneLine(point.title) + before];
  });
  return ['# measurements:', ...aligned(rows)];
}

function closingLines({ closes, systems }: EntryDraft, reckoning: Reckoning): string[] {
  const what = (id: string) => oneLine(reckoning.items.get(id)?.opened.what ?? '');
  const others = openItems(systems, reckoning).filter(({ opened }) => !closes.includes(opened.id));
  const rows = others.map(({ opened }): Row => [`- ${opened.id}`, what(opened.id)]);
  if (closes.length === 0) return rows.length === 0 ? [] : ['# closes:', ...aligned(rows)];
  return ['closes:', ...closes.map((id) => `  - ${id}  # ${what(id)}`), ...aligned(rows)];
}

type Row = readonly [line: string, remark: string | null];

/** Lines of a list that is commented out, with their remarks below each other. */
function aligned(rows: readonly Row[]): string[] {
  const width = Math.max(...rows.map(([line]) => line.length));
  return rows.map(([line, remark]) => `#   ${remark === null ? line : `${line.padEnd(width)}  # ${remark}`}`);
}

function lastTime(value: Quantity, date: string): string {
  return `last ${oneLine(value.written)} on ${date}`;
}

function systemOf(ref: string): string {
  return ref.slice(0, ref.indexOf('.'));
}
