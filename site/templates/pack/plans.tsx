import type { VNode } from 'preact';
import type { CaseView, PowerView } from '../../../src/render/pages/power.js';
import type { LedgerRow, WeightsView } from '../../../src/render/pages/weights.js';
import { capital, dayWords } from '../../../src/render/words.js';
import { DayFigure } from '../chart-day.js';
import { HullFigure } from '../chart-hull.js';
import { Facts, Ref, StandingTag } from '../pieces.js';
import { VerdictTag } from '../verdict.js';
import { PackTable } from './table.js';

/** The plans of power and of weights. */

/** Whether each case of the plan works, why, and what it rests on. */
export function PowerPlan({ power }: { power: PowerView }): VNode {
  return (
    <>
      <p>
        Reckoned from the plan and from what is known today. Where a figure has no ±, how far it can be
        trusted is not known. These are sums and no approval.
      </p>
      {power.cases.map((one) => (
        <PowerCase one={one} />
      ))}
    </>
  );
}

function PowerCase({ one }: { one: CaseView }): VNode {
  return (
    <div class="case">
      <h3 id={`case-${one.id}`}>
        {one.title}: <VerdictTag verdict={one.verdict} />
      </h3>
      {one.about !== null && <p>{one.about}</p>}
      {one.provided !== null && (
        <p>
          <strong>It works {one.provided}.</strong>
        </p>
      )}
      <PackTable
        caption={`${one.title}: why`}
        columns={[{ head: 'Reason' }, { head: 'Verdict', kind: 'narrow' }, { head: 'Rests on' }]}
        rows={one.reasons.map(({ verdict, text, restsOn }) => ({
          cells: [
            <span class="plain">{text}</span>,
            <VerdictTag verdict={verdict} />,
            restsOn.map(({ what, standing }) => (
              <span class="rests">
                <Ref to={what} />
                {standing !== null && (
                  <>
                    {' '}
                    <StandingTag standing={standing} />
                  </>
                )}
              </span>
            )),
          ],
        }))}
      />
      <PackTable
        caption={`${one.title}: sources and stores`}
        columns={[{ head: 'Source or store' }, { head: 'Verdict', kind: 'narrow' }, { head: 'Figures' }]}
        rows={one.feeders.map(({ title, verdict, facts }) => ({
          cells: [
            title,
            <VerdictTag verdict={verdict} />,
            facts.map(([label, value]) => (
              <span class="line">
                {label}: {value}
              </span>
            )),
          ],
        }))}
      />
      <div class="figures">
        {one.feeders.map(({ title, chart }) =>
          chart === null ? null : (
            <div class="figure">
              <DayFigure chart={chart} />
              <p class="caption">
                {one.title}: {title}, what is asked of it over a day.
              </p>
            </div>
          ),
        )}
      </div>
      {one.assumes.length > 0 && (
        <p class="note">Taken for granted, since the plan does not say it: {one.assumes.join(' ')}</p>
      )}
    </div>
  );
}

/** What the changes of weight do, and each of them. */
export function WeightsPlan({ weights }: { weights: WeightsView }): VNode {
  return (
    <>
      <p>
        <strong>{weights.change}</strong>{' '}
        {weights.floated !== null &&
          `Held against the day on which she was floated, ${dayWords(weights.floated.on)}${weights.floated.source === null ? '' : ` (${weights.floated.source})`}.`}{' '}
        {weights.caution.text} <small>({weights.caution.source})</small>
      </p>
      <Facts facts={weights.facts} />
      {weights.reasons.map((reason) => (
        <p>{reason}</p>
      ))}
      {weights.chart !== null && (
        <div class="figure broad">
          <HullFigure chart={weights.chart} />
          <p class="caption">
            {weights.title}: where what came and went sits, measured from here: {weights.origin}. The lines of
            the hull are not on record and not drawn.
          </p>
        </div>
      )}
      <Ledger caption="Came and went" rows={weights.counted} />
      <Ledger caption="Aboard before" rows={weights.before} />
      {weights.remarks.map((remark) => (
        <p class="note">{capital(remark)}</p>
      ))}
    </>
  );
}

function Ledger({ caption, rows }: { caption: string; rows: readonly LedgerRow[] }): VNode | null {
  return (
    <PackTable
      caption={caption}
      columns={[
        { head: 'What' },
        { head: 'Mark', kind: 'narrow' },
        { head: 'Mass', kind: 'narrow' },
        { head: 'Forward', kind: 'narrow' },
        { head: 'To the side', kind: 'narrow' },
        { head: 'Up', kind: 'narrow' },
        { head: 'How', kind: 'narrow' },
        { head: 'Day', kind: 'narrow' },
      ]}
      rows={rows.map((row) => ({
        cells: [
          row.what.text,
          row.mark === null ? '' : String(row.mark),
          row.mass,
          row.forward,
          row.side,
          row.up,
          row.sort,
          row.date === null ? 'always' : dayWords(row.date),
        ],
      }))}
    />
  );
}
