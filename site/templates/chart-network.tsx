import { scaleUtc } from 'd3-scale';
import type { VNode } from 'preact';
import type { NetworkChart, NetworkRow } from '../../src/render/charts/network.js';
import { tenth, timeWords } from './charts.js';
import { ScrollRegion } from './pieces.js';

/** Steps towards a goal in time: today at the left, a line for each step, its name above its bar. */

const BOX = { width: 880, left: 8, right: 872, top: 26, row: 34 };
/** Nearer than this to an edge, half of a day's name would lie outside. */
const EDGE = 24;
const DAY = 86_400_000;

/** Width of a letter at the size of the names, on average. */
const LETTER = 6.1;

/** The network of a goal. What decides is heavier and ends in a point; what can wait has a tail. */
export function NetworkFigure({ chart }: { chart: NetworkChart }): VNode {
  const today = new Date(chart.today);
  const x = scaleUtc([today, new Date(today.getTime() + chart.days * DAY)], [BOX.left, BOX.right]);
  const at = (days: number) => tenth(x(new Date(today.getTime() + days * DAY)));
  const bottom = BOX.top + chart.rows.length * BOX.row + 6;
  const ticks = x.ticks(7);
  return (
    <figure class="chart network">
      <ScrollRegion label="Steps in time">
        <svg viewBox={`0 0 ${BOX.width} ${bottom + 8}`} role="img" aria-label={chart.alternative}>
          <g class="axes">
            {ticks.map((tick) => (
              <>
                <path d={`M${tenth(x(tick))} ${BOX.top - 6}V${bottom}`} />
                <text
                  x={tenth(x(tick))}
                  y={BOX.top - 11}
                  text-anchor={
                    x(tick) < BOX.left + EDGE ? 'start' : x(tick) > BOX.right - EDGE ? 'end' : 'middle'
                  }
                >
                  {timeWords(tick, x)}
                </text>
              </>
            ))}
            <path class="base" d={`M${BOX.left} ${BOX.top - 6}H${BOX.right}`} />
          </g>
          <path class="today" d={`M${BOX.left} ${BOX.top - 14}V${bottom}`} />
          {chart.rows.map((row, index) => (
            <Step row={row} at={at} y={BOX.top + index * BOX.row} />
          ))}
        </svg>
      </ScrollRegion>
      <figcaption>
        <span>
          <Key class="decides" d="M0 2h22l5 5-5 5H0z" /> decides when
        </span>
        <span>
          <Key class="waits" d="M0 4h14v6H0z" tail="M14 7h12m0-3v6" /> can wait as long as its tail
        </span>
        <span>
          <Key class="part" d="M7 1l6 6-6 6-6-6z" tail="M13 7h13m0-3v6" /> a part, and how late it may come
        </span>
        <span>
          At the pace of fast weeks, as if jobs that do not wait on each other went on side by side: one pair
          of hands takes longer.
        </span>
      </figcaption>
    </figure>
  );
}

function Step({ row, at, y }: { row: NetworkRow; at: (days: number) => number; y: number }): VNode {
  const [from, to, until] = [at(row.from), at(row.to), at(row.until)];
  const words = row.facts === '' ? row.label : `${row.label}, ${row.facts}`;
  // A name that would go over the right edge ends there.
  const over = from + words.length * LETTER > BOX.right;
  const look = row.sort === 'part' ? 'part' : row.decides ? 'decides' : 'waits';
  return (
    <g class={row.decides ? `${look} decides` : look}>
      <text
        x={over ? BOX.right : Math.max(from, BOX.left + 6)}
        y={y + 13}
        text-anchor={over ? 'end' : 'start'}
      >
        {row.label}
        {row.facts !== '' && <tspan class="aside">, {row.facts}</tspan>}
      </text>
      {until - to > 1 && <path class="tail" d={`M${to} ${y + 24}H${until}m0-3v6`} />}
      <path class="shape" d={shapeOf(row, from, to, y + 24)} />
    </g>
  );
}

/** A diamond for a part and for what takes no time, a bar with a point for what decides, else a plain bar. */
function shapeOf(row: NetworkRow, from: number, to: number, y: number): string {
  if (row.sort === 'part' || to - from < 3) return `M${to - 6} ${y}l6-6 6 6-6 6z`;
  if (!row.decides) return `M${from} ${y - 3}H${to}v6H${from}z`;
  const neck = Math.max(from, to - 5);
  return `M${from} ${y - 5}H${neck}L${to} ${y}L${neck} ${y + 5}H${from}z`;
}

function Key(props: { class: string; d: string; tail?: string }): VNode {
  return (
    <svg class={`key ${props.class}`} viewBox="0 0 28 14" aria-hidden="true">
      {props.tail !== undefined && <path class="tail" d={props.tail} />}
      <path class="shape" d={props.d} />
    </svg>
  );
}
