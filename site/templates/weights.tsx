import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { LedgerRow, WeightsView } from '../../src/render/pages/weights.js';
import { count } from '../../src/render/words.js';
import { HullFigure } from './chart-hull.js';
import { DataTable, Day, Facts, Go, Leaf, Masthead, Ref, Rests } from './pieces.js';

/** The weights: how she floats with them, where they sit, and the ledger. */
export function Weights({ view }: TemplateProps<WeightsView>): VNode {
  return (
    <>
      <Masthead kind={<p>{count(view.counted.length, 'change')} on the ledger</p>} title={view.title}>
        <p class="lead">{view.change}</p>
        <p class="stability">
          <strong>{view.caution.text}</strong> <small>({view.caution.source})</small>
        </p>
      </Masthead>
      <Leaf heading="How she floats" id="floats" note={<FloatedNote floated={view.floated} />}>
        {view.reasons.length > 0 && (
          <div class="verdict undecided">
            <p class="verdict-word">
              {view.outside ? 'Outside the limits: no number is given' : 'No number is given'}
            </p>
            <ul class="plain">
              {view.reasons.map((reason) => (
                <li>{reason}</li>
              ))}
            </ul>
          </div>
        )}
        {view.facts.length > 0 && <Facts facts={view.facts} />}
        <p class="plan-words">
          Measured from: {view.origin}. Where a figure has no ±, how far it can be trusted is not known.
        </p>
        {view.restsOn.length > 0 && (
          <div class="rests">
            <p class="label">Rests on</p>
            <Rests on={view.restsOn} />
          </div>
        )}
      </Leaf>
      {view.chart !== null && (
        <Leaf heading="Where they sit" id="drawing" note="to scale; areas go by mass">
          <HullFigure chart={view.chart} />
        </Leaf>
      )}
      <Leaf heading="Ledger" id="ledger" note="what changed since">
        {view.counted.length === 0 ? (
          <p class="soft">Nothing has changed.</p>
        ) : (
          <Ledger label="What changed" rows={view.counted} />
        )}
        {view.before.length > 0 && (
          <details>
            <summary>{count(view.before.length, 'line')} from before, which change nothing</summary>
            <Ledger label="Aboard before" rows={view.before} />
          </details>
        )}
      </Leaf>
      {view.notWeighed.length > 0 && <NotWeighed view={view} />}
      {view.remarks.length > 0 && (
        <Leaf heading="To be known" id="remarks">
          <ul class="plain">
            {view.remarks.map((remark) => (
              <li>{remark}</li>
            ))}
          </ul>
        </Leaf>
      )}
    </>
  );
}

function FloatedNote({ floated }: { floated: WeightsView['floated'] }): VNode {
  if (floated === null) return <>no hydrostatics on record</>;
  return (
    <>
      against <Day on={floated.on} />
      {floated.source !== null && <small class="line">{floated.source}</small>}
    </>
  );
}

function Ledger({ label, rows }: { label: string; rows: readonly LedgerRow[] }): VNode {
  return (
    <DataTable
      label={label}
      on="stack"
      columns={[
        { head: 'What' },
        { head: 'Mark', kind: 'number' },
        { head: 'Mass', kind: 'number' },
        { head: 'Forward', kind: 'number' },
        { head: 'To the side', kind: 'number' },
        { head: 'Up', kind: 'number' },
        { head: 'How', kind: 'value' },
        { head: 'Day', kind: 'day' },
      ]}
      rows={rows.map((row) => ({
        cells: [
          <>
            <Ref to={row.what} />
            {row.note !== null && <small class="line">{row.note}</small>}
          </>,
          row.mark ?? '',
          row.mass,
          row.forward,
          row.side,
          row.up,
          row.sort,
          row.date === null ? (
            'always'
          ) : row.entry === null ? (
            <Day on={row.date} />
          ) : (
            <Go to={row.entry}>
              <Day on={row.date} />
            </Go>
          ),
        ],
      }))}
    />
  );
}

function NotWeighed({ view }: { view: WeightsView }): VNode {
  return (
    <Leaf heading="Not weighed" id="not-weighed" note={`${count(view.notWeighed.length, 'move')} left out`}>
      <details>
        <summary>{count(view.notWeighed.length, 'move')} of parts with no mass or no place on record</summary>
        <DataTable
          label="Moves of parts that are left out"
          on="stack"
          columns={[
            { head: 'Part' },
            { head: 'What happened', kind: 'value' },
            { head: 'Day', kind: 'day' },
            { head: 'Not on record', kind: 'text' },
          ]}
          rows={view.notWeighed.map(({ part, move, date, entry, missing }) => ({
            cells: [
              <Ref to={part} />,
              move,
              <Go to={entry}>
                <Day on={date} />
              </Go>,
              missing,
            ],
          }))}
        />
      </details>
    </Leaf>
  );
}
