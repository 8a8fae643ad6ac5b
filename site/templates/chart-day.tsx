import { scaleLinear } from 'd3-scale';
import type { VNode } from 'preact';
import type { DayChart } from '../../src/render/charts/day.js';
import { tenth } from './charts.js';

/** Power over a day as stacked steps. Bands are told apart by their patterns and by names, not by colour. */

const BOX = { width: 460, height: 220, left: 50, right: 454, top: 22, bottom: 192 };

/** Beyond this many times what is asked, the rating is said and not drawn: the bands would be too thin. */
const FAR = 3;

/** The least height in which a name can stand in its band. */
const NAME_HEIGHT = 12;
const LETTER = 6.2;

/** The chart of one source or store. */
export function DayFigure({ chart }: { chart: DayChart }): VNode {
  const sums = chart.spans.map((_, at) => chart.bands.reduce((sum, { watts }) => sum + (watts[at] ?? 0), 0));
  const most = Math.max(...sums);
  const { limit } = chart;
  const isNear = limit !== null && limit.watts <= most * FAR;
  const x = scaleLinear([0, 24], [BOX.left, BOX.right]);
  const y = scaleLinear([0, (isNear ? Math.max(most, limit.watts) : most) * 1.12], [BOX.bottom, BOX.top]);
  return (
    <figure class="chart day">
      <svg viewBox={`0 0 ${BOX.width} ${BOX.height}`} role="img" aria-label={chart.alternative}>
        <Patterns chart={chart} />
        <Axes x={x} y={y} />
        <Bands chart={chart} x={x} y={y} />
        <path class="outline" d={steps(chart, sums, x, y)} />
        {limit !== null && isNear && <LimitLine limit={limit} y={y} />}
        {limit !== null && !isNear && (
          <text x={BOX.right} y={BOX.top - 8} text-anchor="end">
            gives {limit.words}, far above what is asked
          </text>
        )}
      </svg>
      <figcaption>
        {chart.bands.map(({ title, most: peak }, at) => (
          <span>
            <svg class="swatch" viewBox="0 0 22 14" aria-hidden="true">
              <rect class={`fill-${at % TEXTURES.length}`} width="22" height="14" />
              <rect fill={`url(#${patternId(chart, at)})`} width="22" height="14" />
            </svg>
            {at + 1} {title}, {peak}
          </span>
        ))}
      </figcaption>
    </figure>
  );
}

type Scale = ReturnType<typeof scaleLinear<number>>;

/** Lines of each pattern in a tile of 8 by 8; an empty one is plain. */
const TEXTURES: readonly string[] = [
  'M-2 2 2-2M0 8 8 0M6 10l4-4',
  'M0 4h8',
  'M-2 6l4 4M0 0l8 8M6-2l4 4',
  'M4 0v8',
  'M1 1h1v1H1zM5 5h1v1H5z',
  '',
  'M0 4h8M4 0v8',
  'M0 2h4M4 6h4',
];

function patternId(chart: DayChart, at: number): string {
  return `texture-${chart.id}-${at % TEXTURES.length}`;
}

function Patterns({ chart }: { chart: DayChart }): VNode {
  const used = TEXTURES.slice(0, chart.bands.length);
  return (
    <defs>
      {used.map((path, at) => (
        <pattern id={patternId(chart, at)} width="8" height="8" patternUnits="userSpaceOnUse">
          {path !== '' && <path class="texture" d={path} />}
        </pattern>
      ))}
    </defs>
  );
}

function Axes({ x, y }: { x: Scale; y: Scale }): VNode {
  const rows = y.ticks(4);
  return (
    <g class="axes">
      {rows.map((tick, index) => (
        <>
          <path d={`M${BOX.left} ${tenth(y(tick))}H${BOX.right}`} />
          <text x={BOX.left - 6} y={tenth(y(tick)) + 4} text-anchor="end">
            {tick}
            {index === rows.length - 1 ? ' W' : ''}
          </text>
        </>
      ))}
      {[0, 6, 12, 18, 24].map((hour) => (
        <>
          <path class="tick" d={`M${tenth(x(hour))} ${BOX.bottom}v5`} />
          <text
            x={tenth(x(hour))}
            y={BOX.bottom + 19}
            text-anchor={hour === 24 ? 'end' : hour === 0 ? 'start' : 'middle'}
          >
            {String(hour).padStart(2, '0')}:00
          </text>
        </>
      ))}
      <path class="base" d={`M${BOX.left} ${BOX.bottom}H${BOX.right}`} />
    </g>
  );
}

function Bands({ chart, x, y }: { chart: DayChart; x: Scale; y: Scale }): VNode {
  const below = chart.spans.map(() => 0);
  return (
    <>
      {chart.bands.map(({ title, watts }, at) => {
        const low = [...below];
        watts.forEach((value, piece) => {
          below[piece] = (below[piece] ?? 0) + value;
        });
        const area = areaBetween(chart, low, below, x, y);
        const number = String(at + 1);
        const name =
          placeOfName(chart, `${number} ${title}`, low, below, { x, y }) ??
          placeOfName(chart, number, low, below, { x, y });
        return (
          <g class="day-band">
            <path class={`fill-${at % TEXTURES.length}`} d={area} />
            <path fill={`url(#${patternId(chart, at)})`} d={area} />
            {name !== null && (
              <text x={name.x} y={name.y} text-anchor="middle">
                {name.words}
              </text>
            )}
          </g>
        );
      })}
    </>
  );
}

/** The field between two step lines: to the right along the upper, back along the lower. */
function areaBetween(
  chart: DayChart,
  low: readonly number[],
  high: readonly number[],
  x: Scale,
  y: Scale,
): string {
  const over = chart.spans.map(
    ({ from, to }, at) => `${tenth(x(from))} ${tenth(y(high[at] ?? 0))}H${tenth(x(to))}`,
  );
  const back = chart.spans
    .map(({ from, to }, at) => `${tenth(x(to))} ${tenth(y(low[at] ?? 0))}H${tenth(x(from))}`)
    .reverse();
  return `M${[...over, ...back].join('L')}Z`;
}

function steps(chart: DayChart, sums: readonly number[], x: Scale, y: Scale): string {
  return `M${chart.spans.map(({ from, to }, at) => `${tenth(x(from))} ${tenth(y(sums[at] ?? 0))}H${tenth(x(to))}`).join('L')}`;
}

/** A name, or the number that stands for it, in the first stretch of its band in which it fits; null for none. */
function placeOfName(
  { spans }: DayChart,
  title: string,
  low: readonly number[],
  high: readonly number[],
  { x, y }: { x: Scale; y: Scale },
): { readonly words: string; readonly x: number; readonly y: number } | null {
  for (const [at, { from, to }] of spans.entries()) {
    const [top, bottom] = [y(high[at] ?? 0), y(low[at] ?? 0)];
    if (bottom - top < NAME_HEIGHT || x(to) - x(from) < title.length * LETTER) continue;
    return { words: title, x: tenth((x(from) + x(to)) / 2), y: tenth((top + bottom) / 2 + 4) };
  }
  return null;
}

/** What the source gives for hours: the line, its ± where known, and the field that is out of reach. */
function LimitLine({ limit, y }: { limit: NonNullable<DayChart['limit']>; y: Scale }): VNode {
  const at = tenth(y(limit.watts));
  const spread = limit.spread === null ? 0 : tenth(y(limit.watts - limit.spread)) - at;
  return (
    <g class="limit">
      {spread > 0.5 && (
        <rect x={BOX.left} y={tenth(at - spread)} width={BOX.right - BOX.left} height={tenth(2 * spread)} />
      )}
      <path d={`M${BOX.left} ${at}H${BOX.right}`} />
      <text x={BOX.left + 4} y={at - spread - 5}>
        gives {limit.words}
      </text>
    </g>
  );
}
