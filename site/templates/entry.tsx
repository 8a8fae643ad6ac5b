import type { VNode } from 'preact';
import { anchorOf } from '../../src/reckon/records.js';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { EntryView, MoveRow, PhotoView, StatementRow } from '../../src/render/pages/entry.js';
import { dayWords, weekday } from '../../src/render/words.js';
import { DecisionText } from './decisions.js';
import { DataTable, Day, Go, Leaf, Masthead, Prose, Ref, Refs, StandingTag, Value } from './pieces.js';
import { ItemTable, ReadingTable, ResultDetail } from './rows.js';

/** One entry: what was written first, then what is on record from it. */
export function EntryPage({ view, html }: TemplateProps<EntryView>): VNode {
  return (
    <article>
      <Masthead kind={<EntryDate date={view.date} />} title={view.title}>
        <p class="soft">
          <Refs to={view.systems} />
        </p>
      </Masthead>
      <div class="leaf">
        <div class="margin">
          <EntryMargin view={view} />
        </div>
        <div class="body">
          {html === '' ? <p class="soft">No prose with this entry.</p> : <Prose html={html} />}
          {view.photos.length > 0 && <Photos photos={view.photos} />}
        </div>
      </div>
      <Record view={view} />
      <nav class="pager" aria-label="Entries">
        {view.older !== null && <Go to={view.older}>← {view.older.text}</Go>}
        {view.newer !== null && <Go to={view.newer}>{view.newer.text} →</Go>}
      </nav>
    </article>
  );
}

function EntryDate({ date }: { date: string }): VNode {
  return (
    <p class="entry-date">
      <time dateTime={date}>{dayWords(date)}</time>
      <span>{weekday(date)}</span>
    </p>
  );
}

function EntryMargin({ view }: { view: EntryView }): VNode {
  const facts = [
    ...view.hours.map(([who, spent]) => [who, spent] as const),
    ...(view.hours.length > 1 && view.hoursTotal !== null ? [['together', view.hoursTotal] as const] : []),
    ...view.meters,
    ...(view.place === null ? [] : [['place', view.place] as const]),
  ];
  return (
    <dl class="margin-facts">
      {facts.map(([label, value]) => (
        <div>
          <dt>{label}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

function Photos({ photos }: { photos: readonly PhotoView[] }): VNode {
  return (
    <div class="photos">
      {photos.map(({ alt, caption, photo }) => (
        <figure>
          {photo === null ? (
            <p class="missing">[picture not shown: {alt}]</p>
          ) : (
            <a href={photo.src}>
              <img
                src={photo.src}
                srcSet={photo.srcset}
                sizes="(min-width: 48rem) 28rem, 100vw"
                width={photo.width}
                height={photo.height}
                alt={alt}
                loading="lazy"
                decoding="async"
              />
            </a>
          )}
          {caption !== null && <figcaption>{caption}</figcaption>}
        </figure>
      ))}
    </div>
  );
}

/** Everything of the entry that is data. */
function Record({ view }: { view: EntryView }): VNode {
  return (
    <>
      {view.readings.length > 0 && (
        <Leaf heading="Readings" id="readings">
          <ReadingTable label="Readings" rows={view.readings} show={{ what: true }} anchors />
        </Leaf>
      )}
      {view.statements.length > 0 && (
        <Leaf heading="Statements" id="statements">
          <StatementTable rows={view.statements} />
        </Leaf>
      )}
      {view.tests.length > 0 && (
        <Leaf heading="Tests" id="tests">
          {view.tests.map((result, index) => (
            <div class="place" id={anchorOf('test', index)}>
              <ResultDetail result={result} />
            </div>
          ))}
        </Leaf>
      )}
      {view.decisions.length > 0 && (
        <Leaf heading="Decisions" id="decisions">
          {view.decisions.map((decision, index) => (
            <div class="place" id={anchorOf('decision', index)}>
              <DecisionText decision={decision} level={3} entry={false} />
            </div>
          ))}
        </Leaf>
      )}
      {view.parts.length > 0 && (
        <Leaf heading="Parts" id="parts">
          <MoveTable rows={view.parts} />
        </Leaf>
      )}
      {view.opens.length > 0 && (
        <Leaf heading="Opened" id="opened">
          <ItemTable label="Work opened" rows={view.opens} anchors />
        </Leaf>
      )}
      {view.closes.length > 0 && (
        <Leaf heading="Closed" id="closed">
          <ItemTable label="Work closed" rows={view.closes} done />
        </Leaf>
      )}
      {view.done.length > 0 && (
        <Leaf heading="Upkeep done" id="upkeep">
          <ul class="plain">
            {view.done.map(({ what, system }) => (
              <li>
                {what} <span class="soft">(</span>
                <Ref to={system} />
                <span class="soft">)</span>
              </li>
            ))}
          </ul>
        </Leaf>
      )}
    </>
  );
}

function StatementTable({ rows }: { rows: readonly StatementRow[] }): VNode {
  return (
    <DataTable
      label="Statements"
      on="stack"
      columns={[
        { head: 'Spec' },
        { head: 'Says' },
        { head: 'Basis' },
        { head: 'Spec now', kind: 'value' },
        { head: 'How', kind: 'text' },
      ]}
      rows={rows.map((row, index) => ({
        id: anchorOf('statement', index),
        cells: [
          <Ref to={row.spec} />,
          <Value value={row.says} />,
          row.basis,
          row.standing === null ? '' : <StandingTag standing={row.standing} />,
          [row.taken, row.note].filter((text) => text !== null).join('; '),
        ],
      }))}
    />
  );
}

function MoveTable({ rows }: { rows: readonly MoveRow[] }): VNode {
  return (
    <DataTable
      label="Parts"
      on="stack"
      columns={[
        { head: 'Part' },
        { head: 'What happened' },
        { head: 'Cost', kind: 'value' },
        { head: 'From' },
        { head: 'Due', kind: 'day' },
        { head: 'Note', kind: 'text' },
      ]}
      rows={rows.map((row, index) => ({
        id: anchorOf('part', index),
        cells: [
          <>
            <Ref to={row.part} />
            {row.quantity !== null && row.quantity > 1 && <small> × {row.quantity}</small>}
          </>,
          row.move,
          row.cost,
          row.supplier,
          row.due === null ? '' : <Day on={row.due} />,
          row.note,
        ],
      }))}
    />
  );
}
