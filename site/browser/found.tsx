import { type ComponentChildren, render, type VNode } from 'preact';
import {
  addressOf,
  countsBySort,
  type FindState,
  type Found,
  leftOut,
  type Order,
  type Plan,
  type Table,
  type Units,
} from '../../src/find/index.js';
import type { DisplayPreference } from '../../src/quantity/index.js';
import { PlotView } from './plot.js';
import { Pager, ResultsTable } from './results.js';
import { rowOf } from './rows.js';

/** Everything below the search box: how the query was read, what was found, and the drawing. */

export const PAGE_ROWS = 50;

/** What is shown, and what its controls do. */
export interface FoundProps {
  readonly table: Table;
  readonly state: FindState;
  readonly plan: Plan;
  readonly found: Found;
  /** How many there are, in words. */
  readonly words: string;
  /** The page that is shown, of how many, and its rows. */
  readonly page: number;
  readonly pages: number;
  readonly rows: readonly number[];
  /** Why there is nothing; empty where there is something. */
  readonly why: readonly string[];
  readonly root: string;
  /** Points that can be drawn, with the number of their readings: those of what was found first. */
  readonly points: readonly (readonly [place: number, readings: number])[];
  readonly change: (part: Partial<FindState>) => void;
  readonly clear: () => void;
}

/** Puts it on the page. */
export function showFound(box: HTMLElement, props: FoundProps): void {
  render(<FoundView {...props} />, box);
}

/** How many there are, in words; the same for the eye and the ear. */
export function countWords(table: Table, { rows }: Found): string {
  const all = rows.length === 0 ? 'Nothing found' : countsBySort(table, rows).join(', ');
  const loaded =
    table.rows < table.head.records ? `, ${table.rows} of ${table.head.records} records searched so far` : '';
  return `${all}${loaded}`;
}

/** The units to show in: those asked for, else the book's own. */
export function displayOf(table: Table, units: Units): DisplayPreference {
  return units === null ? table.head.display : { system: units };
}

function FoundView(props: FoundProps): VNode {
  const { table, state, found, page, pages, rows, root } = props;
  const display = displayOf(table, state.units);
  return (
    <section class="leaf" aria-labelledby="found-heading">
      <div class="margin">
        <h2 id="found-heading" tabIndex={-1}>
          Found
        </h2>
        <p id="filter-count" class="margin-note">
          {props.words}
        </p>
        <p class="margin-note">
          <button type="button" class="find-plain" onClick={props.clear}>
            Clear the search
          </button>
        </p>
      </div>
      <div class="body">
        <Understood {...props} />
        {found.rows.length > 0 && <Bar {...props} />}
        <Plot {...props} display={display} />
        {rows.length > 0 && (
          <ResultsTable
            rows={rows.map((row) => rowOf(table, row, display, root))}
            sorting={state.sorting}
            sort={(by) => props.change({ sorting: turned(by, state.sorting), page: 1 })}
          />
        )}
        {pages > 1 && <Pager page={page} pages={pages} hrefOf={(to) => addressOf({ ...state, page: to })} />}
      </div>
    </section>
  );
}

/** A column that was sorted by is turned round, and after that the best come first again. */
function turned(by: Order, now: FindState['sorting']): FindState['sorting'] {
  const first = by === 'date';
  if (now.by !== by) return { by, descending: first };
  return now.descending === first ? { by, descending: !first } : { by: 'best', descending: false };
}

/** How the query was read, what slips were mended, and what lies close to a limit. */
function Understood({ plan, found, why }: FoundProps): VNode {
  const words = plan.words.map(({ written }) => `“${written}”`);
  const limits = plan.limits.map((limit) => limit.words);
  const out = leftOut(found);
  return (
    <div class="find-read">
      <p class="soft">Asked for: {[...words, ...limits].join(' · ')}</p>
      {out !== null && <p>{quoted(out)}</p>}
      {found.slips
        .filter(({ as }) => as.length > 0)
        .map(({ word, as }) => (
          <p>
            “{word}” is nowhere; taken for <strong>{as.join(', ')}</strong>.
          </p>
        ))}
      {found.near !== null && <Near near={found.near} />}
      {why.map((sentence) => (
        <p>{quoted(sentence)}</p>
      ))}
    </div>
  );
}

/** A sentence with what stands in backticks set as code. */
function quoted(sentence: string): ComponentChildren {
  return sentence.split('`').map((part, at) => (at % 2 === 0 ? part : <code>{part}</code>));
}

function Near({ near: { inside, outside } }: { near: NonNullable<Found['near']> }): ComponentChildren {
  if (inside + outside === 0) return null;
  const are = (number: number) => `${number} ${number === 1 ? 'is' : 'are'}`;
  return (
    <p class="soft">
      By the values as read. Within its ± each may lie on either side of the limit: {are(inside)} among these,{' '}
      {are(outside)} left out.
    </p>
  );
}

const UNITS: readonly (readonly [Units & string, string])[] = [
  ['as-written', 'as written'],
  ['metric', 'metric'],
  ['us', 'US customary'],
];

function Bar({ table, state, points, change }: FoundProps): VNode {
  const units = state.units ?? table.head.display.system;
  const place = (ref: string | null | undefined) => table.head.points.findIndex((point) => point.ref === ref);
  return (
    <div class="find-bar find">
      <fieldset>
        <legend>Units</legend>
        {UNITS.map(([value, words]) => (
          <label>
            <input
              type="radio"
              name="units"
              value={value}
              checked={units === value}
              onChange={() => change({ units: value })}
            />
            {words}
          </label>
        ))}
      </fieldset>
      <PointChoice
        label="Draw"
        none="nothing"
        table={table}
        points={points}
        chosen={place(state.plot?.point)}
        choose={(ref) =>
          change({ plot: ref === null ? null : { point: ref, against: state.plot?.against ?? null } })
        }
      />
      {state.plot !== null && (
        <PointChoice
          label="against"
          none="time"
          table={table}
          points={points}
          chosen={place(state.plot.against)}
          choose={(ref) => change({ plot: { point: state.plot?.point ?? '', against: ref } })}
        />
      )}
    </div>
  );
}

function PointChoice(props: {
  readonly label: string;
  readonly none: string;
  readonly table: Table;
  readonly points: FoundProps['points'];
  readonly chosen: number;
  readonly choose: (ref: string | null) => void;
}): VNode {
  const { table, points, chosen, choose } = props;
  const { head } = table;
  const systems = new Map(head.systems.map(({ id, title }) => [id, title]));
  const id = `find-draw-${props.none}`;
  const all =
    points.some(([place]) => place === chosen) || chosen < 0 ? points : [[chosen, 0] as const, ...points];
  return (
    <div>
      <label class="label" for={id}>
        {props.label}
      </label>
      <select
        id={id}
        value={chosen < 0 ? '' : String(chosen)}
        onChange={({ currentTarget }) =>
          choose(head.points[Number(currentTarget.value || Number.NaN)]?.ref ?? null)
        }
      >
        <option value="">{props.none}</option>
        {all.map(([place, readings]) => {
          const point = head.points[place];
          const system = systems.get(point?.ref.slice(0, point.ref.indexOf('.')) ?? '') ?? '';
          return (
            <option value={String(place)}>
              {point?.title}, {system}
              {readings > 0 && ` (${readings})`}
            </option>
          );
        })}
      </select>
    </div>
  );
}

function Plot({
  table,
  state,
  plan,
  display,
}: FoundProps & { readonly display: DisplayPreference }): ComponentChildren {
  const { plot } = state;
  if (plot === null) return null;
  const place = (ref: string | null) => table.head.points.findIndex((point) => point.ref === ref);
  const point = place(plot.point);
  if (point < 0) return <p>There is no point “{plot.point}” to draw.</p>;
  const against = place(plot.against);
  return (
    <div class="find-plot">
      <PlotView
        table={table}
        display={display}
        point={point}
        against={against < 0 ? null : against}
        rows={rowsInDays(table, plan)}
      />
    </div>
  );
}

/** Rows in the days that are asked for, whatever else is: a line through what a word leaves would be none. */
function* rowsInDays(table: Table, { limits }: Plan): Iterable<number> {
  const tests = limits.filter(({ isDays }) => isDays).map(({ test }) => test(table));
  for (let row = 0; row < table.rows; row++) if (tests.every((test) => test(row))) yield row;
}
