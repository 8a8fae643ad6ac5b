import type { Reading } from '../../check/model.js';
import type { LimitState, Reckoning } from '../../reckon/model.js';
import { limitState } from '../../reckon/timelines.js';
import { type Column, type Table, tableByYear } from '../table.js';
import { takenColumns, valueColumns } from './words.js';

/** How a reading lies to the limits of its point, and what the point is called. */
interface Known {
  readonly limit: (reading: Reading) => LimitState | null;
  readonly title: (reading: Reading) => string | null;
}

const columnsWith = ({ limit, title }: Known): readonly Column<Reading>[] => [
  { name: 'date', type: 'date', about: 'Day of the reading.', of: ({ date }) => date },
  { name: 'system', type: 'text', about: 'System it belongs to.', of: (reading) => reading.system },
  {
    name: 'point',
    type: 'text',
    about: 'Point where it was read, as system.name; empty where it belongs to none.',
    of: (reading) => reading.point,
  },
  {
    name: 'what',
    type: 'text',
    about: 'What was read, in words.',
    of: (reading) => title(reading) ?? reading.what,
  },
  ...valueColumns<Reading>((reading) => ({
    value: { type: 'quantity', quantity: reading.quantity },
    uncertainty: reading.uncertainty,
  })),
  {
    name: 'quantity',
    type: 'text',
    about: 'Kind of quantity: voltage, length, torque.',
    of: (reading) => reading.quantity.kind,
  },
  {
    name: 'si_value',
    type: 'number',
    about: 'The value in the unit of the SI beside it, for comparing what was read in several units.',
    of: (reading) => reading.quantity.si,
  },
  {
    name: 'si_unit',
    type: 'text',
    about: 'The unit of the SI.',
    of: (reading) => reading.quantity.siUnit,
  },
  {
    name: 'limit',
    type: 'text',
    about:
      'How it lies to the limits of its point: inside, outside, undecided or no-limit; former where it is of what was there before, which the limits are not about.',
    of: limit,
  },
  { name: 'test', type: 'text', about: 'Test in which it was read.', of: (reading) => reading.test },
  ...takenColumns<Reading>((reading) => reading),
];

/** Every reading, oldest first. What loggers have read is in files of its own. */
export function readingsTable({ readings, timelines, asOf }: Reckoning): Table {
  const pointOf = ({ point }: Reading) => (point === null ? undefined : timelines.get(point)?.point);
  const columns = columnsWith({
    title: (reading) => pointOf(reading)?.title ?? null,
    limit: (reading) => {
      const point = pointOf(reading);
      return point === undefined ? null : limitState(point, reading, asOf);
    },
  });
  const head = { name: 'readings', title: 'Readings', about: 'One row for each value that was read.' };
  return tableByYear(head, columns, readings);
}
