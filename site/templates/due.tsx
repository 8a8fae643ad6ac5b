import type { VNode } from 'preact';
import type { DueSort } from '../../src/reckon/due.js';
import type { DueRow } from '../../src/render/due-row.js';
import { DataTable, Day, LateTag, Ref } from './pieces.js';

const SORT_WORD: Readonly<Record<DueSort, string>> = {
  upkeep: 'upkeep',
  check: 'check of a spec',
  test: 'test',
  item: 'open work',
  part: 'part on order',
  instrument: 'instrument',
};

/** Things that are overdue or come due, in the order given. */
export function DueTable({ label, rows }: { label: string; rows: readonly DueRow[] }): VNode {
  return (
    <DataTable
      label={label}
      on="stack"
      columns={[
        { head: 'What' },
        { head: 'Sort' },
        { head: 'Day', kind: 'day' },
        { head: 'When', kind: 'value' },
        { head: 'Why', kind: 'text' },
      ]}
      rows={rows.map((row) => ({
        cells: [
          <>
            <Ref to={row.what} />
            {row.safety && <span class="mark-word">safety</span>}
            {row.system !== null && (
              <small class="line">
                <Ref to={row.system} />
              </small>
            )}
          </>,
          SORT_WORD[row.sort],
          row.on === null ? '' : <Day on={row.on} />,
          row.overdue ? <LateTag word={row.when} /> : row.when,
          row.because,
        ],
      }))}
    />
  );
}
