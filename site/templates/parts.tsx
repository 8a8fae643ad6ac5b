import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { PartsView } from '../../src/render/pages/parts.js';
import { count } from '../../src/render/words.js';
import { Leaf, Masthead } from './pieces.js';
import { OrderTable, PartTable } from './rows.js';

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
          <PartTable label={`Parts: ${system.text}`} rows={parts} anchors />
        </Leaf>
      ))}
    </>
  );
}
