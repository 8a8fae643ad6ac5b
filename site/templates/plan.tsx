import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { GoalView, PlanView, StepRow } from '../../src/render/pages/plan.js';
import { count, forecastWords } from '../../src/render/words.js';
import { NetworkFigure } from './chart-network.js';
import { DataTable, Day, LateTag, Leaf, Masthead, Ref, RefList, Refs } from './pieces.js';

/** The work laid out in time: each goal with its steps, what is to come, and how long suppliers take. */
export function PlanPage({ view }: TemplateProps<PlanView>): VNode {
  return (
    <>
      <Masthead
        kind={
          <p>
            <a href={view.work}>Open work</a>
          </p>
        }
        title="Plan of the work"
      >
        <PaceWords pace={view.pace} />
      </Masthead>
      {view.goals.map((goal) => (
        <Goal goal={goal} />
      ))}
      {view.arrivals.length > 0 && <Arrivals view={view} />}
      {view.suppliers.length > 0 && <Suppliers view={view} />}
    </>
  );
}

function PaceWords({ pace }: { pace: PlanView['pace'] }): VNode {
  if (pace === null)
    return (
      <p class="soft">The hours logged are too few to tell a pace, so that hours cannot be made into days.</p>
    );
  return (
    <p class="soft">
      Logged since <Day on={pace.since} />: {pace.usual} a week over all, {pace.slow} in slow weeks,{' '}
      {pace.fast} in fast ones, weeks without any work included.
    </p>
  );
}

function Goal({ goal }: { goal: GoalView }): VNode {
  return (
    <Leaf
      heading={goal.goal.text}
      id={goal.id}
      note={
        <>
          {goal.hours} in {count(goal.steps.length, 'step')}
          <br />
          {goal.chainHours} in the chain that decides
        </>
      }
    >
      <p class="forecast">{forecastWords(goal.forecast)}</p>
      <p class="plan-words">
        {goal.because} The early day takes the pace of fast weeks, with parts on the day they are promised;
        the late day takes the pace of slow weeks, with parts as late as their supplier can be. Neither comes
        before the chain that decides is done, nor before all the work for it is.
      </p>
      {goal.besides.length > 0 && (
        <div class="plan-words">
          <strong>
            Not among its steps, though safety hangs on {goal.besides.length === 1 ? 'it' : 'them'}:
          </strong>{' '}
          <RefList to={goal.besides} />
        </div>
      )}
      {goal.unsized.length > 0 && (
        <p class="plan-words">
          No size said: <Refs to={goal.unsized} />
        </p>
      )}
      {goal.unpromised.length > 0 && (
        <p class="plan-words">
          Nothing tells when these come: <Refs to={goal.unpromised} />
        </p>
      )}
      {goal.chart !== null && <NetworkFigure chart={goal.chart} />}
      <StepTable goal={goal} />
    </Leaf>
  );
}

function StepTable({ goal }: { goal: GoalView }): VNode {
  return (
    <DataTable
      label={`Steps to ${goal.goal.text}`}
      on="stack"
      columns={[
        { head: 'Step' },
        { head: 'Status', kind: 'value' },
        { head: 'Size', kind: 'value' },
        { head: 'Begins at the earliest', kind: 'day' },
        { head: 'Done at the earliest', kind: 'day' },
        { head: 'To spare', kind: 'value' },
        { head: 'Waits for', kind: 'text' },
      ]}
      rows={goal.steps.map(stepCells)}
    />
  );
}

function stepCells(step: StepRow) {
  return {
    cells: [
      <>
        <Ref to={step.what} />
        {step.sort === 'part' && <span class="mark-word">part</span>}
      </>,
      step.status === 'late' ? <LateTag word="late" /> : step.status,
      step.size,
      step.begins === null ? '' : <Day on={step.begins} />,
      step.ends === null ? '' : <Day on={step.ends} />,
      step.decides ? <strong>decides</strong> : step.spare,
      step.after.length === 0 ? '' : <RefList to={step.after} />,
    ],
  };
}

function Arrivals({ view }: { view: PlanView }): VNode {
  return (
    <Leaf heading="To come" id="arrivals" note={count(view.arrivals.length, 'part')}>
      <DataTable
        label="When parts on order can be expected"
        on="stack"
        columns={[{ head: 'Part' }, { head: 'Expected' }, { head: 'Why', kind: 'text' }]}
        rows={view.arrivals.map(({ part, late, earliest, latest, because }) => ({
          cells: [
            <>
              <Ref to={part} /> {late && <LateTag word="late" />}
            </>,
            <span>
              {earliest !== latest ? (
                <>
                  <Day on={earliest} /> to <Day on={latest} />
                </>
              ) : late ? (
                'any day; the promise is past'
              ) : (
                <Day on={earliest} />
              )}
            </span>,
            because,
          ],
        }))}
      />
    </Leaf>
  );
}

function Suppliers({ view }: { view: PlanView }): VNode {
  return (
    <Leaf heading="Lead times" id="lead-times" note="from order to arrival, as logged">
      <DataTable
        label="Lead times by supplier"
        on="stack"
        columns={[
          { head: 'Supplier' },
          { head: 'Deliveries', kind: 'number' },
          { head: 'Half within', kind: 'number' },
          { head: 'Nine in ten within', kind: 'number' },
          { head: 'Late, of those promised', kind: 'number' },
        ]}
        rows={view.suppliers.map((row) => ({
          cells: [
            row.supplier,
            row.count,
            row.median ?? <span class="soft">too few to tell</span>,
            row.ninety ?? '',
            row.late ?? '',
          ],
        }))}
      />
    </Leaf>
  );
}
