import type { PartMove } from '../../check/model.js';
import type { PartState, Reckoning } from '../../reckon/model.js';
import { type Column, type Table, tableOf } from '../table.js';

const PARTS: readonly Column<PartState>[] = [
  { name: 'part', type: 'text', about: 'Short name of the part.', of: ({ id }) => id },
  { name: 'what', type: 'text', about: 'The part in words.', of: ({ what }) => what },
  { name: 'system', type: 'text', about: 'System it belongs to.', of: ({ system }) => system },
  {
    name: 'now',
    type: 'text',
    about: 'What has become of it: ordered, ashore, fitted, removed, returned, sold or scrapped.',
    of: ({ now }) => now,
  },
  { name: 'since', type: 'date', about: 'Since when.', of: ({ since }) => since },
  { name: 'ordered', type: 'date', about: 'Day of the last order.', of: ({ ordered }) => ordered },
  { name: 'arrived', type: 'date', about: 'Day on which that came.', of: ({ arrived }) => arrived },
  { name: 'due', type: 'date', about: 'Day for which it was promised.', of: ({ due }) => due },
  {
    name: 'late',
    type: 'boolean',
    about:
      'Late now: still on order, past the day for which it was promised. Of one that came, came_late_days tells.',
    of: ({ late }) => late,
  },
  {
    name: 'came_late_days',
    type: 'integer',
    about:
      'Days by which it came after the day for which it was promised. Empty where it came in time, has not come, or was promised for no day.',
    of: ({ cameLateDays }) => cameLateDays,
  },
  {
    name: 'lead_days',
    type: 'integer',
    about: 'Days from order to arrival.',
    of: ({ leadDays }) => leadDays,
  },
  {
    name: 'cost',
    type: 'number',
    about: 'Money spent on it. Empty where nothing was, or in several currencies: see part-moves.csv.',
    of: ({ costs }) => (costs.length === 1 ? (costs[0]?.amount ?? null) : null),
  },
  {
    name: 'currency',
    type: 'text',
    about: 'Currency of the cost (ISO 4217).',
    of: ({ costs }) => (costs.length === 1 ? (costs[0]?.currency ?? null) : null),
  },
  { name: 'supplier', type: 'text', about: 'Who supplied it.', of: ({ supplier }) => supplier },
  { name: 'serial', type: 'text', about: 'Serial number.', of: ({ serial }) => serial },
  {
    name: 'rests_on',
    type: 'text',
    about: 'Specs, points and values for which it was chosen, set apart by blanks.',
    of: ({ restsOn }) => (restsOn.length === 0 ? null : restsOn.join(' ')),
  },
];

/** Every part, in the order in which they first turn up. */
export function partsTable({ parts }: Reckoning): Table {
  const about = 'One row for each part, with what has become of it.';
  return tableOf({ name: 'parts', title: 'Parts', about }, PARTS, [...parts.values()]);
}

const MOVES: readonly Column<PartMove>[] = [
  { name: 'date', type: 'date', about: 'Day on which it happened.', of: ({ date }) => date },
  { name: 'part', type: 'text', about: 'Short name of the part.', of: ({ part }) => part },
  { name: 'what', type: 'text', about: 'The part in words, where they are said.', of: ({ what }) => what },
  { name: 'system', type: 'text', about: 'System it belongs to.', of: ({ system }) => system },
  {
    name: 'move',
    type: 'text',
    about: 'What happened: ordered, arrived, fitted, removed, moved, returned, sold or scrapped.',
    of: ({ move }) => move,
  },
  { name: 'pieces', type: 'number', about: 'How many.', of: ({ quantity }) => quantity },
  {
    name: 'cost',
    type: 'number',
    about: 'Money spent; negative where it came back.',
    of: ({ cost }) => cost?.amount ?? null,
  },
  {
    name: 'currency',
    type: 'text',
    about: 'Currency of the cost (ISO 4217).',
    of: ({ cost }) => cost?.currency ?? null,
  },
  { name: 'supplier', type: 'text', about: 'Who supplied it.', of: ({ supplier }) => supplier },
  { name: 'due', type: 'date', about: 'Day for which it was promised.', of: ({ due }) => due },
  { name: 'serial', type: 'text', about: 'Serial number.', of: ({ serial }) => serial },
  { name: 'mass_kg', type: 'number', about: 'Mass in kg.', of: ({ mass }) => mass?.si ?? null },
  { name: 'note', type: 'text', about: 'A remark.', of: ({ note }) => note },
  { name: 'entry', type: 'text', about: 'The entry that says so.', of: ({ entry }) => entry },
];

/** Everything that happened to parts, oldest first. */
export function partMovesTable({ book }: Reckoning): Table {
  const about = 'One row for each time that a part was ordered, came, was fitted, removed or went.';
  const moves = book.entries.flatMap((entry) => entry.parts);
  return tableOf({ name: 'part-moves', title: 'What happened to parts', about }, MOVES, moves);
}
