import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { PointTrend, PointView, SystemView } from '../../src/render/pages/system.js';
import { count } from '../../src/render/words.js';
import { Cautions } from './cautions.js';
import { TimelineFigure } from './charts.js';
import { DecisionTable } from './decisions.js';
import { DataTable, Day, Leaf, LimitTag, Masthead, Prose, Rests, Value } from './pieces.js';
import { EntryList, ItemTable, PartTable, ReadingTable, SpecTable } from './rows.js';
import { SeriesText } from './series.js';
import { TestText } from './tests.js';
import { UpkeepTable } from './upkeep.js';

/** One system: what is believed of it, what was measured in it, what belongs to it. */
export function SystemPage({ view, html }: TemplateProps<SystemView>): VNode {
  return (
    <>
      <Masthead kind={<p>{view.group ?? 'System'}</p>} title={view.title}>
        <p class="soft dotted">
          <span>{view.hours} of work</span>
          <span>{count(view.entryCount, 'entry', 'entries')}</span>
          {view.inService !== null && (
            <span>
              in service since <Day on={view.inService} />
            </span>
          )}
          {view.meters.map(({ title, last, date }) => (
            <span>
              {title}: {last ?? 'not read'}
              {date !== null && (
                <>
                  {' on '}
                  <Day on={date} />
                </>
              )}
            </span>
          ))}
        </p>
        {html !== '' && <Prose html={html} />}
      </Masthead>
      {view.cautions.length > 0 && <Cautions cautions={view.cautions} />}
      {view.specs.length > 0 && (
        <Leaf heading="Spec sheet" id="specs" note={count(view.specs.length, 'spec')}>
          <SpecTable label="Spec sheet" rows={view.specs} />
        </Leaf>
      )}
      {view.points.length > 0 && <Points view={view} />}
      {view.derived.length > 0 && <DerivedValues view={view} />}
      {view.tests.map((test) => (
        <Leaf heading={test.title} id={`test-${test.ref}`} note="Test">
          <TestText test={test} />
        </Leaf>
      ))}
      {view.decisions.length > 0 && (
        <Leaf heading="Decisions" id="decisions" note={view.decisions.length}>
          <DecisionTable label="Decisions" rows={view.decisions} />
        </Leaf>
      )}
      {view.items.length > 0 && (
        <Leaf heading="Open work" id="open-work" note={view.items.length}>
          <ItemTable label="Open work" rows={view.items} />
        </Leaf>
      )}
      {view.parts.length > 0 && (
        <Leaf heading="Parts" id="parts" note={view.parts.length}>
          <PartTable label="Parts" rows={view.parts} anchors={false} />
        </Leaf>
      )}
      {view.upkeep.length > 0 && (
        <Leaf heading="Upkeep" id="upkeep" note={view.upkeep.length}>
          <UpkeepTable label="Upkeep" rows={view.upkeep} />
        </Leaf>
      )}
      {view.entries.length > 0 && (
        <Leaf
          heading="Entries"
          id="entries"
          note={
            view.entryCount > view.entries.length
              ? `latest ${view.entries.length} of ${view.entryCount}`
              : undefined
          }
        >
          <EntryList entries={view.entries} />
        </Leaf>
      )}
    </>
  );
}

function Points({ view }: { view: SystemView }): VNode {
  return (
    <Leaf heading="Measured" id="points" note={<a href={view.allReadings}>All readings as a table</a>}>
      <div class="points">
        {view.points.map((point) => (
          <Point point={point} />
        ))}
      </div>
    </Leaf>
  );
}

function Point({ point }: { point: PointView }): VNode {
  return (
    <section class="point" id={`point-${point.name}`}>
      <h3>{point.title}</h3>
      <p class="point-last">
        {point.last === null && point.series !== null ? null : point.last === null ? (
          <span class="soft">{point.gone ? 'no longer there' : 'not read yet'}</span>
        ) : (
          <>
            <strong class="value">{point.last.value.text}</strong>{' '}
            <LimitTag limit={point.last.limit ?? 'no-limit'} />
            <span class="soft">
              <Day on={point.last.date} />
            </span>
          </>
        )}
      </p>
      <p class="soft point-facts">
        {[
          point.limits,
          point.comparedAt === null ? null : `compared at ${point.comparedAt}`,
          point.where,
          point.period,
        ]
          .filter((text) => text !== null)
          .join('; ')}
      </p>
      {point.chart !== null && <TimelineFigure chart={point.chart} />}
      {point.series !== null && <SeriesText series={point.series} />}
      {point.trend !== null && <TrendWords trend={point.trend} />}
      {point.readings.length > 0 && (
        <details>
          <summary>
            {point.count > point.readings.length
              ? `Latest ${point.readings.length} of ${point.count} readings`
              : count(point.count, 'reading')}
          </summary>
          <ReadingTable label={`${point.title}: readings`} rows={point.readings} show={{ date: true }} />
        </details>
      )}
    </section>
  );
}

/** What a person would say of the trend, and the readings that stand out. */
function TrendWords({ trend }: { trend: PointTrend }): VNode {
  return (
    <div class="trend-words">
      <p>{trend.sentence}</p>
      {trend.corrected !== null && <p class="soft">Reckoned {trend.corrected}; small rings are as read.</p>}
      {trend.flagged.map(({ date, value, expected }) => (
        <p class="soft">
          <Day on={date} />: {value} stands out; {expected} was to be expected.
        </p>
      ))}
    </div>
  );
}

function DerivedValues({ view }: { view: SystemView }): VNode {
  return (
    <Leaf heading="Derived" id="derived">
      <DataTable
        label="Derived values"
        on="stack"
        columns={[
          { head: 'What' },
          { head: 'Comes to', kind: 'value' },
          { head: 'As of', kind: 'day' },
          { head: 'Rests on', kind: 'text' },
        ]}
        rows={view.derived.map(({ name, title, from, value, date, restsOn }) => ({
          id: `derived-${name}`,
          cells: [
            <>
              {title}
              <small class="line">
                <code>{from}</code>
              </small>
            </>,
            value === null ? <span class="soft">cannot say</span> : <Value value={value} />,
            date === null ? '' : <Day on={date} />,
            <Rests on={restsOn} />,
          ],
        }))}
      />
    </Leaf>
  );
}
