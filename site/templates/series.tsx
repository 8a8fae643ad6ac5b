import { scaleLinear, scaleUtc } from 'd3-scale';
import type { VNode } from 'preact';
import type { SeriesChart } from '../../src/render/charts/series.js';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { SeriesDaysView, SeriesView } from '../../src/render/pages/series.js';
import { Axes, BOX, Limit, type TimeScale, tenth, type ValueScale } from './charts.js';
import { DataTable, Day, Go, Leaf, Masthead } from './pieces.js';

/** What a logger has read at a point: its line, and the figures. */
export function SeriesText({ series }: { series: SeriesView }): VNode {
  return (
    <div class="series">
      <SeriesFigure chart={series.chart} />
      <SeriesFacts series={series} />
      <p class="point-facts">
        <a href={series.days}>Day by day</a>
      </p>
    </div>
  );
}

function SeriesFacts({ series }: { series: SeriesView }): VNode {
  return (
    <p class="soft point-facts">
      {series.extent}. Lowest {series.lowest}; mean {series.mean}; highest {series.highest}.
      {series.beyond !== null && ` ${series.beyond}.`}
    </p>
  );
}

/** The line of a logger. */
export function SeriesFigure({ chart }: { chart: SeriesChart }): VNode {
  const rows = chart.lines.flat();
  const x = timeScale(rows.map(([time]) => time));
  const y = valueScale([...rows.map(([, value]) => value), ...chart.limits.map(({ value }) => value)]);
  const path = chart.lines
    .map(
      (line) =>
        `M${line.map(([time, value]) => `${tenth(x(new Date(time * 1000)))} ${tenth(y(value))}`).join('L')}`,
    )
    .join('');
  return (
    <figure class="chart">
      <svg viewBox={`0 0 ${BOX.width} ${BOX.height}`} role="img" aria-label={chart.alternative}>
        <Axes x={x} y={y} unit={chart.unit} />
        {chart.limits.map(({ side, value, words }) => (
          <Limit side={side} at={y(value)} words={words} />
        ))}
        <path class="logged" d={path} />
      </svg>
    </figure>
  );
}

function timeScale(times: readonly number[]): TimeScale {
  const [first, last] = [times[0] ?? 0, times.at(-1) ?? 0];
  const pad = Math.max(3600, (last - first) * 0.01);
  return scaleUtc([new Date((first - pad) * 1000), new Date((last + pad) * 1000)], [BOX.left, BOX.right]);
}

function valueScale(values: readonly number[]): ValueScale {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const room = (high - low) * 0.12 || Math.abs(high) * 0.12 || 1;
  return scaleLinear([low >= 0 ? Math.max(0, low - room) : low - room, high + room], [BOX.bottom, BOX.top]);
}

/** The days of a logger. */
export function SeriesDaysPage({ view }: TemplateProps<SeriesDaysView>): VNode {
  const { summary } = view;
  return (
    <>
      <Masthead
        kind={
          <p>
            <Go to={view.system}>{view.system.text}</Go>
          </p>
        }
        title={view.point.text}
      >
        <p class="soft">
          What a logger has read, by days. It is no evidence for a spec. <Go to={view.point}>The point</Go>
        </p>
      </Masthead>
      <Leaf heading="In all" id="in-all">
        <SeriesFigure chart={summary.chart} />
        <SeriesFacts series={summary} />
      </Leaf>
      <Leaf
        heading="Days"
        id="days"
        note={view.pages.length > 1 ? `page ${view.page} of ${view.pages.length}` : undefined}
      >
        <DataTable
          label="Days, newest first"
          on="scroll"
          columns={[
            { head: 'Day', kind: 'day' },
            { head: 'Lowest', kind: 'value' },
            { head: 'Mean', kind: 'value' },
            { head: 'Highest', kind: 'value' },
            { head: 'Readings', kind: 'value' },
          ]}
          rows={view.rows.map((row) => ({
            cells: [<Day on={row.date} />, row.lowest, row.mean, row.highest, String(row.count)],
          }))}
        />
        {view.pages.length > 1 && (
          <nav class="pages" aria-label="Pages">
            {view.pages.map(({ text, href }, index) => (
              <a href={href ?? '#'} aria-current={index + 1 === view.page ? 'page' : undefined}>
                {text}
              </a>
            ))}
          </nav>
        )}
      </Leaf>
    </>
  );
}
