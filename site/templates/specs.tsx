import type { ComponentChildren, VNode } from 'preact';
import type { Agreement } from '../../src/reckon/model.js';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { EvidenceRow, SpecsView, SpecView } from '../../src/render/pages/specs.js';
import type { Branch } from '../../src/render/stakes.js';
import { capital, count } from '../../src/render/words.js';
import { IntervalFigure } from './charts.js';
import {
  DataTable,
  Day,
  Facts,
  JudgedAlone,
  Leaf,
  Masthead,
  OutcomeTag,
  Ref,
  StandingTag,
  Value,
} from './pieces.js';
import { SpecTable, StakeWords } from './rows.js';

/** All specs by how they stand. */
export function Specs({ view }: TemplateProps<SpecsView>): VNode {
  return (
    <>
      <Masthead kind={<p>{count(view.total, 'spec')}</p>} title="Specs">
        <p class="soft">What is stated about the systems, and what the record makes of it.</p>
      </Masthead>
      {view.groups.map(({ standing, means, specs }) => (
        <Leaf heading={capital(standing)} id={standing} note={specs.length}>
          <p class="group-means">
            <StandingTag standing={standing} /> {means}
          </p>
          {specs.length === 0 ? (
            <p class="soft">None.</p>
          ) : (
            <SpecTable label={`Specs that are ${standing}`} rows={specs} system stake />
          )}
        </Leaf>
      ))}
    </>
  );
}

const AGREES: Readonly<Record<Agreement, readonly ['pass' | 'fail' | 'undecided', string]>> = {
  conforms: ['pass', 'agrees'],
  'does-not-conform': ['fail', 'does not agree'],
  undecided: ['undecided', 'undecided'],
};

/** One spec: what is stated, how it stands and why, the evidence in order, and what rests on it. */
export function SpecPage({ view }: TemplateProps<SpecView>): VNode {
  return (
    <>
      <Masthead
        kind={
          <p>
            <Ref to={view.system} />
          </p>
        }
        title={view.title}
      >
        <Verdict view={view} />
      </Masthead>
      <Leaf heading="Stated" id="stated">
        <Facts facts={statedFacts(view)} />
      </Leaf>
      <Leaf heading="Evidence" id="evidence" note="the highest basis first, newest first within it">
        {view.chart !== null && <IntervalFigure chart={view.chart} />}
        {view.evidence.length === 0 ? (
          <p>Nothing on record bears on it yet. It needs to be {view.needs}.</p>
        ) : (
          <EvidenceTable rows={view.evidence} />
        )}
        {view.further !== null && (
          <p class="soft">
            And {count(view.further.count, 'older reading')}: they are among all readings of{' '}
            <Ref to={view.further.all} />.
          </p>
        )}
      </Leaf>
      <Leaf
        heading="Rests on it"
        id="rests"
        note={view.dependents.length > 0 ? <StakeNote view={view} /> : undefined}
      >
        {view.dependents.length === 0 ? (
          <p class="soft">Nothing on record rests on it.</p>
        ) : (
          <Tree branches={view.dependents} />
        )}
      </Leaf>
    </>
  );
}

/** The two values that matter, side by side, and how the one stands to the other. */
function Verdict({ view }: { view: SpecView }): VNode {
  return (
    <div class={`verdict ${view.standing}`}>
      <p class="verdict-word">
        <StandingTag standing={view.standing} />
        {view.standing !== 'unverified' && <JudgedAlone on={[view.found?.value ?? null]} />}
      </p>
      <dl>
        <div>
          <dt>Stated</dt>
          <dd>{view.stated}</dd>
          <dd class="soft">{view.basis}</dd>
        </div>
        <div>
          <dt>Found</dt>
          {view.found === null ? (
            <dd class="soft">nothing yet</dd>
          ) : (
            <>
              <dd>{view.found.value.text}</dd>
              <dd class="soft">
                {view.found.basis}, <Day on={view.found.date} />
              </dd>
            </>
          )}
        </div>
      </dl>
      <p class="soft">{view.because}</p>
      {view.caveat !== null && (
        <p class="soft">
          <strong>Mind:</strong> it was decided {view.caveat}.
        </p>
      )}
      {view.next !== null && (
        <p class="next">
          <strong>Next:</strong> {view.next}
        </p>
      )}
    </div>
  );
}

function statedFacts(view: SpecView): [string, ComponentChildren][] {
  const facts: [string, ComponentChildren | null][] = [
    ['Agrees', view.band],
    ['Basis', view.source === null ? view.basis : `${view.basis}: ${view.source}`],
    ['On record since', view.since === null ? null : <Day on={view.since} />],
    ['Needs to be', view.needs],
    ['A check holds', view.againEvery],
    ['Lapses on', view.lapsesOn === null ? null : <Day on={view.lapsesOn} />],
    ['Measured at', view.point === null ? null : <Ref to={view.point} />],
    ['Counts from now on', view.holds === null ? null : <strong class="value">{view.holds}</strong>],
    ['How to check', view.next === null ? view.checkBy : null],
    ['Name', <code>{view.ref}</code>],
  ];
  return facts.filter((fact): fact is [string, ComponentChildren] => fact[1] !== null);
}

function EvidenceTable({ rows }: { rows: readonly EvidenceRow[] }): VNode {
  return (
    <DataTable
      label="Evidence"
      on="scroll"
      columns={[
        { head: 'Date', kind: 'day' },
        { head: 'Basis', kind: 'value' },
        { head: 'Value' },
        { head: 'Compared', kind: 'value' },
        { head: 'How', kind: 'text' },
        { head: 'Entry' },
      ]}
      rows={rows.map((row) => ({
        cells: [
          <Day on={row.date} />,
          <>
            {row.basis}
            {row.decides && <span class="mark-word">decides</span>}
          </>,
          <Value value={row.value} />,
          <OutcomeTag outcome={AGREES[row.agreement][0]} word={AGREES[row.agreement][1]} />,
          evidenceHow(row),
          <Ref to={row.entry} />,
        ],
      }))}
    />
  );
}

function evidenceHow(row: EvidenceRow): ComponentChildren {
  const words = [row.from, row.with, row.by === null ? null : `by ${row.by}`, row.note].filter(
    (text) => text !== null,
  );
  return (
    <>
      {words.join(', ')}
      {row.see !== null && (
        <>
          {' '}
          <a href={row.see.photo.src}>photo: {row.see.alt}</a>
        </>
      )}
    </>
  );
}

/** What it comes to in all: nothing is counted twice, by however many ways it rests on the spec. */
function StakeNote({ view }: { view: SpecView }): VNode {
  return (
    <>
      <StakeWords stake={view.stake} />
      <small class="line">each counted once, by the shortest way to it</small>
    </>
  );
}

/** Things that rest on a spec, each below what it rests on. */
function Tree({ branches }: { branches: readonly Branch[] }): VNode {
  return (
    <ul class="tree">
      {branches.map((branch) => (
        <li>
          <p>
            {branch.sort !== null && <span class="tree-sort">{branch.sort}</span>} <Ref to={branch.what} />
            {branch.facts.length > 0 && <span class="soft"> {branch.facts.join(', ')}</span>}
          </p>
          {branch.below.length > 0 && <Tree branches={branch.below} />}
        </li>
      ))}
    </ul>
  );
}
