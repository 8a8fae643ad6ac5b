import type { VNode } from 'preact';
import type { EvidenceLine, SpecEntry } from '../../../src/render/pack/spec-entry.js';
import type { PackPoint, PackSystem } from '../../../src/render/pack/system.js';
import type { TestDetail } from '../../../src/render/pages/tests.js';
import type { ShownValue } from '../../../src/render/values.js';
import { capital, count, dayWords, lower, PLACE_WORD } from '../../../src/render/words.js';
import { TimelineFigure } from '../charts.js';
import { HoldingTag } from '../decisions.js';
import { LimitTag, OutcomeTag, Prose, Ref, Refs, StandingTag, Value } from '../pieces.js';
import { SeriesFigure } from '../series.js';
import { PackTable } from './table.js';

/** One system, on pages of its own. */
export function SystemPart(props: {
  system: PackSystem;
  number: string;
  html: string;
  /** The heading of all systems, before the first. */
  before: VNode | null;
}): VNode {
  const { system, number, html, before } = props;
  const facts = [
    system.group,
    system.inService === null ? null : `in service since ${dayWords(system.inService)}`,
    system.hours === null ? null : `${system.hours} of work`,
    count(system.history.length, 'entry', 'entries'),
  ].filter((fact) => fact !== null);
  return (
    <section class={`system ${system.named}`}>
      {before}
      <h3 id={system.place}>
        <span class="number">{number}</span> {system.title}
      </h3>
      <p class="facts-line">{facts.join(' · ')}</p>
      {system.standings.length > 0 && (
        <p class="tally">
          {system.standings.map(([standing, times]) => (
            <span>
              {times} <StandingTag standing={standing} />{' '}
            </span>
          ))}
        </p>
      )}
      {html !== '' && <Prose html={html} />}
      <Specs system={system} />
      {before !== null && system.specs.length > 0 && <Key />}
      <Readings system={system} />
      <Figures system={system} />
      {system.tests.map((test) => (
        <Test test={test} />
      ))}
      <Decisions system={system} />
      <Parts system={system} />
      <Upkeep system={system} />
      <Work system={system} />
      <Photos system={system} />
      <History system={system} />
    </section>
  );
}

/** The words of the first table, for a reader who begins here. */
function Key(): VNode {
  return (
    <p class="note">
      A spec is something stated that may be true or not. Told, printed, marked, measured, witnessed: how
      somebody knows it, from the weakest to the strongest. Its standing is what the evidence makes of it
      today: verified, contradicted (the evidence counts instead), undecided (the ± reaches across the limit),
      lapsed (found true once, too long ago), unverified (not checked well enough yet).
    </p>
  );
}

function Specs({ system }: { system: PackSystem }): VNode | null {
  return (
    <PackTable
      caption={`What is stated of it, and the evidence: ${lower(system.title)}`}
      columns={[{ head: 'Spec' }, { head: 'Stated' }, { head: 'Standing' }, { head: 'Evidence' }]}
      rows={system.specs.map((spec) => ({
        id: spec.id,
        cells: [
          spec.spec.text,
          <Stated spec={spec} />,
          <>
            <StandingTag standing={spec.standing} />
            {spec.caveat !== null && <small class="line">{spec.caveat}</small>}
            {spec.holds !== null && <small class="line">count on {spec.holds} instead</small>}
            {spec.lapsesOn !== null && (
              <small class="line">
                {spec.standing === 'lapsed' ? 'lapsed on' : 'until'} {dayWords(spec.lapsesOn)}
              </small>
            )}
          </>,
          <Proof spec={spec} />,
        ],
      }))}
    />
  );
}

function Stated({ spec }: { spec: SpecEntry }): VNode {
  return (
    <>
      <span class="value">{spec.stated}</span>
      {spec.band !== null && <small> {spec.band}</small>}
      <small class="line">
        {spec.source === null ? spec.basis : `${spec.basis}: ${spec.source}`}
        {spec.since !== null && `, ${dayWords(spec.since)}`}
      </small>
    </>
  );
}

const AGREES: Readonly<Record<EvidenceLine['agreement'], string>> = {
  conforms: 'agrees',
  'does-not-conform': 'does not agree',
  undecided: 'undecided',
};

function Proof({ spec }: { spec: SpecEntry }): VNode {
  if (spec.evidence.length === 0) return <span>none; needs {spec.needs}</span>;
  return (
    <>
      {spec.evidence.map((piece, index) => (
        <p class={index === 0 ? undefined : 'older'}>
          <Value value={piece.value} />, {piece.basis} on {dayWords(piece.date)}
          {piece.how !== null && <>, {piece.how}</>}: {AGREES[piece.agreement]}.{' '}
          <span class="entry">
            Entry <Ref to={piece.entry} />.
          </span>
          {piece.note !== null && <small> {capital(piece.note)}.</small>}
        </p>
      ))}
      {spec.more > 0 && <p class="older">And {spec.more} older.</p>}
      {spec.standing !== 'verified' && spec.standing !== 'contradicted' && <small>Needs {spec.needs}.</small>}
    </>
  );
}

function Readings({ system }: { system: PackSystem }): VNode {
  return (
    <>
      <PackTable
        caption={`What is measured: last readings, ${lower(system.title)}`}
        columns={[
          { head: 'Point' },
          { head: 'Limits' },
          { head: 'Last reading' },
          { head: 'Day', kind: 'narrow' },
          { head: 'How' },
          { head: 'Readings', kind: 'narrow' },
          { head: 'Entry', kind: 'narrow' },
        ]}
        rows={system.points.map((point) => ({ id: point.place, cells: pointCells(point) }))}
      />
      <PackTable
        caption="Worked out from it"
        columns={[{ head: 'Value' }, { head: 'From' }, { head: 'Comes to' }, { head: 'Rests on' }]}
        rows={system.derived.map((row) => ({
          cells: [
            row.title,
            <code>{row.from}</code>,
            row.value === null ? 'cannot say' : <Value value={row.value} />,
            <RestsOn on={row.restsOn} />,
          ],
        }))}
      />
    </>
  );
}

function pointCells({ view, how, entry }: PackPoint): (VNode | string | null)[] {
  const { last } = view;
  return [
    view.title,
    <Limits limits={view.limits} />,
    last === null ? (
      <Unread view={view} />
    ) : (
      <>
        <Value value={last.value} />
        {last.limit !== null && last.limit !== 'inside' && last.limit !== 'no-limit' && (
          <>
            {' '}
            <LimitTag limit={last.limit} />
          </>
        )}
      </>
    ),
    last === null ? '' : dayWords(last.date),
    how,
    view.count === 0 ? '' : String(view.count),
    entry === null ? '' : <Ref to={entry} />,
  ];
}

/** The limits of a point below each other, each number with its unit. */
function Limits({ limits }: { limits: string | null }): VNode {
  if (limits === null) return <>none set</>;
  return (
    <>
      {limits.split(', ').map((limit) => (
        <span class="limit-words">{limit}</span>
      ))}
    </>
  );
}

/** What is said in place of a last reading. A logger's readings are no entry's, and yet somebody looked. */
function Unread({ view }: { view: PackPoint['view'] }): VNode {
  if (view.gone) return <>no longer there</>;
  if (view.series !== null) return <>by the logger alone, see below</>;
  return <>{view.count === 0 ? 'never read' : 'not read since it was exchanged'}</>;
}

/** The points that were read more than once, and what loggers have read, over time. */
function Figures({ system }: { system: PackSystem }): VNode | null {
  const drawn = system.points.flatMap(({ view }) =>
    view.chart === null ? [] : [{ view, chart: view.chart }],
  );
  const logged = system.points.flatMap(({ view }) =>
    view.series === null ? [] : [{ view, series: view.series }],
  );
  if (drawn.length === 0 && logged.length === 0) return null;
  return (
    <div class="figures">
      {drawn.map(({ view, chart }) => (
        <div class="figure">
          <TimelineFigure chart={chart} />
          <p class="caption">
            {view.title}
            {view.limits !== null && `, ${view.limits}`}. {view.trend?.sentence ?? ''}
          </p>
        </div>
      ))}
      {logged.map(({ view, series }) => (
        <div class="figure">
          <SeriesFigure chart={series.chart} />
          <p class="caption">
            {view.title}
            {view.limits !== null && `, ${view.limits}`}. {series.extent}. Lowest {series.lowest}; mean{' '}
            {series.mean}; highest {series.highest}.{series.beyond !== null && ` ${series.beyond}.`} No
            evidence for a spec.
          </p>
        </div>
      ))}
    </div>
  );
}

/** As many lines of a test's table as are kept on one page. */
const SHORT_LINES = 12;

function Test({ test }: { test: TestDetail }): VNode {
  const required = test.requires.map(([name, limit]) => `${name} ${limit}`).join('; ');
  const every = test.againEvery === null ? '' : ` To be done every ${test.againEvery}.`;
  return (
    <div class="test" id={`test-${test.ref}`}>
      <h4>Test: {test.title}</h4>
      <p>
        Required: {required}.{every}
        {test.results.length === 0 && ' Never done.'}
      </p>
      <PackTable
        caption={`${test.title}: what was read`}
        high={test.results.length * test.requires.length > SHORT_LINES}
        columns={[
          { head: 'Day', kind: 'narrow' },
          { head: 'Outcome', kind: 'narrow' },
          { head: 'Read, against what is required' },
          { head: 'How' },
          { head: 'Entry', kind: 'narrow' },
        ]}
        rows={test.results.map((result) => ({
          cells: [
            dayWords(result.date),
            <OutcomeTag outcome={result.outcome} />,
            result.requirements.map(({ name, required: limit, value, outcome }) => (
              <span class="line">
                {name}: {value === null ? 'not read' : <Read value={value} />} ({limit})
                {outcome !== 'pass' && (
                  <>
                    {' '}
                    <OutcomeTag outcome={outcome} />
                  </>
                )}
              </span>
            )),
            [result.taken, result.note].filter((words) => words !== null).join('. '),
            <Ref to={result.entry} />,
          ],
        }))}
      />
    </div>
  );
}

/** What was read in a test; where its ± comes from is said in the list of readings. */
function Read({ value }: { value: ShownValue }): VNode {
  return (
    <span class="value">
      {value.text}
      {value.spread === 'not known' && <small> ± not known</small>}
    </span>
  );
}

function Decisions({ system }: { system: PackSystem }): VNode | null {
  return (
    <PackTable
      caption="Decisions"
      columns={[
        { head: 'Question' },
        { head: 'Chosen, and why' },
        { head: 'Rests on' },
        { head: 'Entry', kind: 'narrow' },
      ]}
      rows={system.decisions.map((decision) => ({
        id: `decision-${decision.id}`,
        cells: [
          decision.question,
          <>
            <strong>{capital(decision.chose)}.</strong> {decision.because}
            {decision.undoneBy !== null && <small class="line">Taken back later.</small>}
            {decision.holding !== null && decision.undoneBy === null && (
              <small class="line">
                <HoldingTag verdict={decision.holding.verdict} /> It holds while {decision.holdsWhile}.
              </small>
            )}
          </>,
          <RestsOn on={decision.restsOn} />,
          <Ref to={decision.entry} />,
        ],
      }))}
    />
  );
}

/** What something rests on, each with how it stands today. */
function RestsOn({ on }: { on: PackSystem['derived'][number]['restsOn'] }): VNode {
  return (
    <>
      {on.map(({ what, standing }) => (
        <span class="rests">
          {what.text}
          {standing !== null && (
            <>
              {' '}
              <StandingTag standing={standing} />
            </>
          )}
        </span>
      ))}
    </>
  );
}

function Parts({ system }: { system: PackSystem }): VNode | null {
  return (
    <PackTable
      caption={`Parts: ${lower(system.title)}`}
      columns={[
        { head: 'Part' },
        { head: 'Now', kind: 'narrow' },
        { head: 'What happened', kind: 'narrow' },
        { head: 'Serial number' },
        { head: 'From' },
        { head: 'Cost', kind: 'narrow' },
      ]}
      rows={system.parts.map((part) => ({
        id: `part-${part.id}`,
        cells: [
          <>
            {part.part.text}
            {part.quantity !== null && part.quantity > 1 && ` × ${part.quantity}`}
          </>,
          PLACE_WORD[part.now],
          part.moves.map(({ date, move, entry }) => (
            <span class="line">
              {move} {dayWords(date)}{' '}
              <span class="entry">
                (<Ref to={entry} />)
              </span>
            </span>
          )),
          part.serial,
          part.supplier,
          part.costs.join(', '),
        ],
      }))}
    />
  );
}

function Upkeep({ system }: { system: PackSystem }): VNode | null {
  return (
    <PackTable
      caption="Upkeep"
      columns={[{ head: 'What' }, { head: 'Every' }, { head: 'Last done' }, { head: 'Due' }]}
      rows={system.upkeep.map((row) => ({
        id: `upkeep-${row.ref}`,
        cells: [
          <>
            {row.what.text}
            {row.safety && <strong class="mark"> safety</strong>}
          </>,
          row.every,
          row.done.length === 0
            ? 'never'
            : [
                ...row.done.map(({ date, entry, late }) => (
                  <span class="line">
                    {dayWords(date)}
                    {late !== null && `, ${late}`}{' '}
                    <span class="entry">
                      (<Ref to={entry} />)
                    </span>
                  </span>
                )),
                row.kept !== null && <span class="line">{row.kept}</span>,
              ],
          <>
            {row.overdue && <OutcomeTag outcome="fail" word="overdue" />}{' '}
            {row.byDate !== null && <span class="line">by {dayWords(row.byDate.on)}</span>}
            {row.byHours !== null && (
              <span class="line">
                {row.byHours.left}, {row.byHours.at}
              </span>
            )}
          </>,
        ],
      }))}
    />
  );
}

function Work({ system }: { system: PackSystem }): VNode | null {
  return (
    <PackTable
      caption="Open work"
      columns={[
        { head: 'What' },
        { head: 'State', kind: 'narrow' },
        { head: 'Waits on' },
        { head: 'By', kind: 'narrow' },
        { head: 'Size', kind: 'narrow' },
        { head: 'Opened', kind: 'narrow' },
      ]}
      rows={system.items.map((row) => ({
        id: `item-${row.id}`,
        cells: [
          <>
            {row.item.text}
            {row.marks.map((mark) => (
              <strong class="mark"> {mark}</strong>
            ))}
          </>,
          row.status,
          <Refs to={row.waitsOn} />,
          row.by === null ? '' : dayWords(row.by),
          row.size,
          <>
            {dayWords(row.opened.date)}{' '}
            <span class="entry">
              (<Ref to={row.opened.entry} />)
            </span>
          </>,
        ],
      }))}
    />
  );
}

function Photos({ system }: { system: PackSystem }): VNode | null {
  if (system.photos.length === 0) return null;
  return (
    <div class="photos">
      {system.photos.map(({ photo, alt, caption, date, entry }) => (
        <figure class="photo">
          <img src={photo.src} width={photo.width} height={photo.height} alt={alt} />
          <figcaption class="caption">
            {caption}. {dayWords(date)},{' '}
            <span class="entry">
              entry <Ref to={entry} />
            </span>
            .
          </figcaption>
        </figure>
      ))}
    </div>
  );
}

function History({ system }: { system: PackSystem }): VNode | null {
  if (system.history.length === 0) return null;
  return (
    <div class="history">
      <h4>History</h4>
      <ol>
        {system.history.map(({ date, entry, title }) => (
          <li>
            <span class="day">{dayWords(date)}</span> {title}{' '}
            <span class="entry">
              (<Ref to={entry} />)
            </span>
          </li>
        ))}
      </ol>
    </div>
  );
}
