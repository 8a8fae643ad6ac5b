import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { NowView } from '../../src/render/pages/now.js';
import { count } from '../../src/render/words.js';
import { HoldingWords } from './decisions.js';
import { DueTable } from './due.js';
import { FindingTable } from './findings.js';
import { DataTable, Day, Facts, Leaf, Masthead, StandingTag } from './pieces.js';
import { EntryList, ItemTable, OrderTable, ResultTable, SpecTable } from './rows.js';

/** The first page: what needs looking at now. */
export function Now({ view }: TemplateProps<NowView>): VNode {
  return (
    <>
      <Masthead kind={<Extent view={view} />} title={view.subject}>
        {view.about !== null && <p class="lead">{view.about}</p>}
        <StandingStrip standings={view.standings} specs={view.to.specs} />
      </Masthead>
      {view.pressing.length > 0 && <Pressing view={view} />}
      <CheckFirst view={view} />
      {view.fallen.length > 0 && <Fallen view={view} />}
      {view.dueCounts.overdue + view.dueCounts.soon > 0 && <DueSoon view={view} />}
      <OpenWork view={view} />
      {view.parts.length > 0 && <OnOrder view={view} />}
      <Leaf
        heading="Latest entries"
        id="latest"
        note={<a href={view.to.log}>{count(view.entryCount, 'entry', 'entries')} in the log</a>}
      >
        <EntryList entries={view.entries} />
      </Leaf>
      {view.results.rows.length > 0 && <Results view={view} />}
      {view.particulars.length > 0 && (
        <Leaf heading="Particulars" id="particulars">
          <Facts facts={view.particulars} />
        </Leaf>
      )}
    </>
  );
}

/** How much record there is. */
function Extent({ view }: { view: NowView }): VNode {
  return (
    <p class="extent">
      <span>{count(view.entryCount, 'entry', 'entries')}</span>
      <span>{count(view.readingCount, 'reading')}</span>
      {view.first !== null && (
        <span>
          since <Day on={view.first} />
        </span>
      )}
    </p>
  );
}

/** How many specs stand how: a bar in proportion, and the counts in words below it. */
function StandingStrip({ standings, specs }: { standings: NowView['standings']; specs: string }): VNode {
  const total = standings.reduce((sum, [, number]) => sum + number, 0);
  let from = 0;
  return (
    <div class="strip">
      <svg viewBox={`0 0 ${Math.max(1, total)} 1`} preserveAspectRatio="none" aria-hidden="true">
        {standings.map(([standing, number]) => {
          const x = from;
          from += number;
          return <rect class={standing} x={x} y="0" width={number} height="1" />;
        })}
      </svg>
      <ul>
        {standings.map(([standing, number]) => (
          <li>
            <a href={`${specs}#${standing}`}>
              <strong>{number}</strong> <StandingTag standing={standing} />
            </a>
          </li>
        ))}
      </ul>
    </div>
  );
}

/** What is to be settled before use, and how much else there is. */
function Pressing({ view }: { view: NowView }): VNode {
  const { 'before-use': beforeUse, soon, 'when-convenient': later } = view.findings;
  const note = (
    <>
      <a href={view.to.findings}>{count(beforeUse + soon + later, 'finding')}</a>
      <br />
      {beforeUse} before use, {soon} soon
    </>
  );
  return (
    <Leaf heading="Settle before use" id="before-use" note={note}>
      <FindingTable label="To be settled before use" rows={view.pressing} />
      {view.pressing.length < beforeUse && (
        <p class="more soft">
          <a href={`${view.to.findings}#before-use`}>and {beforeUse - view.pressing.length} more</a>
        </p>
      )}
    </Leaf>
  );
}

function CheckFirst({ view }: { view: NowView }): VNode {
  const note = (
    <>
      <a href={view.to.specs}>{count(view.notVerified, 'spec')} not verified</a>
      {view.restedOn > 0 && (
        <>
          <br />
          something rests on {view.restedOn} of them
        </>
      )}
    </>
  );
  return (
    <Leaf heading="Check first" id="check-first" note={note}>
      {view.checkFirst.length === 0 ? (
        <p>Every spec is verified.</p>
      ) : (
        <SpecTable label="Specs to check first" rows={view.checkFirst} stake next />
      )}
      {view.checkFirst.length < view.notVerified && (
        <p class="more soft">
          <a href={view.to.specs}>
            and {view.notVerified - view.checkFirst.length} more that are not verified
          </a>
        </p>
      )}
    </Leaf>
  );
}

function Fallen({ view }: { view: NowView }): VNode {
  const note = <a href={view.to.decisions}>All decisions</a>;
  return (
    <Leaf heading="Decide anew" id="decide-anew" note={note}>
      <DataTable
        label="Decisions that do not hold"
        on="stack"
        columns={[
          { head: 'Decision' },
          { head: 'Chosen' },
          { head: 'Holds while', kind: 'value' },
          { head: 'Now', kind: 'text' },
        ]}
        rows={view.fallen.map((decision) => ({
          cells: [
            <a href={`${view.to.decisions}#${decision.id}`}>{decision.question}</a>,
            decision.chose,
            decision.holdsWhile,
            decision.holding !== null && (
              <span>
                <HoldingWords holding={decision.holding} />
              </span>
            ),
          ],
        }))}
      />
    </Leaf>
  );
}

function DueSoon({ view }: { view: NowView }): VNode {
  const { overdue, soon } = view.dueCounts;
  const note = (
    <>
      <a href={view.to.upkeep}>All upkeep</a>
      <br />
      {overdue} overdue, {soon} in the next 60 days
      {view.drift !== null && (
        <>
          <br />
          <a href={view.drift}>What drifts</a>
        </>
      )}
    </>
  );
  return (
    <Leaf heading="Due" id="due" note={note}>
      {view.due.overdue.length > 0 && <DueTable label="Overdue" rows={view.due.overdue} />}
      {view.due.overdue.length < overdue && (
        <p class="more soft">and {overdue - view.due.overdue.length} more that are overdue</p>
      )}
      {view.due.soon.length > 0 && <DueTable label="Due in the next 60 days" rows={view.due.soon} />}
    </Leaf>
  );
}

/** Tests that did not pass last time, however long ago, and the latest that did. */
function Results({ view }: { view: NowView }): VNode {
  const { rows, failed, undecided } = view.results;
  const note = (
    <>
      <a href={view.to.tests}>All tests</a>
      {failed + undecided > 0 && (
        <>
          <br />
          {failed} failed, {undecided} undecided when last done
        </>
      )}
    </>
  );
  return (
    <Leaf heading="Latest tests" id="results" note={note}>
      <ResultTable label="Latest tests" rows={rows} />
    </Leaf>
  );
}

function OpenWork({ view }: { view: NowView }): VNode {
  const { open, ready, overdue } = view.itemCounts;
  const note = (
    <>
      <a href={view.to.work}>{count(open, 'open item')}</a>
      <br />
      {ready} ready, {overdue} overdue
    </>
  );
  return (
    <Leaf heading="Open work" id="open-work" note={note}>
      {view.items.length === 0 ? <p>Nothing is open.</p> : <ItemTable label="Open work" rows={view.items} />}
    </Leaf>
  );
}

function OnOrder({ view }: { view: NowView }): VNode {
  const { ordered, late } = view.partCounts;
  const note = (
    <>
      <a href={view.to.parts}>{count(ordered, 'part')} on order</a>
      <br />
      {late} late
    </>
  );
  return (
    <Leaf heading="On order" id="on-order" note={note}>
      <OrderTable label="Parts on order" rows={view.parts} />
    </Leaf>
  );
}
