import type { VNode } from 'preact';
import type { HullChart, Place } from '../../src/render/charts/hull.js';
import { tenth } from './charts.js';
import { ScrollRegion } from './pieces.js';

/**
 * Weights where they sit, from the side and from above, one scale for both and for both ways. The bow is to the
 * right. The lines of the hull are not on record: what is drawn is what the figures are measured from.
 */

const WIDTH = 880;
/** Room around the drawing, and between the two views. */
const EDGE = { left: 30, right: 30, top: 34, between: 58, bottom: 34 };
/** Most that both views together may be high, without the room around them. */
const HIGHEST = 800;
/** Room around the outermost marks, in metres. */
const AROUND = 0.45;
/** Radius of the mark of the heaviest change; areas go by mass. */
const LARGEST = 26;
const SMALLEST = 3;

interface Drawing {
  readonly x: (metres: number) => number;
  readonly z: (metres: number) => number;
  readonly y: (metres: number) => number;
  readonly radius: (kg: number) => number;
  readonly perMetre: number;
  readonly height: number;
}

/** Both views with the marks of the ledger. */
export function HullFigure({ chart }: { chart: HullChart }): VNode {
  const drawing = layOut(chart);
  return (
    <figure class="chart broad hull">
      <ScrollRegion label="Weights where they sit">
        <svg viewBox={`0 0 ${WIDTH} ${tenth(drawing.height)}`} role="img" aria-label={chart.alternative}>
          <Side chart={chart} drawing={drawing} />
          <Plan chart={chart} drawing={drawing} />
          <ScaleBar drawing={drawing} x={drawing.x(chart.low[0])} />
        </svg>
      </ScrollRegion>
      <figcaption>
        <span>
          <svg class="key" viewBox="0 0 28 14" aria-hidden="true">
            <circle class="came" cx="14" cy="7" r="6" />
          </svg>{' '}
          came aboard, by mass
        </span>
        <span>
          <svg class="key" viewBox="0 0 28 14" aria-hidden="true">
            <circle class="went" cx="14" cy="7" r="6" />
            <path class="went-bar" d="M10 7h8" />
          </svg>{' '}
          taken off
        </span>
        <span>
          <svg class="key" viewBox="0 0 28 14" aria-hidden="true">
            <circle class="was" cx="14" cy="7" r="6" />
          </svg>{' '}
          was aboard before
        </span>
        <span>
          <svg class="key" viewBox="0 0 28 14" aria-hidden="true">
            <Centre x={14} y={7} />
          </svg>{' '}
          centre of gravity now
        </span>
        <span>Numbers are those of the ledger below.</span>
      </figcaption>
    </figure>
  );
}

function layOut({ low, high, marks, before }: HullChart): Drawing {
  const span = (axis: 0 | 1 | 2) => high[axis] - low[axis] + 2 * AROUND;
  const perMetre = Math.min((WIDTH - EDGE.left - EDGE.right) / span(0), HIGHEST / (span(1) + span(2)));
  const left = (WIDTH - span(0) * perMetre) / 2;
  const keel = EDGE.top + (high[2] + AROUND) * perMetre;
  const middle = EDGE.top + span(2) * perMetre + EDGE.between + (AROUND - low[1]) * perMetre;
  const most = Math.max(...marks.map(({ kg }) => Math.abs(kg)), ...before.map(({ kg }) => kg), 1);
  return {
    x: (metres) => tenth(left + (metres - low[0] + AROUND) * perMetre),
    z: (metres) => tenth(keel - metres * perMetre),
    // From above with the bow to the right, starboard is below.
    y: (metres) => tenth(middle + metres * perMetre),
    radius: (kg) => tenth(Math.max(SMALLEST, LARGEST * Math.sqrt(Math.abs(kg) / most))),
    perMetre,
    height: EDGE.top + (span(1) + span(2)) * perMetre + EDGE.between + EDGE.bottom,
  };
}

function Side({ chart, drawing }: { chart: HullChart; drawing: Drawing }): VNode {
  const { x, z } = drawing;
  const [from, to] = [x(chart.low[0] - AROUND), x(chart.high[0] + AROUND)];
  return (
    <g>
      <text x={from} y={EDGE.top - 14}>
        From the side, bow to the right
      </text>
      <path class="base-line" d={`M${from} ${z(0)}H${to}`} />
      {chart.draughts !== null && (
        <Waterlines draughts={chart.draughts} drawing={drawing} ends={[from, to]} />
      )}
      <Marks chart={chart} drawing={drawing} view={([forward, , up]) => [x(forward), z(up)]} />
      {chart.centre.before !== null && chart.centre.before.z !== null && (
        <Centre x={x(chart.centre.before.x)} y={z(chart.centre.before.z)} old />
      )}
      {chart.centre.now !== null && chart.centre.now.z !== null && (
        <Centre x={x(chart.centre.now.x)} y={z(chart.centre.now.z)} />
      )}
    </g>
  );
}

/** The waterline as she floated and as she floats now, through the draughts at the two marks. */
function Waterlines(props: {
  draughts: NonNullable<HullChart['draughts']>;
  drawing: Drawing;
  ends: readonly [number, number];
}): VNode {
  const { aft, fwd } = props.draughts;
  const { x, z } = props.drawing;
  const [from, to] = props.ends;
  const line = (astern: number, ahead: number) => {
    const slope = (z(ahead) - z(astern)) / (x(fwd.x) - x(aft.x));
    const at = (place: number) => tenth(z(astern) + slope * (place - x(aft.x)));
    return `M${from} ${at(from)}L${to} ${at(to)}`;
  };
  const [astern, ahead] = [aft.now ?? aft.before, fwd.now ?? fwd.before];
  return (
    <g class="water">
      <path class="was-line" d={line(aft.before, fwd.before)} />
      {aft.now !== null && fwd.now !== null && <path class="now-line" d={line(aft.now, fwd.now)} />}
      <path class="draught" d={`M${x(aft.x)} ${z(0)}V${z(astern)}M${x(fwd.x)} ${z(0)}V${z(ahead)}`} />
      <text x={to} y={tenth(z(ahead) + 20)} text-anchor="end">
        waterline{aft.now === null ? ' as floated' : '; as floated: dashes'}
      </text>
      <text x={x(aft.x)} y={z(0) + 15} text-anchor="middle">
        {astern.toFixed(2)} m
      </text>
      <text x={x(fwd.x)} y={z(0) + 15} text-anchor="middle">
        {ahead.toFixed(2)} m
      </text>
    </g>
  );
}

function Plan({ chart, drawing }: { chart: HullChart; drawing: Drawing }): VNode {
  const { x, y } = drawing;
  const [from, to] = [x(chart.low[0] - AROUND), x(chart.high[0] + AROUND)];
  const { now } = chart.centre;
  return (
    <g>
      <text x={from} y={y(chart.low[1] - AROUND) - 10}>
        From above, port above the centreline
      </text>
      <path class="centre-line" d={`M${from} ${y(0)}H${to}`} />
      {chart.draughts !== null && (
        <path
          class="draught"
          d={`M${x(chart.draughts.aft.x)} ${y(0) - 7}v14M${x(chart.draughts.fwd.x)} ${y(0) - 7}v14`}
        />
      )}
      <Marks chart={chart} drawing={drawing} view={([forward, side]) => [x(forward), y(side)]} />
      {now !== null && now.y !== null && <Centre x={x(now.x)} y={y(now.y)} />}
    </g>
  );
}

/** Largest first, so that none hides another. */
function Marks(props: {
  chart: HullChart;
  drawing: Drawing;
  view: (at: Place) => readonly [number, number];
}): VNode {
  const { chart, drawing, view } = props;
  const largestFirst = [...chart.marks].sort((a, b) => Math.abs(b.kg) - Math.abs(a.kg));
  return (
    <>
      {chart.before.map(({ at, kg }) => {
        const [left, top] = view(at);
        return <circle class="was" cx={left} cy={top} r={drawing.radius(kg)} />;
      })}
      {largestFirst.map(({ at, kg }) => {
        const [left, top] = view(at);
        const r = drawing.radius(kg);
        return (
          <>
            <circle class={kg > 0 ? 'came' : 'went'} cx={left} cy={top} r={r} />
            {kg < 0 && <path class="went-bar" d={`M${tenth(left - r * 0.55)} ${top}h${tenth(r * 1.1)}`} />}
          </>
        );
      })}
      {chart.moves.map(({ from, to }) => {
        const [[x1, y1], [x2, y2]] = [view(from), view(to)];
        return <path class="move" d={`M${x1} ${y1}L${x2} ${y2}`} />;
      })}
      {largestFirst.map(({ number, at, kg }) => {
        const [left, top] = view(at);
        return (
          <text
            class="mark-number"
            x={tenth(left + drawing.radius(kg) * 0.75)}
            y={tenth(top - drawing.radius(kg) * 0.6)}
          >
            {number}
          </text>
        );
      })}
    </>
  );
}

/** A circle quartered light and dark, as a centre of gravity is drawn. */
function Centre({ x, y, old }: { x: number; y: number; old?: boolean }): VNode {
  if (old === true) return <path class="cg-old" d={`M${x - 6} ${y}h12M${x} ${y - 6}v12`} />;
  return (
    <g class="cg">
      <circle cx={x} cy={y} r="6" />
      <path
        d={`M${x} ${y}V${tenth(y - 6)}A6 6 0 0 1 ${tenth(x + 6)} ${y}ZM${x} ${y}V${tenth(y + 6)}A6 6 0 0 1 ${tenth(x - 6)} ${y}Z`}
      />
    </g>
  );
}

function ScaleBar({ drawing, x }: { drawing: Drawing; x: number }): VNode {
  const y = tenth(drawing.height - 12);
  const metre = tenth(drawing.perMetre);
  return (
    <g class="scale-bar">
      <path d={`M${x} ${y - 4}v8m0-4h${metre}m0-4v8m0-4h${metre}m0-4v8`} />
      <text x={tenth(x + 2 * metre + 6)} y={y + 4}>
        2 m
      </text>
    </g>
  );
}
