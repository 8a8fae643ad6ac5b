import type { VNode } from 'preact';
import type { MatrixView } from '../../src/render/charts/matrix.js';
import type { TemplateProps } from '../../src/render/make-page.js';
import type {
  CaseView,
  DayTable,
  FeederView,
  LoadRow,
  MomentRow,
  PowerView,
  ReasonView,
} from '../../src/render/pages/power.js';
import { count } from '../../src/render/words.js';
import { Cautions } from './cautions.js';
import { DayFigure } from './chart-day.js';
import { DataTable, Facts, Leaf, Masthead, Ref, ScrollRegion, StandingTag } from './pieces.js';
import { VerdictSign, VerdictTag } from './verdict.js';

/** The power plan: whether each case works, why, and what it rests on. */
export function Power({ view }: TemplateProps<PowerView>): VNode {
  return (
    <>
      <Masthead kind={<p>{count(view.cases.length, 'case')}</p>} title={view.title}>
        <ul class="verdicts">
          {view.cases.map(({ id, title, verdict, provided }) => (
            <li>
              <VerdictTag verdict={verdict} />{' '}
              <span>
                <a href={`#${id}`}>{title}</a>
                {provided !== null && <span class="soft">, {provided}</span>}
              </span>
            </li>
          ))}
        </ul>
        <p class="soft">
          Reckoned from the plan and from what is known today. Where a figure has no ±, how far it can be
          trusted is not known. These are sums and no approval: see the <a href="#cautions">cautions</a>.
        </p>
      </Masthead>
      {view.cases.map((one) => (
        <Case one={one} />
      ))}
      {view.cautions.length > 0 && <Cautions cautions={view.cautions} />}
    </>
  );
}

function Case({ one }: { one: CaseView }): VNode {
  return (
    <Leaf heading={one.title} id={one.id} note={<VerdictTag verdict={one.verdict} />}>
      {one.about !== null && <p class="case-about">{one.about}</p>}
      {one.provided !== null && <p class="plan-words">It works {one.provided}.</p>}
      <ol class="reasons">
        {one.reasons.map((reason) => (
          <Reason reason={reason} />
        ))}
      </ol>
      <Facts facts={one.facts} />
      {one.absent.length > 0 && <p class="plan-words">Not there in this case: {one.absent.join(', ')}.</p>}
      {one.feeders.map((feeder) => (
        <Feeder feeder={feeder} />
      ))}
      <div class="feeder">
        <h3>Loads</h3>
        <LoadTable label={`Loads: ${one.title}`} rows={one.loads} />
      </div>
      {one.assumes.length > 0 && (
        <details>
          <summary>Taken for granted, since the plan does not say it: {one.assumes.length}</summary>
          <ul class="plain">
            {one.assumes.map((text) => (
              <li>{text}</li>
            ))}
          </ul>
        </details>
      )}
    </Leaf>
  );
}

function Reason({ reason }: { reason: ReasonView }): VNode {
  return (
    <li>
      <VerdictTag verdict={reason.verdict} />
      <div>
        <p>{reason.text}</p>
        {reason.restsOn.length > 0 && (
          <p class="rests-line">
            rests on{' '}
            {reason.restsOn.map(({ what, standing }, index) => (
              <>
                {index > 0 && ', '}
                <span>
                  <Ref to={what} />
                  {standing !== null && (
                    <>
                      {' '}
                      <StandingTag standing={standing} />
                    </>
                  )}
                </span>
              </>
            ))}
          </p>
        )}
      </div>
    </li>
  );
}

/** A source or a store: what it gives, its day, and what runs together on it. */
function Feeder({ feeder }: { feeder: FeederView }): VNode {
  return (
    <div class="feeder">
      <h3 id={feeder.id}>{feeder.title}</h3>
      <p>
        <VerdictTag verdict={feeder.verdict} />
      </p>
      <div class="feeder-parts">
        <div>
          <Facts facts={feeder.facts} />
        </div>
        {feeder.chart !== null && (
          <div>
            <DayFigure chart={feeder.chart} />
          </div>
        )}
      </div>
      {feeder.table !== null && <DayNumbers title={feeder.title} table={feeder.table} />}
      {feeder.moments.length > 0 && <Moments title={feeder.title} rows={feeder.moments} />}
      {feeder.matrix !== null && <Together title={feeder.title} matrix={feeder.matrix} />}
    </div>
  );
}

function DayNumbers({ title, table }: { title: string; table: DayTable }): VNode {
  return (
    <details>
      <summary>The day as a table</summary>
      <DataTable
        label={`${title}: mean watts in each piece of the day`}
        on="scroll"
        columns={[
          { head: 'From–to', kind: 'day' },
          ...table.loads.map((head) => ({ head, kind: 'number' as const })),
          { head: 'Together', kind: 'number' },
        ]}
        rows={table.rows.map(({ when, watts, sum }) => ({ cells: [when, ...watts, sum] }))}
      />
    </details>
  );
}

function Moments({ title, rows }: { title: string; rows: readonly MomentRow[] }): VNode {
  return (
    <>
      <h4>When all runs that may run</h4>
      <DataTable
        label={`${title}: when all runs that may run`}
        on="stack"
        columns={[
          { head: 'From–to', kind: 'day' },
          { head: 'May run', kind: 'text' },
          { head: 'Verdict', kind: 'value' },
          { head: 'Switched off, in order', kind: 'text' },
          { head: 'Then asked', kind: 'value' },
          { head: 'Hardest start', kind: 'text' },
        ]}
        rows={rows.map((row) => ({
          cells: [
            row.when,
            row.mayRun.join(', '),
            <VerdictTag verdict={row.verdict} />,
            row.shed.join(', then '),
            row.asked,
            row.start,
          ],
        }))}
      />
    </>
  );
}

function Together({ title, matrix }: { title: string; matrix: MatrixView }): VNode {
  const number = matrix.count === null ? 'not all found' : `${matrix.count} in all`;
  return (
    <>
      <h4>What runs with what</h4>
      <ScrollRegion label={`${title}: what runs with what`}>
        <table class="matrix">
          <caption class="quiet">
            {title}: whether two loads can run at once; on the diagonal, one by itself
          </caption>
          <thead>
            <tr>
              <th scope="col">Load</th>
              {matrix.loads.map((load, index) => (
                <th scope="col">
                  <span aria-hidden="true">{index + 1}</span>
                  <span class="quiet">{load}</span>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {matrix.loads.map((load, row) => (
              <tr>
                <th scope="row">
                  <span class="matrix-number">{row + 1}</span> {load}
                </th>
                {(matrix.pairs[row] ?? []).map((verdict, column) => (
                  <td class={row === column ? 'self' : undefined}>
                    <VerdictSign verdict={verdict} />
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      <h4>Largest sets that run together ({number})</h4>
      <ul class="sets">
        {matrix.sets.map(({ loads, verdict, active, apparent }) => (
          <li>
            <VerdictTag verdict={verdict} /> {loads.join(', ')}{' '}
            <span class="soft">
              {active}, {apparent}
            </span>
          </li>
        ))}
      </ul>
      {matrix.unknown.length > 0 && (
        <p class="plan-words">In no set, since a value is missing: {matrix.unknown.join(', ')}.</p>
      )}
    </>
  );
}

function LoadTable({ label, rows }: { label: string; rows: readonly LoadRow[] }): VNode {
  return (
    <DataTable
      label={label}
      on="stack"
      columns={[
        { head: 'Load' },
        { head: 'From' },
        { head: 'Running', kind: 'number' },
        { head: 'Apparent', kind: 'number' },
        { head: 'Starting', kind: 'number' },
        { head: 'Hours a day', kind: 'number' },
        { head: 'When' },
        { head: 'Energy a day', kind: 'number' },
        { head: 'Switched off', kind: 'value' },
      ]}
      rows={rows.map((row) => ({
        cells: [
          <>
            {row.title}
            {row.system !== null && (
              <small class="line">
                <Ref to={row.system} />
              </small>
            )}
          </>,
          row.from,
          row.running ?? <span class="soft">not known</span>,
          row.apparent,
          row.starting,
          row.hours,
          row.when,
          row.energy,
          row.shed === null ? '' : `${ordinal(row.shed)}`,
        ],
      }))}
    />
  );
}

/** `first`, `2nd`, `3rd`, `4th`. */
function ordinal(number: number): string {
  if (number === 1) return 'first';
  const ends: Readonly<Record<number, string>> = { 1: 'st', 2: 'nd', 3: 'rd' };
  const tens = Math.floor(number / 10) % 10;
  return `${number}${tens === 1 ? 'th' : (ends[number % 10] ?? 'th')}`;
}
