import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { FindingRow, FindingsView, GroundRow } from '../../src/render/pages/findings.js';
import { capital, count } from '../../src/render/words.js';
import { DataTable, Day, Leaf, Masthead, Ref, Ticked } from './pieces.js';

/** What is to be settled, by how soon, and the rules by which it is graded. */
export function Findings({ view }: TemplateProps<FindingsView>): VNode {
  return (
    <>
      <Masthead kind={<p>{count(view.total, 'finding')}</p>} title="Findings">
        <p class="lead">
          What the record shows to be wrong, or no longer known to be right. It is computed from the entries
          by the rules below. It is not a survey, and what nobody has looked at is not in it.
        </p>
      </Masthead>
      {view.groups.map(({ grade, word, rows }) => (
        <Leaf heading={capital(word)} id={grade} note={String(rows.length)}>
          {rows.length === 0 ? <p>Nothing.</p> : <FindingTable label={capital(word)} rows={rows} />}
        </Leaf>
      ))}
      <Leaf heading="How it is graded" id="rules">
        <DataTable
          label="Rules of grading"
          on="stack"
          columns={[
            { head: 'Listed is', kind: 'text' },
            { head: 'Grade', kind: 'text' },
          ]}
          rows={view.rules.map(({ lists, grade }) => ({ cells: [lists, grade] }))}
        />
        <p class="soft">
          Dangers in use are those of mains, batteries, fuel, gas and exhaust, of flooding, and of steering or
          a rig that fails, which the system, the test or the upkeep names. Facts about the same point or spec
          are one finding, with the highest of their grades.
        </p>
      </Leaf>
    </>
  );
}

/** Findings of one grade. */
export function FindingTable({ label, rows }: { label: string; rows: readonly FindingRow[] }): VNode {
  return (
    <DataTable
      label={label}
      on="stack"
      columns={[{ head: 'Finding' }, { head: 'System' }, { head: 'Evidence', kind: 'text' }]}
      rows={rows.map((row) => ({
        cells: [
          <Ref to={row.what} />,
          <Ref to={row.system} />,
          <>
            <Evidence ground={row} />
            {row.also.map((ground) => (
              <p>
                Also: <Ref to={ground.what} />. {ground.why}. {ground.says} <Source ground={ground} />
              </p>
            ))}
            {row.fitted.map((words) => (
              <p class="soft">
                <Ticked text={words} />
              </p>
            ))}
          </>,
        ],
      }))}
    />
  );
}

function Evidence({ ground }: { ground: GroundRow }): VNode {
  return (
    <p>
      <strong>{ground.why}.</strong> {ground.says} <Source ground={ground} />
      {ground.raisedBy.length > 0 && <small> Raised by danger: {ground.raisedBy.join(', ')}.</small>}
    </p>
  );
}

/** The entry that says so. */
function Source({ ground }: { ground: GroundRow }): VNode {
  if (ground.entry === null || ground.date === null) return <span class="soft">No entry.</span>;
  return (
    <span class="soft">
      <Ref to={ground.entry} />, <Day on={ground.date} />
    </span>
  );
}
