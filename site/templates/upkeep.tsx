import type { ComponentChildren, VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { UpkeepRow, UpkeepView } from '../../src/render/pages/upkeep.js';
import { count } from '../../src/render/words.js';
import { Cautions } from './cautions.js';
import { DueTable } from './due.js';
import { DataTable, Day, Go, LateTag, Leaf, Masthead, Ref, Refs } from './pieces.js';

/** All upkeep: overdue, soon, later; then what else lapses, and the cautions. */
export function Upkeep({ view }: TemplateProps<UpkeepView>): VNode {
  const total = view.overdue.length + view.soon.length + view.later.length + view.unknown.length;
  const groups = [
    ['Overdue', 'overdue', view.overdue],
    ['Next 60 days', 'soon', view.soon],
    ['Later', 'later', view.later],
    ['No day known', 'unknown', view.unknown],
  ] as const;
  return (
    <>
      <Masthead kind={<p>{count(total, 'kind')} of upkeep</p>} title="Upkeep">
        <p class="soft">
          Work that comes back by the calendar, by running hours, or by whichever is first. Days that hang on
          hours are a forecast from the meter’s recent rate while in use.
        </p>
      </Masthead>
      {groups.map(
        ([heading, id, rows]) =>
          rows.length > 0 && (
            <Leaf heading={heading} id={id} note={rows.length}>
              <UpkeepTable label={`Upkeep: ${heading.toLowerCase()}`} rows={rows} system anchors />
            </Leaf>
          ),
      )}
      {view.checks.length > 0 && (
        <Leaf heading="Checks that lapse" id="checks" note="of specs, tests and instruments">
          <DueTable label="Checks that lapse" rows={view.checks} />
        </Leaf>
      )}
      {view.cautions.length > 0 && <Cautions cautions={view.cautions} />}
    </>
  );
}

/** Upkeep as a table: when it is due by either way, and when it was done last. */
export function UpkeepTable(props: {
  label: string;
  rows: readonly UpkeepRow[];
  system?: boolean;
  anchors?: boolean;
}): VNode {
  return (
    <DataTable
      label={props.label}
      on="stack"
      look="upkeep"
      columns={[
        { head: 'Work' },
        { head: 'Every' },
        { head: 'Due by date', kind: 'value' },
        { head: 'Due by hours', kind: 'text' },
        { head: 'Last done' },
      ]}
      rows={props.rows.map((row) => ({
        ...(props.anchors === true ? { id: row.ref } : {}),
        cells: [
          workCell(row, props.system === true),
          row.every,
          dateCell(row),
          hoursCell(row),
          doneCell(row),
        ],
      }))}
    />
  );
}

function workCell(row: UpkeepRow, isHome: boolean): ComponentChildren {
  return (
    <>
      {isHome ? row.what.text : <Ref to={row.what} />}
      {row.safety && <span class="mark-word">safety</span>}
      {isHome && (
        <small class="line">
          <Ref to={row.system} />
        </small>
      )}
      {isHome && row.hazards.length > 0 && (
        <small class="line">
          cautions: <Refs to={row.hazards} />
        </small>
      )}
    </>
  );
}

function dateCell({ byDate, first }: UpkeepRow): ComponentChildren {
  if (byDate === null) return '';
  const over = byDate.inDays < 0;
  const days = count(Math.abs(byDate.inDays), 'day');
  return (
    <>
      <span class={first === 'date' ? 'first' : undefined}>
        <Day on={byDate.on} />
      </span>
      <small class="line">{over ? <LateTag word={`${days} over`} /> : `in ${days}`}</small>
    </>
  );
}

function hoursCell({ byHours, first }: UpkeepRow): ComponentChildren {
  if (byHours === null) return '';
  return (
    <>
      {byHours.overdue ? (
        <LateTag word={byHours.left} />
      ) : (
        <span class={first === 'hours' ? 'first' : undefined}>{byHours.left}</span>
      )}
      <small class="line">{byHours.at}</small>
      {byHours.expected !== null && <small class="line">{byHours.expected}</small>}
    </>
  );
}

function doneCell({ done, counts, kept }: UpkeepRow): ComponentChildren {
  const last = done[0];
  if (last === undefined)
    return (
      <>
        <span class="soft">never on record</span>
        {counts !== null && <small class="line">{counts}</small>}
      </>
    );
  return (
    <>
      <Go to={last.entry}>
        <Day on={last.date} />
      </Go>
      {last.late !== null && <small class="line">{last.late}</small>}
      {kept !== null && <small class="line">{kept}</small>}
    </>
  );
}
