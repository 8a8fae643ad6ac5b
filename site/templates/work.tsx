import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { ItemRow, WorkView } from '../../src/render/pages/work.js';
import { count, STATUS_WORD } from '../../src/render/words.js';
import { DataTable, Day, Go, LateTag, Leaf, Masthead, Ref, RefList } from './pieces.js';

/** Work: overdue, ready, waiting, done. */
export function Work({ view }: TemplateProps<WorkView>): VNode {
  const open = view.overdue.length + view.ready.length + view.waiting.length;
  return (
    <>
      <Masthead kind={<p>{count(open, 'open item')}</p>} title="Open work">
        {view.goals.map(({ goal, when }) => (
          <p>
            <Ref to={goal} />: {when}
          </p>
        ))}
        {view.plan !== null && (
          <p class="soft">
            <a href={view.plan}>Plan of the work</a>: what decides, what is to come, how long suppliers take
          </p>
        )}
      </Masthead>
      {view.overdue.length > 0 && (
        <Leaf heading="Overdue" id="overdue" note={view.overdue.length}>
          <OpenTable label="Overdue" rows={view.overdue} />
        </Leaf>
      )}
      {view.ready.length > 0 && (
        <Leaf heading="Ready" id="ready" note={`${view.ready.length} can be started`}>
          <OpenTable label="Ready to start" rows={view.ready} />
        </Leaf>
      )}
      {view.waiting.length > 0 && (
        <Leaf heading="Waiting" id="waiting" note={`${view.waiting.length} cannot be started yet`}>
          <OpenTable label="Waiting" rows={view.waiting} />
        </Leaf>
      )}
      {view.done.length > 0 && (
        <Leaf heading="Done" id="done" note={view.done.length}>
          <DoneTable rows={view.done} />
        </Leaf>
      )}
    </>
  );
}

function OpenTable({ label, rows }: { label: string; rows: readonly ItemRow[] }): VNode {
  return (
    <DataTable
      label={label}
      on="stack"
      columns={[
        { head: 'Work' },
        { head: 'System' },
        { head: 'Status', kind: 'value' },
        { head: 'Due', kind: 'day' },
        { head: 'Size', kind: 'value' },
        { head: 'Waits for', kind: 'text' },
        { head: 'Holds up', kind: 'text' },
        { head: 'Opened', kind: 'day' },
      ]}
      rows={rows.map((row) => ({
        id: row.id,
        cells: [
          <>
            {row.item.text}
            {row.marks.map((mark) => (
              <span class="mark-word">{mark}</span>
            ))}
          </>,
          <Ref to={row.system} />,
          statusOf(row),
          row.by === null ? '' : <Day on={row.by} />,
          row.size,
          row.waitsOn.length === 0 ? '' : <RefList to={row.waitsOn} />,
          row.holdsUp.length === 0 ? '' : <RefList to={row.holdsUp} />,
          <Go to={row.opened.entry}>
            <Day on={row.opened.date} />
          </Go>,
        ],
      }))}
    />
  );
}

/** Under the heading of what is ready, the word itself says nothing. */
function statusOf(row: ItemRow): VNode | string {
  if (row.overdue) return <LateTag word={`overdue, ${STATUS_WORD[row.status]}`} />;
  return row.status === 'ready' ? '' : STATUS_WORD[row.status];
}

function DoneTable({ rows }: { rows: readonly ItemRow[] }): VNode {
  return (
    <DataTable
      label="Done"
      on="stack"
      columns={[
        { head: 'Work' },
        { head: 'System' },
        { head: 'Done', kind: 'day' },
        { head: 'Opened', kind: 'day' },
      ]}
      rows={rows.map((row) => ({
        id: row.id,
        cells: [
          row.item.text,
          <Ref to={row.system} />,
          row.closed === null ? (
            ''
          ) : (
            <Go to={row.closed.entry}>
              <Day on={row.closed.date} />
            </Go>
          ),
          <Go to={row.opened.entry}>
            <Day on={row.opened.date} />
          </Go>,
        ],
      }))}
    />
  );
}
