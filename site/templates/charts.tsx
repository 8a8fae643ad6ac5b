import { scaleLinear, scaleUtc } from 'd3-scale';
import type { VNode } from 'preact';
import type { Agreement, LimitState } from '../../src/reckon/model.js';
import type { IntervalChart } from '../../src/render/charts/intervals.js';
import type { TimelineChart } from '../../src/render/charts/timeline.js';
import type { TrendLine } from '../../src/render/charts/trend-line.js';
import { type Field, placed, type Spot } from './chart-labels.js';

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
        {chart.limits.map(({ side, value }) => (
          <BeyondLimit side={side} at={y(value)} />
        ))}
        {chart.trend !== null && <TrendBand trend={chart.trend} x={x} y={y} />}
        <Axes x={x} y={y} unit={chart.unit} />
        {chart.limits.map(({ value }) => (
          <LimitLine at={y(value)} />
        ))}
        {chart.claims.map(({ value }) => (
          <g class="claim">
            <path d={`M${BOX.left} ${tenth(y(value))}H${BOX.right}`} />
          </g>
        ))}
        {chart.trend !== null && <TrendPath trend={chart.trend} x={x} y={y} />}
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
        <LineWords chart={chart} x={x} y={y} />
      </svg>
    </figure>
  );
}

/** What limits and claims are called, where it hides least of the readings and each other. */
function LineWords({ chart, x, y }: { chart: TimelineChart; x: TimeScale; y: ValueScale }): VNode {
  const wanted = [
    ...chart.limits.map(({ side, value, words }) => ({
      kind: 'limit',
      words,
      spots: spotsAt(y(value), side === 'at least' ? 'below' : 'above', 'left'),
    })),
    ...chart.claims.map(({ value, words }) => ({
      kind: 'claim',
      words,
      spots: spotsAt(y(value), 'above', 'right'),
    })),
  ];
  const spots = placed(wanted, drawnFields(chart, x, y), { ...BOX, top: BOX.top - 8 });
  return (
    <>
      {wanted.map(({ kind, words }, index) => (
        <g class={kind}>
          <text x={spots[index]?.x} y={tenth(spots[index]?.y ?? 0)} text-anchor={spots[index]?.anchor}>
            {words}
          </text>
        </g>
      ))}
    </>
  );
}

/** Both ends of a line, above and below it, what is liked best first. */
function spotsAt(at: number, side: 'above' | 'below', end: 'left' | 'right'): readonly [Spot, ...Spot[]] {
  const left = { x: BOX.left + 4, anchor: 'start' } as const;
  const right = { x: BOX.right - 2, anchor: 'end' } as const;
  const middle = { x: (BOX.left + BOX.right) / 2, anchor: 'start' } as const;
  const ends = end === 'left' ? ([left, right] as const) : ([right, left] as const);
  const [near, far] = side === 'above' ? [at - 5, at + 13] : [at + 13, at - 5];
  return [
    { ...ends[0], y: near },
    { ...ends[1], y: near },
    { ...middle, y: near },
    { ...ends[0], y: far },
    { ...ends[1], y: far },
    { ...middle, y: far },
  ];
}

/** What words must not hide: readings with their ±, the line through them, lines that are drawn across. */
function drawnFields(chart: TimelineChart, x: TimeScale, y: ValueScale): readonly Field[] {
  const marks = chart.marks.map(({ date, value, spread }) => {
    const [at, up, bar] = [x(new Date(date)), y(value), spread ?? 0];
    return {
      left: at - 5,
      right: at + 5,
      top: Math.min(up - 5, y(value + bar)),
      bottom: Math.max(up + 5, y(value - bar)),
    };
  });
  const across = [...chart.limits, ...chart.claims].map(({ value }) => ({
    left: BOX.left,
    right: BOX.right,
    top: y(value) - 1,
    bottom: y(value) + 1,
  }));
  const ends = chart.trend?.rows ?? chart.marks.filter(({ comparable }) => comparable);
  const line = ends.slice(1).flatMap((to, index) => {
    const from = ends[index] ?? to;
    return [0.25, 0.5, 0.75].map((share) => {
      const at = x(new Date(from.date)) * (1 - share) + x(new Date(to.date)) * share;
      const up = y(from.value) * (1 - share) + y(to.value) * share;
      return { left: at - 4, right: at + 4, top: up - 2, bottom: up + 2 };
    });
  });
  const crossings = (chart.trend?.crossings ?? []).map(({ value, from, to }) => ({
    left: x(new Date(from)),
    right: x(new Date(to)),
    top: y(value) - 5,
    bottom: y(value) + 5,
  }));
  return [...marks, ...across, ...line, ...crossings];
}

const LIMIT_CLASS: Readonly<Record<LimitState, string>> = {
  inside: 'inside',
  'no-limit': 'inside',
  former: 'inside',
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

/** Beyond this share of the height of the plot a band would say no more than that little is known. */
const WIDEST_BAND = 0.6;

function placeOf(date: string, value: number, x: TimeScale, y: ValueScale): string {
  return `${tenth(x(new Date(date)))} ${tenth(Math.min(BOX.bottom, Math.max(BOX.top, y(value))))}`;
}

/** The band in which one more reading would lie; left out where it is so wide that it would hide all else. */
function TrendBand({ trend, x, y }: { trend: TrendLine; x: TimeScale; y: ValueScale }): VNode | null {
  const known = trend.rows.filter(({ date }) => date <= trend.today);
  const heights = known.map(({ low, high }) => y(low) - y(high));
  if (Math.max(...heights) > (BOX.bottom - BOX.top) * WIDEST_BAND) return null;
  const upper = trend.rows.map(({ date, high }) => placeOf(date, high, x, y));
  const lower = trend.rows.map(({ date, low }) => placeOf(date, low, x, y)).reverse();
  return <path class="trend-band" d={`M${[...upper, ...lower].join('L')}Z`} />;
}

/** The line of a trend, dashed where it is a forecast, and the stretch of time in which it reaches a limit. */
function TrendPath({ trend, x, y }: { trend: TrendLine; x: TimeScale; y: ValueScale }): VNode {
  const known = trend.rows.filter(({ date }) => date <= trend.today);
  const ahead = trend.rows.slice(Math.max(0, known.length - 1));
  const path = (rows: TrendLine['rows']) =>
    `M${rows.map(({ date, value }) => placeOf(date, value, x, y)).join('L')}`;
  return (
    <g class="trend">
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
  const y = tenth(at);
  return (
    <>
      <BeyondLimit side={side} at={at} />
      <LimitLine at={at} />
      <g class="limit">
        <text x={BOX.left + 4} y={side === 'at least' ? y + 13 : y - 5}>
          {words}
        </text>
      </g>
    </>
  );
}

function BeyondLimit({ side, at }: { side: 'at least' | 'at most'; at: number }): VNode {
  const y = tenth(at);
  const [top, bottom] = side === 'at least' ? [y, BOX.bottom] : [BOX.top, y];
  return (
    <g class="limit">
      <rect x={BOX.left} y={top} width={BOX.right - BOX.left} height={tenth(Math.max(0, bottom - top))} />
    </g>
  );
}

function LimitLine({ at }: { at: number }): VNode {
  return (
    <g class="limit">
      <path d={`M${BOX.left} ${tenth(at)}H${BOX.right}`} />
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
