import { scaleLinear } from 'd3-scale';
import type { VNode } from 'preact';
import {
  dateOf,
  type Mark,
  marksOf,
  type Pair,
  type PointName,
  pairs,
  type Table,
  thinned,
} from '../../src/find/index.js';
import {
  type DisplayPreference,
  fromSi,
  inUnit,
  type Kind,
  preferred,
  printQuantity,
  spreadIn,
} from '../../src/quantity/index.js';
import type { TimelineChart } from '../../src/render/charts/timeline.js';
import { count, dayWords } from '../../src/render/words.js';
import { TimelineFigure } from '../templates/charts.js';

/** Drawings of what was found: a point over time, or two points against each other. */

/** More marks than these cannot be told apart in a drawing of this width. */
const MOST_MARKS = 400;

/** Readings further apart than these are not of one state of affairs. */
const MOST_DAYS = 7;

/** Rows of the table behind a drawing. */
const MOST_ROWS = 100;

interface PlotProps {
  readonly table: Table;
  readonly display: DisplayPreference;
  readonly point: number;
  /** Null for the point over time. */
  readonly against: number | null;
  /** The days that are looked at. */
  readonly rows: Iterable<number>;
}

/** The drawing, in words too, with the readings behind it. */
export function PlotView({ table, display, point, against, rows }: PlotProps): VNode {
  const all = [...rows];
  const marks = marksOf(table, all, point);
  const name = table.head.points[point] as PointName;
  if (against === null) return <OverTime name={name} marks={marks} display={display} />;
  const other = table.head.points[against] as PointName;
  return <Against x={name} y={other} first={marks} second={marksOf(table, all, against)} display={display} />;
}

function unitFor({ kind, unit }: PointName, display: DisplayPreference): string {
  return preferred(fromSi(kind, { si: 0, siUncertainty: null }, unit), display).unit;
}

function words(si: number, kind: Kind, unit: string): string {
  const printed = printQuantity(fromSi(kind, { si, siUncertainty: null }, unit));
  return printed;
}

function OverTime(props: {
  readonly name: PointName;
  readonly marks: readonly Mark[];
  readonly display: DisplayPreference;
}): VNode {
  const { name, marks, display } = props;
  if (marks.length < 2)
    return (
      <p class="soft">
        Too few readings of {name.title} to draw: {marks.length}.
      </p>
    );
  const unit = unitFor(name, display);
  const drawn = thinned(marks, MOST_MARKS);
  const [first, last] = [marks[0] as Mark, marks.at(-1) as Mark];
  const outside = marks.filter(({ limit }) => limit === 'outside').length;
  const alternative = `${name.title}, ${count(marks.length, 'reading')}: ${words(first.si, name.kind, unit)} on ${dayWords(dateOf(first.day))}, last ${words(last.si, name.kind, unit)} on ${dayWords(dateOf(last.day))}. ${outside === 0 ? 'None' : outside} out of limits.`;
  return (
    <>
      <h3>{name.title} over time</h3>
      <TimelineFigure chart={chartOf(name, drawn, unit, alternative)} />
      <p class="soft">
        All readings of it in the days that are asked for, whatever else is.{' '}
        {drawn.length < marks.length &&
          `Of ${marks.length}, ${drawn.length} are drawn: the first, last, lowest and highest of each stretch, so that no peak is lost.`}
      </p>
      <Behind
        heads={['Date', name.title]}
        rows={[...marks]
          .reverse()
          .map((mark) => [dayWords(dateOf(mark.day)), withSpread(mark, name.kind, unit)])}
      />
    </>
  );
}

function chartOf(name: PointName, marks: readonly Mark[], unit: string, alternative: string): TimelineChart {
  const { kind, title } = name;
  const limits = (['at least', 'at most'] as const).flatMap((side) => {
    const si = side === 'at least' ? name.atLeast : name.atMost;
    return si === null
      ? []
      : [{ side, value: inUnit(si, kind, unit), words: `${side} ${words(si, kind, unit)}` }];
  });
  return {
    title,
    unit,
    marks: marks.map((mark) => ({
      date: dateOf(mark.day),
      value: inUnit(mark.si, kind, unit),
      spread: mark.spread === null ? null : spreadIn(mark.spread, kind, unit),
      limit: mark.limit,
      comparable: mark.comparable,
      asRead: null,
      flagged: false,
    })),
    trend: null,
    limits,
    claims: [],
    alternative,
  };
}

function withSpread({ si, spread }: Mark, kind: Kind, unit: string): string {
  const value = fromSi(kind, { si, siUncertainty: null }, unit);
  if (spread === null) return printQuantity(value);
  return printQuantity({ ...value, uncertainty: spreadIn(spread, kind, unit), siUncertainty: spread });
}

function Against(props: {
  readonly x: PointName;
  readonly y: PointName;
  readonly first: readonly Mark[];
  readonly second: readonly Mark[];
  readonly display: DisplayPreference;
}): VNode {
  const { x, y, first, second, display } = props;
  const paired = pairs(first, second, MOST_DAYS);
  const [xUnit, yUnit] = [unitFor(x, display), unitFor(y, display)];
  const rule = `Each reading of ${x.title} with the one of ${y.title} nearest in time, no more than ${MOST_DAYS} days away (of two as near, the earlier): ${paired.length} of ${first.length} have one.`;
  return (
    <>
      <h3>
        {y.title} against {x.title}
      </h3>
      {paired.length < 2 ? null : (
        <Scatter pairs={paired} x={x} y={y} xUnit={xUnit} yUnit={yUnit} rule={rule} />
      )}
      <p class="soft">{rule}</p>
      {paired.length > 0 && (
        <Behind
          heads={['Date', x.title, y.title, 'Days apart']}
          rows={[...paired]
            .reverse()
            .map((pair) => [
              dayWords(dateOf(pair.x.day)),
              withSpread(pair.x, x.kind, xUnit),
              withSpread(pair.y, y.kind, yUnit),
              String(pair.apart),
            ])}
        />
      )}
    </>
  );
}

const BOX = { width: 360, height: 240, left: 48, right: 348, top: 12, bottom: 200 };

function Scatter(props: {
  readonly pairs: readonly Pair[];
  readonly x: PointName;
  readonly y: PointName;
  readonly xUnit: string;
  readonly yUnit: string;
  readonly rule: string;
}): VNode {
  const { x, y, xUnit, yUnit } = props;
  const dots = evenly(props.pairs, MOST_MARKS).map((pair): [number, number] => [
    inUnit(pair.x.si, x.kind, xUnit),
    inUnit(pair.y.si, y.kind, yUnit),
  ]);
  const across = scaleFor(
    dots.map(([value]) => value),
    [BOX.left, BOX.right],
  );
  const up = scaleFor(
    dots.map(([, value]) => value),
    [BOX.bottom, BOX.top],
  );
  const [acrossTicks, upTicks] = [across.ticks(5), up.ticks(5)];
  return (
    <figure class="chart">
      <svg
        viewBox={`0 0 ${BOX.width} ${BOX.height}`}
        role="img"
        aria-label={`${y.title} against ${x.title}, ${count(dots.length, 'pair')}. ${props.rule}`}
      >
        <g class="axes">
          {upTicks.map((tick, at) => (
            <>
              <path d={`M${BOX.left} ${tenth(up(tick))}H${BOX.right}`} />
              <text x={BOX.left - 6} y={tenth(up(tick)) + 4} text-anchor="end">
                {up.tickFormat(5)(tick)}
                {at === upTicks.length - 1 && yUnit !== '1' ? ` ${yUnit}` : ''}
              </text>
            </>
          ))}
          {acrossTicks.map((tick, at) => (
            <>
              <path class="tick" d={`M${tenth(across(tick))} ${BOX.bottom}v5`} />
              <text x={tenth(across(tick))} y={BOX.bottom + 19} text-anchor="middle">
                {across.tickFormat(5)(tick)}
                {at === acrossTicks.length - 1 && xUnit !== '1' ? ` ${xUnit}` : ''}
              </text>
            </>
          ))}
          <path class="base" d={`M${BOX.left} ${BOX.bottom}H${BOX.right}`} />
          <text x={BOX.right} y={BOX.bottom + 36} text-anchor="end">
            {x.title} →
          </text>
        </g>
        {dots.map(([atX, atY]) => (
          <circle class="mark" cx={tenth(across(atX))} cy={tenth(up(atY))} r="4" />
        ))}
      </svg>
    </figure>
  );
}

function evenly<T>(all: readonly T[], most: number): readonly T[] {
  if (all.length <= most) return all;
  return Array.from({ length: most }, (_, at) => all[Math.floor((at * all.length) / most)] as T);
}

function scaleFor(values: readonly number[], range: [number, number]) {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const room = (high - low) * 0.08 || Math.abs(high) * 0.08 || 1;
  return scaleLinear([low - room, high + room], range);
}

function tenth(value: number): number {
  return Math.round(value * 10) / 10;
}

function Behind({ heads, rows }: { heads: readonly string[]; rows: readonly (readonly string[])[] }): VNode {
  return (
    <details>
      <summary>The numbers behind it</summary>
      <table class="stack">
        <caption class="quiet">The numbers behind the drawing</caption>
        <thead>
          <tr>
            {heads.map((head) => (
              <th scope="col">{head}</th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.slice(0, MOST_ROWS).map(([first, ...rest]) => (
            <tr>
              <th scope="row">{first}</th>
              {rest.map((cell, at) => (
                <td data-l={heads[at + 1]}>{cell}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      {rows.length > MOST_ROWS && (
        <p class="soft">
          The latest {MOST_ROWS} of {rows.length}.
        </p>
      )}
    </details>
  );
}
