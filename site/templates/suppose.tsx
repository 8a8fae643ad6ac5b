import type { ComponentChildren, VNode } from 'preact';
import type { Verdict } from '../../src/quantity/index.js';
import type { SupposeView, Turned } from '../../src/render/pages/suppose.js';
import { count } from '../../src/render/words.js';
import { DataTable, Leaf, LimitTag, Masthead, OutcomeTag, StandingTag } from './pieces.js';
import { VerdictTag } from './verdict.js';

/** What would change if some values were others: before and after side by side, and only what changes. */
export function Supposed({ view }: { view: SupposeView }): VNode {
  return (
    <>
      <Masthead kind={<p>the book itself is as it was</p>} title="Suppose">
        {view.nothing ? <p class="lead">Nothing changes.</p> : <Supposition rows={view.supposed} />}
      </Masthead>
      <Group
        title="Standings"
        rows={view.standings}
        show={(standing) => <StandingTag standing={standing} />}
      />
      <Group title="Values" rows={view.values} show={(value) => <span class="value">{value}</span>} />
      <Group title="Decisions" rows={view.decisions} show={(verdict) => <Holds verdict={verdict} />} />
      <Group
        title="Power"
        rows={view.cases}
        show={(verdict) => <VerdictTag verdict={verdict} />}
        why={({ because }) => because}
      />
      <Group title="Limits" rows={view.limits} show={(limit) => <LimitTag limit={limit} />} />
      <Touched title="Open work that rests on it" id="items" rows={view.items} />
      <Touched title="Parts that rest on it" id="parts" rows={view.parts} />
    </>
  );
}

function Supposition({ rows }: { rows: SupposeView['supposed'] }): VNode {
  return (
    <dl class="supposed">
      {rows.map(({ what, id, from, to }) => (
        <div>
          <dt>
            {what} <code>{id}</code>
          </dt>
          <dd>
            {to} <small>instead of {from}</small>
          </dd>
        </div>
      ))}
    </dl>
  );
}

function Group<T, Row extends Turned<T>>(props: {
  title: string;
  rows: readonly Row[];
  show: (value: Row['from']) => ComponentChildren;
  why?: (row: Row) => string;
}): VNode | null {
  const { title, rows, show, why } = props;
  if (rows.length === 0) return null;
  return (
    <Leaf heading={title} id={title.toLowerCase()} note={count(rows.length, 'change')}>
      <DataTable
        label={`${title}: before and after`}
        on="stack"
        columns={[
          { head: 'What' },
          { head: 'Before', kind: 'value' },
          { head: 'After', kind: 'value' },
          { head: 'Why', kind: 'text' },
        ]}
        rows={rows.map((row) => ({
          cells: [
            <>
              {row.what}
              <small class="line">
                <code>{row.id}</code>
              </small>
            </>,
            show(row.from),
            show(row.to),
            why?.(row),
          ],
        }))}
      />
    </Leaf>
  );
}

const HOLDS = {
  holds: ['pass', 'holds'],
  fails: ['fail', 'does not hold'],
  undecided: ['undecided', 'undecided'],
} as const;

function Holds({ verdict }: { verdict: Verdict }): VNode {
  if (verdict === 'unknown') return <span class="soft">cannot say</span>;
  const [outcome, word] = HOLDS[verdict];
  return <OutcomeTag outcome={outcome} word={word} />;
}

function Touched({
  title,
  id,
  rows,
}: {
  title: string;
  id: string;
  rows: SupposeView['items'];
}): VNode | null {
  if (rows.length === 0) return null;
  return (
    <Leaf heading={title} id={id} note={rows.length}>
      <ul class="plain">
        {rows.map(({ what, id: name }) => (
          <li>
            {what} <code>{name}</code>
          </li>
        ))}
      </ul>
    </Leaf>
  );
}
