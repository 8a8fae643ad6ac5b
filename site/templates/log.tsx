import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { LogView, LogYearView } from '../../src/render/pages/log.js';
import { count, monthWords } from '../../src/render/words.js';
import { DataTable, Go, Leaf, Masthead, Ref } from './pieces.js';
import { EntryList } from './rows.js';

const INITIALS = ['J', 'F', 'M', 'A', 'M', 'J', 'J', 'A', 'S', 'O', 'N', 'D'];

/** The years of the log. */
export function Log({ view }: TemplateProps<LogView>): VNode {
  return (
    <>
      <Masthead kind={<p>{count(view.total, 'entry', 'entries')}</p>} title="Log" />
      <Leaf heading="Years" id="years">
        <DataTable
          label="Years"
          on="stack"
          columns={[
            { head: 'Year' },
            { head: 'Entries', kind: 'number' },
            { head: 'Hours', kind: 'number' },
            { head: 'Readings', kind: 'number' },
            { head: 'Entries by month, January to December' },
          ]}
          rows={view.years.map((row) => ({
            cells: [
              <Ref to={row.year} />,
              row.entries,
              row.hours,
              row.readings,
              <Months months={row.months} />,
            ],
          }))}
        />
      </Leaf>
    </>
  );
}

/** Entries of each month as a row of small columns. */
function Months({ months }: { months: readonly number[] }): VNode {
  const most = Math.max(...months, 1);
  const words = months.map((number, month) => `${INITIALS[month]} ${number}`).join(', ');
  return (
    <svg class="months" viewBox="0 0 168 28" role="img" aria-label={words}>
      {months.map((number, month) => {
        const height = number === 0 ? 1 : 3 + (number / most) * 25;
        return <rect x={month * 14} y={28 - height} width="10" height={height} />;
      })}
    </svg>
  );
}

/** One year of the log. */
export function LogYear({ view }: TemplateProps<LogYearView>): VNode {
  return (
    <>
      <Masthead
        kind={
          <p>
            <a href="index.html">Log</a>
          </p>
        }
        title={view.year}
      >
        <p class="soft">{count(view.count, 'entry', 'entries')}, newest first</p>
        <p>
          <Ref to={view.changes} />
        </p>
      </Masthead>
      {view.months.map(({ month, entries }) => (
        <Leaf heading={monthWords(month)} id={`m${month}`} note={count(entries.length, 'entry', 'entries')}>
          <EntryList entries={entries} />
        </Leaf>
      ))}
      <nav class="pager" aria-label="Years">
        {view.older !== null && <Go to={view.older}>← {view.older.text}</Go>}
        {view.newer !== null && <Go to={view.newer}>{view.newer.text} →</Go>}
      </nav>
    </>
  );
}
