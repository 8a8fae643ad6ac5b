import { scaleLinear, scaleUtc } from 'd3-scale';
import type { VNode } from 'preact';
import type { Agreement, LimitState } from '../../src/reckon/model.js';
import type { IntervalChart } from '../../src/render/charts/intervals.js';
import type { TimelineChart } from '../../src/render/charts/timeline.js';
import type { TrendLine } from '../../src/render/charts/trend-line.js';

/** Drawings made at build time: classes instead of styles, shapes as well as colours, and words for it all. */

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

/** Box of a timeline: outside measures and the frame of the plot. */
export const BOX = { width: 360, height: 176, left: 48, right: 354, top: 12, bottom: 150 };

/** Room above and below the values, as a share of their range. */
const HEADROOM = 0.12;

/** To a tenth of a unit of the drawing: finer cannot be seen. */
export function tenth(value: number): number {
  return Math.round(value * 10) / 10;
}

/** A point over time, with its limits, what is stated of it, and the ± of each reading where it is known. */
export function TimelineFigure({ chart }: { chart: TimelineChart }): VNode {
  const x = timeScale(chart);
  const y = valueScale(chart);
  const line = chart.marks
    .filter(({ comparable }) => comparable)
    .map(({ date, value }) => `${tenth(x(new Date(date)))} ${tenth(y(value))}`);
  return (
    <figure class="chart">
      <svg viewBox={`0 0 ${BOX.width} ${BOX.height}`} role="img" aria-label={chart.alternative}>
        <Axes x={x} y={y} unit={chart.unit} />
        {chart.limits.map(({ side, value, words }) => (
          <Limit side={side} at={y(value)} words={words} />
        ))}
        {chart.claims.map(({ value, words }) => (
          <g class="claim">
            <path d={`M${BOX.left} ${tenth(y(value))}H${BOX.right}`} />
            <text x={BOX.right} y={tenth(y(value)) - 4} text-anchor="end">
              {words}
            </text>
          </g>
        ))}
        {chart.trend !== null && <TrendBand trend={chart.trend} x={x} y={y} />}
        {line.length > 1 && chart.trend === null && <path class="thread" d={`M${line.join('L')}`} />}
        {chart.marks.map(({ date, value, spread, limit, comparable, asRead, flagged }) => (
          <g class={comparable ? LIMIT_CLASS[limit] : 'apart'}>
            {asRead !== null && (
              <circle class="as-read" cx={tenth(x(new Date(date)))} cy={tenth(y(asRead))} r="2" />
            )}
            {flagged && <circle class="flag" cx={tenth(x(new Date(date)))} cy={tenth(y(value))} r="7.5" />}
            {spread !== null && (
              <ErrorBar x={x(new Date(date))} from={y(value - spread)} to={y(value + spread)} />
            )}
            <Mark shape={comparable ? LIMIT_CLASS[limit] : 'apart'} x={x(new Date(date))} y={y(value)} />
          </g>
        ))}
      </svg>
    </figure>
  );
}

const LIMIT_CLASS: Readonly<Record<LimitState, string>> = {
  inside: 'inside',
  'no-limit': 'inside',
  outside: 'outside',
  undecided: 'straddles',
};

export type TimeScale = ReturnType<typeof scaleUtc<number>>;
export type ValueScale = ReturnType<typeof scaleLinear<number>>;

function timeScale(chart: TimelineChart): TimeScale {
  const times = [
    ...chart.marks.map(({ date }) => new Date(date).getTime()),
    ...(chart.trend?.rows.map(({ date }) => new Date(date).getTime()) ?? []),
  ];
  const day = 86_400_000;
  const [first, last] = [Math.min(...times), Math.max(...times)];
  const pad = Math.max(day * 3, (last - first) * 0.03);
  return scaleUtc([new Date(first - pad), new Date(last + pad)], [BOX.left, BOX.right]);
}

function valueScale(chart: TimelineChart): ValueScale {
  const values = [
    ...chart.marks.flatMap(({ value, spread }) => [value - (spread ?? 0), value + (spread ?? 0)]),
    ...chart.marks.flatMap(({ asRead }) => asRead ?? []),
    ...(chart.trend?.rows.map(({ value }) => value) ?? []),
    ...chart.limits.map(({ value }) => value),
    ...chart.claims.map(({ value }) => value),
  ];
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const room = (high - low) * HEADROOM || Math.abs(high) * HEADROOM || 1;
  // Nothing that is never negative is drawn below nought.
  const bottom = low >= 0 ? Math.max(0, low - room) : low - room;
  return scaleLinear([bottom, high + room], [BOX.bottom, BOX.top]);
}

/** The line of a trend, dashed where it is a forecast, in the band in which one more reading would lie. */
function TrendBand({ trend, x, y }: { trend: TrendLine; x: TimeScale; y: ValueScale }): VNode {
  const place = (date: string, value: number) =>
    `${tenth(x(new Date(date)))} ${tenth(Math.min(BOX.bottom, Math.max(BOX.top, y(value))))}`;
  const upper = trend.rows.map(({ date, high }) => place(date, high));
  const lower = trend.rows.map(({ date, low }) => place(date, low)).reverse();
  const known = trend.rows.filter(({ date }) => date <= trend.today);
  const ahead = trend.rows.slice(Math.max(0, known.length - 1));
  const path = (rows: TrendLine['rows']) => `M${rows.map(({ date, value }) => place(date, value)).join('L')}`;
  return (
    <g class="trend">
      <path class="trend-band" d={`M${[...upper, ...lower].join('L')}Z`} />
      {known.length > 1 && <path class="trend-line" d={path(known)} />}
      {ahead.length > 1 && <path class="trend-line ahead" d={path(ahead)} />}
      {trend.crossings.map(({ value, from, to }) => {
        const [begin, end] = [tenth(x(new Date(from))), tenth(x(new Date(to)))];
        return <path class="crossing" d={`M${begin} ${tenth(y(value)) - 5}v10m0-5H${end}m0-5v10`} />;
      })}
    </g>
  );
}

/** Lines and words of both scales. */
export function Axes({ x, y, unit }: { x: TimeScale; y: ValueScale; unit: string }): VNode {
  const rows = y.ticks(4);
  const words = y.tickFormat(4);
  return (
    <g class="axes">
      {rows.map((tick, index) => (
        <>
          <path d={`M${BOX.left} ${tenth(y(tick))}H${BOX.right}`} />
          <text x={BOX.left - 6} y={tenth(y(tick)) + 4} text-anchor="end">
            {words(tick)}
            {index === rows.length - 1 && unit !== '1' ? ` ${unit}` : ''}
          </text>
        </>
      ))}
      {x.ticks(4).map((tick) => (
        <>
          <path class="tick" d={`M${tenth(x(tick))} ${BOX.bottom}v5`} />
          <text x={tenth(x(tick))} y={BOX.bottom + 19} text-anchor="middle">
            {timeWords(tick, x)}
          </text>
        </>
      ))}
      <path class="base" d={`M${BOX.left} ${BOX.bottom}H${BOX.right}`} />
    </g>
  );
}

/** A year at its beginning, a month at its beginning, else the day. */
export function timeWords(tick: Date, x: TimeScale): string {
  const month = MONTHS[tick.getUTCMonth()] as string;
  if (tick.getUTCDate() !== 1) return `${tick.getUTCDate()} ${month}`;
  const first = x.ticks(4)[0];
  if (tick.getUTCMonth() === 0) return String(tick.getUTCFullYear());
  return first?.getTime() === tick.getTime() ? `${month} ${tick.getUTCFullYear()}` : month;
}

/** A limit: its line, and the side of it that is out of limits. */
export function Limit({
  side,
  at,
  words,
}: {
  side: 'at least' | 'at most';
  at: number;
  words: string;
}): VNode {
  const low = side === 'at least';
  const y = tenth(at);
  const top = low ? y : BOX.top;
  const height = Math.max(0, low ? BOX.bottom - y : y - BOX.top);
  return (
    <g class="limit">
      <rect x={BOX.left} y={top} width={BOX.right - BOX.left} height={tenth(height)} />
      <path d={`M${BOX.left} ${y}H${BOX.right}`} />
      <text x={BOX.left + 4} y={low ? y + 13 : y - 5}>
        {words}
      </text>
    </g>
  );
}

function ErrorBar({ x, from, to }: { x: number; from: number; to: number }): VNode {
  const at = tenth(x);
  return <path class="spread" d={`M${at - 3} ${tenth(from)}h6m-3 0V${tenth(to)}m-3 0h6`} />;
}

/** A reading by its shape: a disc inside the limits, a square outside, half a disc between, a ring apart. */
function Mark({ shape, x, y }: { shape: string; x: number; y: number }): VNode {
  const [at, up] = [tenth(x), tenth(y)];
  if (shape === 'outside') return <path class="mark" d={`M${at - 4} ${up - 4}h8v8h-8z`} />;
  if (shape === 'straddles') {
    return (
      <>
        <circle class="mark hollow" cx={at} cy={up} r="4" />
        <path class="mark" d={`M${at} ${up - 4}a4 4 0 0 0 0 8z`} />
      </>
    );
  }
  if (shape === 'apart') return <circle class="mark hollow" cx={at} cy={up} r="3" />;
  return <circle class="mark" cx={at} cy={up} r="4" />;
}

const LANE = { width: 470, height: 25, left: 142, right: 462, top: 26 };

const AGREEMENT_CLASS: Readonly<Record<Agreement, string>> = {
  conforms: 'inside',
  'does-not-conform': 'outside',
  undecided: 'straddles',
};

/** What is stated as a line, the band in which a value agrees as a field, and each piece of evidence in a lane. */
export function IntervalFigure({ chart }: { chart: IntervalChart }): VNode {
  const bottom = LANE.top + chart.rows.length * LANE.height;
  const x = intervalScale(chart);
  const [low, high] = [
    chart.low === null ? LANE.left : x(chart.low),
    chart.high === null ? LANE.right : x(chart.high),
  ];
  const claim = tenth(x(chart.claim));
  const ticks = x.ticks(5);
  return (
    <figure class="chart wide">
      <svg viewBox={`0 0 ${LANE.width} ${bottom + 24}`} role="img" aria-label={chart.alternative}>
        <rect class="band" x={tenth(low)} y={LANE.top} width={tenth(high - low)} height={bottom - LANE.top} />
        <g class="axes">
          {ticks.map((tick, index) => (
            <>
              <path class="tick" d={`M${tenth(x(tick))} ${bottom}v5`} />
              <text x={tenth(x(tick))} y={bottom + 19} text-anchor="middle">
                {x.tickFormat(5)(tick)}
                {index === ticks.length - 1 && chart.unit !== '1' ? ` ${chart.unit}` : ''}
              </text>
            </>
          ))}
          <path class="base" d={`M${LANE.left} ${bottom}H${LANE.right}`} />
        </g>
        <g class="claim">
          <path d={`M${claim} ${LANE.top - 6}V${bottom}`} />
          <text x={claim} y={LANE.top - 11} text-anchor={claim > LANE.right - 60 ? 'end' : 'middle'}>
            stated {chart.claimWords}
          </text>
        </g>
        {chart.rows.map((row, index) => {
          const y = LANE.top + (index + 0.5) * LANE.height;
          const shape = AGREEMENT_CLASS[row.agreement];
          return (
            <g class={shape}>
              <text class="lane" x="0" y={y + 4}>
                {row.label}
              </text>
              {row.spread !== null && (
                <path
                  class="spread"
                  d={`M${tenth(x(row.value - row.spread))} ${y - 4}v8m0-4H${tenth(x(row.value + row.spread))}m0-4v8`}
                />
              )}
              <Mark shape={shape} x={x(row.value)} y={y} />
            </g>
          );
        })}
      </svg>
    </figure>
  );
}

function intervalScale(chart: IntervalChart): ValueScale {
  const values = [
    chart.claim,
    ...(chart.low === null ? [] : [chart.low]),
    ...(chart.high === null ? [] : [chart.high]),
    ...chart.rows.flatMap(({ value, spread }) => [value - (spread ?? 0), value + (spread ?? 0)]),
  ];
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const room = (high - low) * HEADROOM || Math.abs(high) * HEADROOM || 1;
  return scaleLinear([low - room, high + room], [LANE.left, LANE.right]);
}
