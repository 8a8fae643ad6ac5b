import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { SystemRow, SystemsView } from '../../src/render/pages/systems.js';
import { count } from '../../src/render/words.js';
import { DataTable, Day, Go, Leaf, Masthead, Ref, Sign } from './pieces.js';

/** All systems in their groups. */
export function Systems({ view }: TemplateProps<SystemsView>): VNode {
  return (
    <>
      <Masthead kind={<p>{count(view.total, 'system')}</p>} title="Systems" />
      {view.groups.map(({ title, systems }, index) => (
        <Leaf heading={title} id={`group-${index + 1}`}>
          <DataTable
            label={title}
            on="stack"
            look="systems"
            columns={[
              { head: 'System' },
              { head: 'Specs' },
              { head: 'Faults and overdue' },
              { head: 'Open work', kind: 'number' },
              { head: 'Readings', kind: 'number' },
              { head: 'Last entry' },
            ]}
            rows={systems.map(systemCells)}
          />
        </Leaf>
      ))}
    </>
  );
}

function systemCells(row: SystemRow): { cells: (VNode | number | string)[] } {
  return {
    cells: [
      <Ref to={row.system} />,
      <span class="tally">
        {row.standings.map(([standing, number]) => (
          <span class={`tag ${standing}`}>
            <Sign shape={standing} />
            {number} {standing}
          </span>
        ))}
      </span>,
      row.wrong.length === 0 ? (
        <span class="soft">none</span>
      ) : (
        <ul class="plain">
          {row.wrong.map((words) => (
            <li>{words}</li>
          ))}
        </ul>
      ),
      row.openItems,
      row.readings,
      row.lastEntry === null ? (
        ''
      ) : (
        <>
          <Day on={row.lastEntry.date} /> <Go to={row.lastEntry.entry}>{row.lastEntry.entry.text}</Go>
        </>
      ),
    ],
  };
}
