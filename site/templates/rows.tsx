import type { ComponentChildren, VNode } from 'preact';
import { anchorOf } from '../../src/reckon/records.js';
import type { EntryRow } from '../../src/render/pages/log.js';
import type { PartDetail, PartRow } from '../../src/render/pages/parts.js';
import type { ResultRow } from '../../src/render/pages/tests.js';
import type { ItemRow } from '../../src/render/pages/work.js';
import type { ReadingRow } from '../../src/render/rows.js';
import type { SpecRow } from '../../src/render/spec-row.js';
import type { Stake } from '../../src/render/stakes.js';
import { count, PLACE_WORD, STATUS_WORD } from '../../src/render/words.js';
import {
  type Column,
  DataTable,
  Day,
  Go,
  JudgedAlone,
  LateTag,
  LimitTag,
  OutcomeTag,
  Ref,
  RefList,
  Refs,
  StandingTag,
  Value,
} from './pieces.js';

/** Tables that more than one page shows. */

/** Which columns a table of readings has beside the value; the rest the page says already. */
export interface ReadingColumns {
  readonly date?: boolean;
  readonly system?: boolean;
  readonly what?: boolean;
}

/** Readings: when (and in which entry), what, how much, inside the limits or not, and how taken. */
export function ReadingTable(props: {
  label: string;
  rows: readonly ReadingRow[];
  show: ReadingColumns;
  /** Whether this is the entry's own page, in which each has a place. */
  anchors?: boolean;
}): VNode {
  const { show } = props;
  const columns: [boolean, Column, (row: ReadingRow) => ComponentChildren][] = [
    [show.date === true, { head: 'Date', kind: 'day' }, entryDay],
    [show.system === true, { head: 'System', kind: 'name' }, (row) => <Ref to={row.system} />],
    [show.what === true, { head: 'What', kind: 'name' }, (row) => <Ref to={row.what} />],
    [true, { head: 'Value', kind: 'value' }, (row) => row.value.text],
    [true, { head: '± known from', kind: 'value' }, (row) => spreadWord(row)],
    [
      true,
      { head: 'Limit', kind: 'value' },
      (row) => (row.limit === null ? '' : <LimitTag limit={row.limit} />),
    ],
    [true, { head: 'How taken', kind: 'text' }, (row) => howTaken(row)],
  ];
  const shown = columns.filter(([wanted]) => wanted);
  return (
    <DataTable
      label={props.label}
      on="scroll"
      columns={shown.map(([, column]) => column)}
      rows={props.rows.map((row, index) => ({
        ...(props.anchors === true ? { id: anchorOf('reading', index) } : {}),
        cells: shown.map(([, , cell]) => cell(row)),
      }))}
    />
  );
}

function entryDay({ entry, date }: ReadingRow): ComponentChildren {
  return (
    <Go to={{ text: date, href: entry }}>
      <Day on={date} />
    </Go>
  );
}

function spreadWord({ value }: ReadingRow): ComponentChildren {
  return value.spread === 'not known' ? <span class="soft">not known</span> : value.spread;
}

function howTaken({ basis, taken, note }: ReadingRow): ComponentChildren {
  const parts = [basis === 'measured' ? null : basis, taken, note].filter((part) => part !== null);
  return parts.join('; ');
}

/** Entries: when, what, which systems, what they hold. */
export function EntryList({ entries }: { entries: readonly EntryRow[] }): VNode {
  return (
    <ol class="entries">
      {entries.map((row) => (
        <li>
          <Day on={row.date} />
          <div>
            <Go to={row.entry} class="entry-title">
              {row.entry.text}
            </Go>
            <p class="soft">
              <span>
                <Refs to={row.systems} />
              </span>
              {row.holds.length > 0 && <span class="holds">{row.holds.join(', ')}</span>}
            </p>
          </div>
        </li>
      ))}
    </ol>
  );
}

/** Open items. */
export function ItemTable({
  label,
  rows,
  done,
  anchors,
}: {
  label: string;
  rows: readonly ItemRow[];
  done?: boolean;
  /** Whether this is the page of the entry that opened them, in which each has a place. */
  anchors?: boolean;
}): VNode {
  const columns: Column[] = [
    { head: 'Work' },
    { head: 'System' },
    { head: done === true ? 'Done' : 'Status', kind: 'value' },
    { head: done === true ? 'Opened' : 'Due', kind: 'day' },
    { head: 'Size', kind: 'value' },
    { head: 'Waits for', kind: 'text' },
  ];
  return (
    <DataTable
      label={label}
      on="stack"
      columns={done === true ? columns.slice(0, 4) : columns}
      rows={rows.map((row, index) => ({
        ...(anchors === true ? { id: anchorOf('item', index) } : {}),
        cells: done === true ? doneCells(row) : openCells(row),
      }))}
    />
  );
}

function openCells(row: ItemRow): ComponentChildren[] {
  return [
    <>
      <Ref to={row.item} />
      {row.marks.map((mark) => (
        <span class="mark-word">{mark}</span>
      ))}
    </>,
    <Ref to={row.system} />,
    row.overdue ? <LateTag word="overdue" /> : STATUS_WORD[row.status],
    row.by === null ? '' : <Day on={row.by} />,
    row.size,
    row.waitsOn.length === 0 ? '' : <RefList to={row.waitsOn} />,
  ];
}

function doneCells(row: ItemRow): ComponentChildren[] {
  return [
    <Ref to={row.item} />,
    <Ref to={row.system} />,
    row.closed === null ? (
      ''
    ) : (
      <Go to={row.closed.entry}>
        <Day on={row.closed.date} />
      </Go>
    ),
    <Go to={row.opened.entry}>
      <Day on={row.opened.date} />
    </Go>,
  ];
}

/** Parts on their way. */
export function OrderTable({ label, rows }: { label: string; rows: readonly PartRow[] }): VNode {
  return (
    <DataTable
      label={label}
      on="stack"
      columns={[
        { head: 'Part' },
        { head: 'System' },
        { head: 'Ordered', kind: 'day' },
        { head: 'Due', kind: 'day' },
        { head: 'From' },
      ]}
      rows={rows.map((row) => ({
        cells: [
          <Ref to={row.part} />,
          <Ref to={row.system} />,
          <Day on={row.since} />,
          <>
            {row.due !== null && <Day on={row.due} />} {row.late && <LateTag word="late" />}
          </>,
          row.supplier,
        ],
      }))}
    />
  );
}

/** Parts wherever they are now, each with all that happened to it. */
export function PartTable(props: { label: string; rows: readonly PartDetail[]; anchors: boolean }): VNode {
  return (
    <DataTable
      label={props.label}
      on="stack"
      columns={[
        { head: 'Part' },
        { head: 'Now', kind: 'value' },
        { head: 'What happened', kind: 'text' },
        { head: 'Lead time', kind: 'value' },
        { head: 'From' },
        { head: 'Cost', kind: 'value' },
      ]}
      rows={props.rows.map((row) => ({
        ...(props.anchors ? { id: row.id } : {}),
        cells: [
          partName(row, props.anchors),
          row.late ? <LateTag word="on order, late" /> : PLACE_WORD[row.now],
          <Moves part={row} />,
          leadTime(row),
          row.supplier,
          row.costs.join(', '),
        ],
      }))}
    />
  );
}

function leadTime({ leadDays, daysLate }: PartDetail): string {
  const late = daysLate === null ? [] : [`${count(daysLate, 'day')} late`];
  return [...(leadDays === null ? [] : [count(leadDays, 'day')]), ...late].join(', ');
}

function partName(part: PartDetail, isHome: boolean): ComponentChildren {
  const { serial, mass, restsOn } = part;
  const facts = [serial === null ? null : `serial ${serial}`, mass].filter((text) => text !== null);
  return (
    <>
      {isHome ? part.part.text : <Ref to={part.part} />}
      {part.quantity !== null && part.quantity > 1 && <small> × {part.quantity}</small>}
      {facts.length > 0 && <small class="line">{facts.join(', ')}</small>}
      {restsOn.length > 0 && (
        <small class="line">
          rests on <Refs to={restsOn} />
        </small>
      )}
    </>
  );
}

function Moves({ part }: { part: PartDetail }): VNode {
  return (
    <ol class="moves">
      {part.moves.map(({ move, date, entry, note }) => (
        <li>
          {move}{' '}
          <Go to={entry}>
            <Day on={date} />
          </Go>
          {note !== null && <small> {note}</small>}
        </li>
      ))}
    </ol>
  );
}

/** Specs: how they stand, what is stated and on what basis, and what was found. */
export function SpecTable(props: {
  label: string;
  rows: readonly (SpecRow & { readonly stake?: Stake | null; readonly next?: string })[];
  system?: boolean;
  stake?: boolean;
  next?: boolean;
}): VNode {
  const columns: [boolean, Column, (row: (typeof props.rows)[number]) => ComponentChildren][] = [
    [true, { head: 'Spec' }, (row) => specName(row, props.next === true)],
    [props.system === true, { head: 'System' }, (row) => <Ref to={row.system} />],
    [true, { head: 'Standing', kind: 'value' }, (row) => <StandingTag standing={row.standing} />],
    [true, { head: 'Stated' }, stated],
    [true, { head: 'Found' }, found],
    [props.stake === true, { head: 'Rests on it' }, (row) => <StakeWords stake={row.stake ?? null} />],
    [props.next === true, { head: 'Next', kind: 'text' }, (row) => row.next],
  ];
  const shown = columns.filter(([wanted]) => wanted);
  return (
    <DataTable
      label={props.label}
      on="stack"
      columns={shown.map(([, column]) => column)}
      rows={props.rows.map((row) => ({ cells: shown.map(([, , cell]) => cell(row)) }))}
    />
  );
}

/** Where there is no column for the system, its name stands below that of the spec. */
function specName({ spec, system }: SpecRow, withSystem: boolean): ComponentChildren {
  return (
    <>
      <Ref to={spec} />
      {withSystem && (
        <small class="line">
          <Ref to={system} />
        </small>
      )}
    </>
  );
}

function stated(row: SpecRow): ComponentChildren {
  return (
    <>
      <span class="value">{row.stated}</span>
      {row.band !== null && <small> {row.band}</small>}
      <small class="line">
        {row.basis}
        {row.source !== null && `, ${row.source}`}
      </small>
    </>
  );
}

function found({ found: piece, needs, caveat }: SpecRow): ComponentChildren {
  if (piece === null) return <small class="line">nothing yet; needs to be {needs}</small>;
  return (
    <>
      <span class="value">{piece.value.text}</span>
      <small class="line">
        {piece.basis},{' '}
        <Go to={piece.entry}>
          <Day on={piece.date} />
        </Go>
      </small>
      {caveat !== null && <small class="line">{caveat}</small>}
    </>
  );
}

/** How much rests on a spec: money and hours, and what that is in. */
export function StakeWords({ stake }: { stake: Stake | null }): VNode {
  if (stake === null || (stake.kinds.length === 0 && stake.money.length === 0 && stake.hours === null))
    return <span class="soft">nothing</span>;
  const amounts = [...stake.money, ...(stake.hours === null ? [] : [stake.hours])];
  return (
    <>
      {amounts.map((amount) => (
        <span class="stake">{amount}</span>
      ))}
      <small class="line">{stake.kinds.join(', ')}</small>
    </>
  );
}

/** Runs of tests in short. */
export function ResultTable({ label, rows }: { label: string; rows: readonly ResultRow[] }): VNode {
  return (
    <DataTable
      label={label}
      on="stack"
      columns={[
        { head: 'Test' },
        { head: 'System' },
        { head: 'Outcome', kind: 'value' },
        { head: 'Done', kind: 'day' },
        { head: 'Read', kind: 'text' },
      ]}
      rows={rows.map((row) => ({
        cells: [
          <Ref to={row.test} />,
          <Ref to={row.system} />,
          <OutcomeTag outcome={row.outcome} />,
          <Go to={row.entry}>
            <Day on={row.date} />
          </Go>,
          requirementWords(row),
        ],
      }))}
    />
  );
}

/** What was read in a test: all of it, or only what did not pass. */
function requirementWords({ requirements, outcome }: ResultRow): string {
  return requirements
    .filter((requirement) => outcome === 'pass' || requirement.outcome !== 'pass')
    .map(({ name, value, required }) => `${name} ${value?.text ?? 'not read'} (${required})`)
    .join('; ');
}

/** How a test came out, and whether that was judged on values alone. */
export function ResultTag({ result: { outcome, requirements } }: { result: ResultRow }): VNode {
  return (
    <>
      <OutcomeTag outcome={outcome} />
      <JudgedAlone on={requirements.map(({ value }) => value)} />
    </>
  );
}

/** One run of a test in full. */
export function ResultDetail({ result }: { result: ResultRow }): VNode {
  return (
    <div class="result">
      <p class="result-line">
        <ResultTag result={result} /> <Ref to={result.test} />
        {result.taken !== null && <span class="soft"> {result.taken}</span>}
      </p>
      <DataTable
        label={`What was read: ${result.test.text}, ${result.date}`}
        on="stack"
        columns={[
          { head: 'Reading' },
          { head: 'Required', kind: 'value' },
          { head: 'Read', kind: 'value' },
          { head: 'Outcome', kind: 'value' },
        ]}
        rows={result.requirements.map((requirement) => ({
          cells: [
            requirement.name,
            requirement.required,
            requirement.value === null ? 'not read' : <Value value={requirement.value} />,
            <OutcomeTag outcome={requirement.outcome} />,
          ],
        }))}
      />
      {result.note !== null && <p class="note">{result.note}</p>}
    </div>
  );
}
