import { plainLine } from '../quantity/plain-line.js';
import type { TakePlan } from '../take/plan.js';
import type { Reason, Refusal } from '../take/refusals.js';

/** What `ribband take` says of a table. */

/** As many refused rows as are shown one by one; of all of them the number is told. */
const MOST_SHOWN = 40;

const REASONS: Readonly<Record<Reason, string>> = {
  'no-row': 'not to be taken apart',
  'no-cell': 'columns missing',
  'no-time': 'no time',
  'no-number': 'no number',
  'no-unit': 'without a unit',
  'wrong-unit': 'another unit',
  late: 'after today',
  implausible: 'not plausible',
  outside: 'outside what the map allows',
  stuck: 'standing still',
  conflict: 'contradicting what is there',
};

/** @param written paths of the files that were written. @param dry whether nothing was to be written. */
export function takeReport(plan: TakePlan, written: readonly string[], dry: boolean): string {
  const lines = [
    `${number(plan.rows, 'row')} read.`,
    ...plan.series.map(({ file, point, added, known }) => `${file} (${point}): ${counts(added, known)}.`),
    ...entryLines(plan),
    ...refusedLines(plan),
    dry ? 'Nothing was written: this was to see what would be.' : writtenLine(written, plan),
  ];
  return `${lines.join('\n')}\n`;
}

function counts(added: number, known: number): string {
  return `${number(added, 'reading')} new${known === 0 ? '' : `, ${known.toLocaleString('en-GB')} there already`}`;
}

function entryLines({ entries }: TakePlan): string[] {
  if (entries === null) return [];
  const { drafts, added, known } = entries;
  const days = drafts.length === 0 ? '' : `, ${drafts[0]?.date} to ${drafts.at(-1)?.date}`;
  return [`${number(drafts.length, 'entry', 'entries')}${days}: ${counts(added, known)}.`];
}

function refusedLines({ refused }: TakePlan): string[] {
  const all = refused.counts();
  const total = [...all.values()].reduce((sum, count) => sum + count, 0);
  if (total === 0) return ['No row was refused.'];
  const reasons = [...all].map(([reason, count]) => `${count.toLocaleString('en-GB')} ${REASONS[reason]}`);
  const shown = refused.shown();
  const stretches = together(shown).slice(0, MOST_SHOWN);
  const left = total - stretches.reduce((sum, { count }) => sum + count, 0);
  return [
    `${number(total, 'value')} refused: ${reasons.join(', ')}.`,
    ...stretches.map(refusedLine),
    ...(left > 0 ? [`  and ${left.toLocaleString('en-GB')} more`] : []),
  ];
}

/** Rows that follow each other and are refused in the same words. */
interface Stretch {
  readonly first: Refusal;
  readonly last: Refusal;
  readonly count: number;
}

function together(refused: readonly Refusal[]): readonly Stretch[] {
  const found: Stretch[] = [];
  for (const one of refused) {
    const before = found.at(-1);
    const goesOn =
      before !== undefined &&
      before.last.row + 1 === one.row &&
      before.last.column === one.column &&
      // Of a column without a unit every cell is told in the same words, whatever stands in it.
      (before.last.written === one.written || one.reason === 'no-unit') &&
      before.last.words === one.words;
    if (goesOn) found[found.length - 1] = { first: before.first, last: one, count: before.count + 1 };
    else found.push({ first: one, last: one, count: 1 });
  }
  return found;
}

function refusedLine({ first, last }: Stretch): string {
  const { row, column, written, words } = first;
  const rows = row === last.row ? `row ${row}` : `rows ${row} to ${last.row}`;
  const place = column === null ? rows : `${rows}, ${plainLine(column, 58)}`;
  return `  ${place}: ${written === '' ? '' : `\`${plainLine(written, 58)}\` `}${words}`;
}

function writtenLine(written: readonly string[], { refused }: TakePlan): string {
  if (written.length === 0)
    return refused.counts().size === 0
      ? 'Nothing is new; nothing was written.'
      : 'Of what was not refused nothing is new; nothing was written.';
  if (written.length > 12) return `Wrote ${written.length} files, from ${written[0]} to ${written.at(-1)}.`;
  return written.map((path) => `Wrote ${path}`).join('\n');
}

function number(count: number, noun: string, plural = `${noun}s`): string {
  return `${count.toLocaleString('en-GB')} ${count === 1 ? noun : plural}`;
}
