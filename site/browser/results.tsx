import type { ComponentChildren, VNode } from 'preact';
import type { Order, Sorting } from '../../src/find/index.js';
import { dayWords } from '../../src/render/words.js';
import { LimitTag, OutcomeTag, StandingTag } from '../templates/pieces.js';
import type { FoundRow } from './rows.js';

/** What was found, as a table of one page that is sorted by any column. */

const COLUMNS: readonly (readonly [order: Order, head: string, look: string])[] = [
  ['date', 'Date', 'day'],
  ['system', 'System', 'name'],
  ['what', 'What', 'name'],
  ['value', 'Value', 'value'],
  ['state', 'How it stands', 'value'],
  ['around', 'Around it', 'text'],
];

interface TableProps {
  readonly rows: readonly FoundRow[];
  readonly sorting: Sorting;
  readonly sort: (by: Order) => void;
}

/** The table. The button of a column sorts by it, and again the other way round. */
export function ResultsTable({ rows, sorting, sort }: TableProps): VNode {
  return (
    <table class="stack find-table">
      <caption class="quiet">What was found</caption>
      <thead>
        <tr>
          {COLUMNS.map(([order, head, look]) => (
            <th scope="col" class={look} aria-sort={sortedBy(order, sorting)}>
              <button type="button" class="find-sort" onClick={() => sort(order)}>
                {head}
              </button>
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <Row key={row.key} row={row} />
        ))}
      </tbody>
    </table>
  );
}

function sortedBy(order: Order, { by, descending }: Sorting) {
  if (by !== order) return undefined;
  return descending ? ('descending' as const) : ('ascending' as const);
}

function Row({ row }: { row: FoundRow }): VNode {
  return (
    <tr>
      <th scope="row" class="day">
        {row.date === null ? (
          <span class="soft">no day</span>
        ) : (
          <time dateTime={row.date}>{dayWords(row.date)}</time>
        )}
      </th>
      <td class="name" data-l="System">
        {row.system}
      </td>
      <td class="name" data-l="What">
        <span>
          {row.title}
          {row.sort !== 'reading' && <span class="mark-word">{row.sort}</span>}
        </span>
      </td>
      <td class={row.says.length > 30 ? 'text' : 'value'} data-l="Value">
        <span>{[row.value, row.says].filter((text) => text !== '').join(', ')}</span>
      </td>
      <td class="value" data-l="Stands">
        <State row={row} />
      </td>
      <td class="text" data-l="Around">
        <span>
          {row.around}
          {row.around !== '' && ' '}
          <a href={row.href}>{row.where}</a>
        </span>
      </td>
    </tr>
  );
}

function State({ row }: { row: FoundRow }): ComponentChildren {
  if (row.sort === 'statement' && row.standing !== null) return <StandingTag standing={row.standing} />;
  if (row.outcome !== null) return <OutcomeTag outcome={row.outcome} />;
  if (row.limit === 'outside' || row.limit === 'undecided') return <LimitTag limit={row.limit} />;
  return <span class="soft">{row.state || (row.limit === 'inside' ? 'inside' : '')}</span>;
}

/** The way through the pages of what was found. */
export function Pager(props: {
  readonly page: number;
  readonly pages: number;
  readonly hrefOf: (page: number) => string;
}): VNode {
  const { page, pages, hrefOf } = props;
  return (
    <nav class="find-pager" aria-label="Pages of what was found">
      {page > 1 && <a href={hrefOf(page - 1)}>← before</a>}
      <span>
        Page {page} of {pages}
      </span>
      {page < pages && <a href={hrefOf(page + 1)}>next →</a>}
    </nav>
  );
}
