import type { Reckoning } from '../../reckon/model.js';
import type { UpkeepDone, UpkeepState } from '../../reckon/upkeep.js';
import { type Column, type Table, tableOf } from '../table.js';

const UPKEEP: readonly Column<UpkeepState>[] = [
  { name: 'upkeep', type: 'text', about: 'The upkeep, as system.name.', of: ({ upkeep }) => upkeep.ref },
  { name: 'what', type: 'text', about: 'What has to be done.', of: ({ upkeep }) => upkeep.what },
  { name: 'system', type: 'text', about: 'System it belongs to.', of: ({ upkeep }) => upkeep.system },
  { name: 'every', type: 'text', about: 'How often.', of: ({ upkeep }) => upkeep.everyWritten },
  {
    name: 'safety',
    type: 'boolean',
    about: 'Whether safety hangs on it.',
    of: ({ upkeep }) => upkeep.safety,
  },
  {
    name: 'last_done',
    type: 'date',
    about: 'Day on which it was done last; empty where it never was on record.',
    of: ({ done }) => done[0]?.date ?? null,
  },
  { name: 'times_done', type: 'integer', about: 'How often it was done.', of: ({ done }) => done.length },
  {
    name: 'due',
    type: 'date',
    about: 'Day by which it has to be done, by the calendar or at the recent rate of use.',
    of: ({ dueOn }) => dueOn,
  },
  {
    name: 'due_at_hours',
    type: 'number',
    about: 'What the meter of hours will show when it is due.',
    of: ({ byHours }) => byHours?.atReading ?? null,
  },
  {
    name: 'hours_left',
    type: 'number',
    about: 'Hours of use left; negative where they are overrun.',
    of: ({ byHours }) => byHours?.left ?? null,
  },
  {
    name: 'overdue',
    type: 'boolean',
    about: 'Whether it is overdue.',
    of: ({ overdueByDate, overdueByHours }) => overdueByDate || overdueByHours,
  },
  { name: 'because', type: 'text', about: 'Why, in words.', of: ({ because }) => because },
];

/** Every piece of upkeep, with when it is due. */
export function upkeepTable({ upkeep }: Reckoning): Table {
  const about = 'One row for each piece of upkeep that the systems name, with when it is due.';
  return tableOf({ name: 'upkeep', title: 'Upkeep', about }, UPKEEP, [...upkeep.values()]);
}

interface Done extends UpkeepDone {
  readonly upkeep: UpkeepState['upkeep'];
}

const DONE: readonly Column<Done>[] = [
  { name: 'date', type: 'date', about: 'Day on which it was done.', of: ({ date }) => date },
  { name: 'upkeep', type: 'text', about: 'The upkeep, as system.name.', of: ({ upkeep }) => upkeep.ref },
  { name: 'what', type: 'text', about: 'What was done.', of: ({ upkeep }) => upkeep.what },
  { name: 'system', type: 'text', about: 'System it belongs to.', of: ({ upkeep }) => upkeep.system },
  {
    name: 'running_hours',
    type: 'number',
    about: 'Hours of running since its meter was first read; empty where no meter tells.',
    of: ({ hours }) => (hours === null ? null : Math.round(hours * 10) / 10),
  },
  {
    name: 'days_late',
    type: 'integer',
    about: 'Days after its turn by the calendar; empty where it was in time, or nothing tells.',
    of: ({ late }) => late?.days ?? null,
  },
  {
    name: 'hours_late',
    type: 'integer',
    about: 'Hours of running after its turn by the meter; empty where it was in time, or nothing tells.',
    of: ({ late }) => late?.hours ?? null,
  },
  { name: 'entry', type: 'text', about: 'The entry that says so.', of: ({ entry }) => entry },
];

/** Every time that upkeep was done, oldest first. */
export function upkeepDoneTable({ upkeep }: Reckoning): Table {
  const rows = [...upkeep.values()]
    .flatMap((state) => state.done.map((done): Done => ({ ...done, upkeep: state.upkeep })))
    .sort((a, b) => (a.entry === b.entry ? 0 : a.entry < b.entry ? -1 : 1));
  const about = 'One row for each time that a piece of upkeep was done.';
  return tableOf({ name: 'upkeep-done', title: 'Upkeep done', about }, DONE, rows);
}
