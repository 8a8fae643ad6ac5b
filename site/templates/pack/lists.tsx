import type { VNode } from 'preact';
import type { DueRow } from '../../../src/render/due-row.js';
import type { ChangesView } from '../../../src/render/pack/changes.js';
import type { RestingRow } from '../../../src/render/pack/resting.js';
import { countAll, type UnknownView } from '../../../src/render/pack/unknown.js';
import type { PackView } from '../../../src/render/pack/view.js';
import type { DriftRow, DriftView } from '../../../src/render/pages/drift.js';
import type { FindingRow, GroundRow } from '../../../src/render/pages/findings.js';
import type { SpecRow } from '../../../src/render/spec-row.js';
import { capital, count, dayWords } from '../../../src/render/words.js';
import { Ref, Refs, StandingTag, Value } from '../pieces.js';
import { PackTable } from './table.js';

/** What is wrong, claimed, unknown, due and changed. */

/** The findings by their grade, and the rules. */
export function FindingLists({ view }: { view: PackView }): VNode {
  const { groups, rules, total } = view.findings;
  return (
    <>
      <p>
        {total === 0
          ? 'The record shows nothing to be wrong.'
          : `${count(total, 'finding')}, computed from the entries by the rules at the end of this part. Facts about the same thing are one finding, with the highest of their grades. What nobody has looked at cannot be in this list.`}
      </p>
      {groups.map(({ word, rows }) => (
        <PackTable
          caption={capital(word)}
          columns={[{ head: 'Finding' }, { head: 'System' }, { head: 'Evidence' }]}
          rows={rows.map((row) => ({
            cells: [row.what.text, <Ref to={row.system} />, <Evidence row={row} />],
          }))}
        />
      ))}
      <PackTable
        caption="Rules by which findings are graded"
        columns={[{ head: 'Listed is' }, { head: 'Grade' }]}
        rows={rules.map(({ lists, grade }) => ({ cells: [capital(lists), grade] }))}
      />
      <p class="note">
        Dangers in use are those of mains, batteries, fuel, gas and exhaust, of flooding, and of steering or a
        rig that fails, which a system, a test or upkeep names. The rules are this record's own and no
        standard's.
      </p>
    </>
  );
}

function Evidence({ row }: { row: FindingRow }): VNode {
  return (
    <>
      <p>
        <strong>{row.why}.</strong> {row.says} <EntryOf ground={row} />
      </p>
      {row.also.map((ground) => (
        <p>
          Also {ground.what.text}: {ground.why.toLowerCase()}. {ground.says} <EntryOf ground={ground} />
        </p>
      ))}
      {row.fitted.map((words) => (
        <p>{words}</p>
      ))}
    </>
  );
}

function EntryOf({ ground }: { ground: GroundRow }): VNode | null {
  if (ground.entry === null) return null;
  return (
    <span class="entry">
      Entry <Ref to={ground.entry} />.
    </span>
  );
}

/** Specs that nobody has checked, or not lately. */
export function Claimed({ rows }: { rows: readonly SpecRow[] }): VNode {
  if (rows.length === 0) return <p>Nothing: every spec has been held against evidence and stands.</p>;
  return (
    <>
      <p>
        These are said by somebody and no more, or were checked too long ago. None of them should be relied on
        until it is checked at the basis that it needs.
      </p>
      <PackTable
        caption="Claimed and not checked, or not lately"
        columns={[
          { head: 'Spec' },
          { head: 'System' },
          { head: 'Claimed' },
          { head: 'By whom' },
          { head: 'Standing' },
        ]}
        rows={rows.map((row) => ({
          cells: [
            <Ref to={row.spec} />,
            <Ref to={row.system} />,
            <span class="value">
              {row.stated}
              {row.band !== null && <small> {row.band}</small>}
            </span>,
            row.source ?? row.basis,
            <>
              <StandingTag standing={row.standing} /> <small>{row.because}</small>
            </>,
          ],
        }))}
      />
    </>
  );
}

/** What a claim would take with it that falls. */
export function Resting({ rows }: { rows: readonly RestingRow[] }): VNode {
  if (rows.length === 0) return <p>Nothing on record rests on a spec that is not verified.</p>;
  return (
    <>
      <p>
        Parts were bought, work was done and decisions were made on the word of the following specs, none of
        which is verified. Those are first on which most hangs. Where a spec is contradicted, what rests on it
        has to be looked at again.
      </p>
      <PackTable
        caption="What rests on specs that are not verified"
        columns={[{ head: 'Spec' }, { head: 'Stated, and found' }, { head: 'Rests on it' }, { head: 'Next' }]}
        high
        rows={rows.map((row) => ({
          cells: [
            <>
              <Ref to={row.spec} /> <small>{row.system.text}</small>
            </>,
            <>
              {row.stated}
              {row.band !== null && <small> {row.band}</small>}
              {row.found !== null && <>; found {row.found}</>} <StandingTag standing={row.standing} />
            </>,
            <>
              {row.dependents.map(({ sort, what, facts }) => (
                <p>
                  <Ref to={what} />{' '}
                  <small>{[sort, ...facts].filter((part) => part !== null).join(', ')}</small>
                </p>
              ))}
              {row.stake.length > 0 && <p>In all {row.stake.join(', ')}.</p>}
            </>,
            row.next,
          ],
        }))}
      />
    </>
  );
}

/** What was never read, said, tested or done. */
export function NotLookedAt({ unknown }: { unknown: UnknownView }): VNode {
  const { unread, unspoken, untested, neverDone, undecided, undecidedTests } = unknown;
  const groups = [
    ['Points of which no reading is on record, or none since it was exchanged', unread],
    ['Tests that were never done', untested],
    ['Upkeep that was never done', neverDone],
  ] as const;
  return (
    <>
      <p>
        What a record does not say is easily taken for sound. Nobody has looked at the following, or at least
        nobody has written it down. The systems list only what the owner has thought of: what is not named
        there at all is unknown too.
      </p>
      {countAll(unspoken) > 0 && (
        <p>
          Of {count(countAll(unspoken), 'spec')} no entry speaks at all; they stand among those that are only
          claimed.
        </p>
      )}
      {groups.map(([caption, found]) => (
        <PackTable
          caption={`${caption}: ${countAll(found)}`}
          columns={[{ head: 'System' }, { head: 'What' }]}
          rows={found.map(({ system, what }) => ({ cells: [<Ref to={system} />, <Refs to={what} />] }))}
        />
      ))}
      <PackTable
        caption="Looked at, and undecided: the uncertainty reaches across the limit"
        columns={[{ head: 'What' }, { head: 'System' }, { head: 'Stated' }, { head: 'Found' }]}
        rows={undecided.map((row) => ({
          cells: [
            <Ref to={row.spec} />,
            <Ref to={row.system} />,
            <>
              {row.stated}
              {row.band !== null && <small> {row.band}</small>}
            </>,
            row.found === null ? (
              ''
            ) : (
              <>
                <Value value={row.found.value} />
                {row.caveat !== null && <small class="line">{row.caveat}</small>}
              </>
            ),
          ],
        }))}
      />
      <PackTable
        caption="Last readings that cannot be told from their limit"
        columns={[
          { head: 'Point' },
          { head: 'System' },
          { head: 'Read' },
          { head: 'Limit' },
          { head: 'Day' },
        ]}
        rows={unknown.undecidedPoints.map((row) => ({
          cells: [<Ref to={row.point} />, <Ref to={row.system} />, row.value, row.limits, dayWords(row.date)],
        }))}
      />
      <PackTable
        caption="Tests that came out undecided when last done"
        columns={[{ head: 'Test' }, { head: 'Day' }, { head: 'Entry', kind: 'narrow' }]}
        rows={undecidedTests.map(({ test, date, entry }) => ({
          cells: [<Ref to={test} />, dayWords(date), <Ref to={entry} />],
        }))}
      />
      <p>
        Of {count(unknown.readings, 'reading')} the uncertainty of {unknown.unsure} is not known: neither was
        one written down nor has the instrument an accuracy on record. They are shown with “± not known”.
      </p>
    </>
  );
}

/** What goes towards a limit, as far as the readings can show it. */
export function Drifts({ drift }: { drift: DriftView }): VNode {
  const { past, reaching, odd, drifting, read, tooFew } = drift;
  const table = (caption: string, rows: readonly DriftRow[]) => (
    <PackTable
      caption={caption}
      columns={[
        { head: 'Point' },
        { head: 'System' },
        { head: 'Last read' },
        { head: 'Day', kind: 'narrow' },
        { head: 'What can be said' },
        { head: 'Entry', kind: 'narrow' },
      ]}
      rows={rows.map(({ point, system, last, sentence }) => ({
        cells: [
          <Ref to={point} />,
          <Ref to={system} />,
          <Value value={last.value} />,
          dayWords(last.date),
          sentence,
          <Ref to={last.entry} />,
        ],
      }))}
    />
  );
  return (
    <>
      <p>
        Like is compared with like, and a drift is told only where chance would hardly make it: on at least
        four days with comparable readings. Of {count(read, 'point')} that are read {tooFew} have fewer, so
        that nothing is said of them. A trend goes on only as long as what makes it does.
      </p>
      {past.length + reaching.length === 0 && (
        <p>Nothing that can be told from the readings nears a limit.</p>
      )}
      {table('Past its limit, by the trend', past)}
      {table('On its way to a limit, the soonest first', reaching)}
      {table('The last reading is not what those before it led to expect', odd)}
      {drifting.length > 0 && (
        <p>
          {capital(count(drifting.length, 'more point drifts', 'more points drift'))} and{' '}
          {drifting.length === 1 ? 'reaches' : 'reach'} no limit within 5 years:{' '}
          {drifting.map(({ point }, index) => (
            <>
              {index > 0 && '; '}
              <Ref to={point} />
            </>
          ))}
          .
        </p>
      )}
    </>
  );
}

/** What is overdue and comes due. */
export function DueLists({ due }: { due: readonly DueRow[] }): VNode {
  const overdue = due.filter((row) => row.overdue);
  const later = due.filter((row) => !row.overdue);
  const table = (caption: string, rows: readonly DueRow[]) => (
    <PackTable
      caption={`${caption}: ${rows.length}`}
      columns={[{ head: 'What' }, { head: 'System' }, { head: 'Due', kind: 'narrow' }, { head: 'Why' }]}
      rows={rows.map((row) => ({
        cells: [
          <>
            {row.what.text}
            {row.safety && <strong class="mark"> safety</strong>}
          </>,
          row.system === null ? '' : <Ref to={row.system} />,
          row.on === null ? row.when : `${dayWords(row.on)}${row.overdue ? '' : `, ${row.when}`}`,
          row.because,
        ],
      }))}
    />
  );
  return (
    <>
      <p>
        Upkeep by hours and by calendar, checks and tests that lapse, open work with a day, parts on order and
        instruments to be compared. What was done, and when, stands with each system.
      </p>
      {overdue.length === 0 ? <p>Nothing is overdue.</p> : table('Overdue', overdue)}
      {table('To come', later)}
    </>
  );
}

/** What is otherwise than a year before. */
export function Changes({ changes }: { changes: ChangesView }): VNode {
  const { since, entries, moved, fitted, removed, found, settled, opened, closed } = changes;
  const parts = [
    ...fitted.map((row) => ({ ...row, move: 'fitted' })),
    ...removed.map((row) => ({ ...row, move: 'removed' })),
  ].sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
  return (
    <>
      <p>
        Since {dayWords(since)} there were {count(entries, 'entry', 'entries')}; {count(opened, 'job')} opened
        and {closed} closed.
      </p>
      <PackTable
        caption="Specs that stand otherwise than a year before"
        columns={[{ head: 'Spec' }, { head: 'Then' }, { head: 'Now' }]}
        rows={moved.map(({ spec, from, to }) => ({
          cells: [
            <Ref to={spec} />,
            from === null ? 'not stated' : <StandingTag standing={from} />,
            <StandingTag standing={to} />,
          ],
        }))}
      />
      <PackTable
        caption="Parts fitted and removed"
        columns={[
          { head: 'Part' },
          { head: 'Day', kind: 'narrow' },
          { head: 'Move' },
          { head: 'Entry', kind: 'narrow' },
        ]}
        rows={parts.map(({ part, date, move, entry }) => ({
          cells: [<Ref to={part} />, dayWords(date), move, <Ref to={entry} />],
        }))}
      />
      <Titles lead="New among the findings" titles={found} />
      <Titles lead="Settled since" titles={settled} />
    </>
  );
}

function Titles({ lead, titles }: { lead: string; titles: readonly string[] }): VNode | null {
  if (titles.length === 0) return null;
  return (
    <p>
      <strong>{lead}:</strong> {titles.join('; ')}.
    </p>
  );
}
