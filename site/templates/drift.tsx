import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { DriftRow, DriftView } from '../../src/render/pages/drift.js';
import { count } from '../../src/render/words.js';
import { DataTable, Day, Go, Leaf, Masthead, Ref } from './pieces.js';

/** What drifts: past its limit, on its way to it, or otherwise. */
export function Drift({ view }: TemplateProps<DriftView>): VNode {
  const groups = [
    ['Past its limit', 'past', view.past, 'by the trend: measure again'],
    ['On its way to a limit', 'reaching', view.reaching, 'the soonest first'],
    ['Drifts', 'drifts', view.drifting, 'reaches no limit within 5 years'],
    ['Stands out', 'odd', view.odd, 'the last reading is not what those before it led to expect'],
  ] as const;
  const none = groups.every(([, , rows]) => rows.length === 0);
  return (
    <>
      <Masthead kind={<p>{count(view.read, 'point')} read</p>} title="What drifts">
        <p class="soft">
          Like is compared with like, and a drift is told only where chance would hardly make it: on at least
          four days with comparable readings. {count(view.tooFew, 'point')} with fewer.
        </p>
      </Masthead>
      {none && (
        <Leaf heading="Nothing" id="nothing">
          <p>Nothing that can be told from the readings drifts.</p>
        </Leaf>
      )}
      {groups.map(
        ([heading, id, rows, note]) =>
          rows.length > 0 && (
            <Leaf heading={heading} id={id} note={note}>
              <DriftTable label={heading} rows={rows} />
            </Leaf>
          ),
      )}
    </>
  );
}

function DriftTable({ label, rows }: { label: string; rows: readonly DriftRow[] }): VNode {
  return (
    <DataTable
      label={label}
      on="stack"
      columns={[
        { head: 'Point' },
        { head: 'Last', kind: 'value' },
        { head: 'On', kind: 'day' },
        { head: 'What can be said', kind: 'text' },
      ]}
      rows={rows.map(({ point, system, last, sentence }) => ({
        cells: [
          <>
            <Ref to={point} />
            <small class="line">
              <Ref to={system} />
            </small>
          </>,
          last.value.text,
          <Go to={last.entry}>
            <Day on={last.date} />
          </Go>,
          sentence,
        ],
      }))}
    />
  );
}
