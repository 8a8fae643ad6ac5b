import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { PartDetail, PartsView } from '../../src/render/pages/parts.js';
import { count, PLACE_WORD } from '../../src/render/words.js';
import { DataTable, Day, Go, LateTag, Leaf, Masthead, Refs } from './pieces.js';
import { OrderTable } from './rows.js';

/** All parts: on order first, then by system. */
export function Parts({ view }: TemplateProps<PartsView>): VNode {
  return (
    <>
      <Masthead kind={<p>{count(view.total, 'part')}</p>} title="Parts" />
      {view.onOrder.length > 0 && (
        <Leaf heading="On order" id="on-order" note={view.onOrder.length}>
          <OrderTable label="Parts on order" rows={view.onOrder} />
        </Leaf>
      )}
      {view.groups.map(({ system, parts }, index) => (
        <Leaf
          heading={system.text}
          id={`system-${index + 1}`}
          note={
            system.href === null ? (
              count(parts.length, 'part')
            ) : (
              <a href={system.href}>{count(parts.length, 'part')}</a>
            )
          }
        >
          <ul class="part-list">
            {parts.map((part) => (
              <PartItem part={part} />
            ))}
          </ul>
        </Leaf>
      ))}
    </>
  );
}

function PartItem({ part }: { part: PartDetail }): VNode {
  return (
    <li id={part.id}>
      <div class="part-head">
        <h3>{part.part.text}</h3>
        <p>
          {part.late ? <LateTag word="on order, late" /> : PLACE_WORD[part.now]}
          <span class="soft">
            {' since '}
            <Day on={part.since} />
          </span>
        </p>
      </div>
      <p class="soft part-facts">
        {[
          part.id,
          part.supplier === null ? null : `from ${part.supplier}`,
          part.serial === null ? null : `serial ${part.serial}`,
          part.leadDays === null ? null : `${count(part.leadDays, 'day')} from order to arrival`,
          ...part.costs,
        ]
          .filter((text) => text !== null)
          .map((text) => (
            <span>{text}</span>
          ))}
      </p>
      {part.restsOn.length > 0 && (
        <p class="soft">
          Rests on <Refs to={part.restsOn} />
        </p>
      )}
      <DataTable
        label={`What happened to ${part.part.text}`}
        on="stack"
        columns={[
          { head: 'Date', kind: 'day' },
          { head: 'What happened' },
          { head: 'How many', kind: 'value' },
          { head: 'Cost', kind: 'value' },
          { head: 'Mass', kind: 'value' },
          { head: 'Note', kind: 'text' },
        ]}
        rows={part.moves.map((move) => ({
          cells: [
            <Go to={move.entry}>
              <Day on={move.date} />
            </Go>,
            move.move,
            move.quantity,
            move.cost,
            move.mass,
            move.note,
          ],
        }))}
      />
    </li>
  );
}
