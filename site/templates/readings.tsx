import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { ReadingsView, SystemReadingsView } from '../../src/render/pages/readings.js';
import { count } from '../../src/render/words.js';
import { Go, Leaf, Masthead, Ref } from './pieces.js';
import { ReadingTable } from './rows.js';

/** All readings: a filter for those with script, the latest and the way to the rest for everybody. */
export function Readings({ view }: TemplateProps<ReadingsView>): VNode {
  return (
    <>
      <Masthead kind={<p>{count(view.total, 'reading')}</p>} title="Readings">
        <div id="filter" class="filter" data-script={view.data} hidden>
          <label for="filter-text">Find a reading</label>
          <input
            id="filter-text"
            type="search"
            autocomplete="off"
            spellcheck={false}
            aria-describedby="filter-help"
          />
          <p id="filter-help" class="soft">
            Words in any order: a system, what was measured, a value, a year, an instrument.
          </p>
          <p id="filter-count" role="status" />
        </div>
      </Masthead>
      <Leaf heading="By system" id="by-system">
        <ul class="columns">
          {view.systems.map(({ system, readings }) => (
            <li>
              <Ref to={system} /> <span class="soft">{readings}</span>
            </li>
          ))}
        </ul>
      </Leaf>
      <Leaf
        heading="Readings"
        id="latest"
        note={<span id="table-note">latest {view.latest.length}, newest first</span>}
      >
        <ReadingTable label="Readings" rows={view.latest} show={{ date: true, system: true, what: true }} />
      </Leaf>
    </>
  );
}

/** Readings of one system. */
export function SystemReadings({ view }: TemplateProps<SystemReadingsView>): VNode {
  return (
    <>
      <Masthead
        kind={
          <p>
            <a href="index.html">Readings</a>
          </p>
        }
        title={view.system.text}
      >
        <p class="soft">
          {count(view.total, 'reading')}, newest first. <Go to={view.system}>The system</Go>
        </p>
      </Masthead>
      <Leaf
        heading="Readings"
        id="table"
        note={view.pages.length > 1 ? `page ${view.page} of ${view.pages.length}` : undefined}
      >
        {view.readings.length === 0 ? (
          <p class="soft">None yet.</p>
        ) : (
          <ReadingTable
            label={`Readings: ${view.system.text}`}
            rows={view.readings}
            show={{ date: true, what: true }}
          />
        )}
        {view.pages.length > 1 && (
          <nav class="pages" aria-label="Pages">
            {view.pages.map(({ text, href }, index) => (
              <a href={href ?? '#'} aria-current={index + 1 === view.page ? 'page' : undefined}>
                {text}
              </a>
            ))}
          </nav>
        )}
      </Leaf>
    </>
  );
}
