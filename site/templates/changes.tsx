import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { ChangeCell, ChangesView } from '../../src/render/pages/changes.js';
import { DataTable, Day, Go, Leaf, LimitTag, Masthead, OutcomeTag, Ref, StandingTag } from './pieces.js';

/** What has become of the book in a period: sentences for a letter, then small tables. */
export function ChangesPage({ view }: TemplateProps<ChangesView>): VNode {
  return (
    <>
      <Masthead
        kind={
          <p>
            <Day on={view.from} /> to <Day on={view.to} />
          </p>
        }
        title={view.title}
      >
        {view.sealed.length > 0 && <p class="sealed">{view.sealed.join(' ')}</p>}
        <ul class="sentences">
          {view.sentences.map((sentence) => (
            <li>{sentence}</li>
          ))}
        </ul>
      </Masthead>
      {view.groups.map(({ id, heading, columns, rows }) => (
        <Leaf heading={heading} id={id} note={rows.length}>
          <DataTable
            label={heading}
            on="stack"
            columns={columns.map((head) => ({ head }))}
            rows={rows.map((cells) => ({ cells: cells.map(cellOf) }))}
          />
        </Leaf>
      ))}
      {view.doubts.length > 0 && (
        <Leaf heading="What this does not prove" id="doubts">
          <ul>
            {view.doubts.map((doubt) => (
              <li>{doubt}</li>
            ))}
          </ul>
        </Leaf>
      )}
      {(view.older !== null || view.newer !== null) && (
        <nav class="pager" aria-label="Years">
          {view.older !== null && <Go to={view.older}>← {view.older.text}</Go>}
          {view.newer !== null && <Go to={view.newer}>{view.newer.text} →</Go>}
        </nav>
      )}
    </>
  );
}

function cellOf(cell: ChangeCell): VNode | string {
  if ('standing' in cell) return <StandingTag standing={cell.standing} />;
  if ('outcome' in cell) return <OutcomeTag outcome={cell.outcome} />;
  if ('limit' in cell) return <LimitTag limit={cell.limit} />;
  return cell.href === null ? cell.text : <Ref to={cell} />;
}
