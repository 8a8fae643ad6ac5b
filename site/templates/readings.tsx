import type { VNode } from 'preact';
import type { QueryField } from '../../src/find/query.js';
import { OUTCOMES, PLURALS, SORTS, STANDINGS } from '../../src/find/vocabulary.js';
import type { TemplateProps } from '../../src/render/make-page.js';
import type {
  Choice,
  ReadingsView,
  SearchView,
  SystemReadingsView,
} from '../../src/render/pages/readings.js';
import { count, OUTCOME_WORD } from '../../src/render/words.js';
import { Go, Leaf, Masthead, Ref } from './pieces.js';
import { ReadingTable } from './rows.js';

/** Everything that was ever read: a search for those with script, the latest and the way to the rest for everybody. */
export function Readings({ view }: TemplateProps<ReadingsView>): VNode {
  return (
    <>
      <Masthead kind={<p>{count(view.total, 'reading')}</p>} title="Readings">
        <Search view={view.search} />
      </Masthead>
      <div id="found" hidden />
      <div id="not-searched">
        <Leaf heading="By system" id="by-system">
          <ul class="columns">
            {view.systems.map(({ system, readings }) => (
              <li>
                <Ref to={system} /> <span class="soft">{readings}</span>
              </li>
            ))}
          </ul>
        </Leaf>
        <Leaf heading="Readings" id="latest" note={<span>latest {view.latest.length}, newest first</span>}>
          <ReadingTable label="Readings" rows={view.latest} show={{ date: true, system: true, what: true }} />
        </Leaf>
      </div>
    </>
  );
}

/** The search box and its limits. Hidden until the script that makes them work is there. */
function Search({ view }: { view: SearchView }): VNode {
  return (
    <search id="filter" class="filter find" data-root={view.root} hidden>
      <label for="filter-text">Find in all of the record</label>
      <input
        id="filter-text"
        name="words"
        type="search"
        autocomplete="off"
        spellcheck={false}
        aria-describedby="filter-help filter-problems"
      />
      <p id="filter-help" class="soft">
        Readings, statements, parts, work, decisions and tests. Words in any order, and numbers:{' '}
        <i>insulation below 20 MΩ</i>, <i>between 30 and 40 mm in stern-gear</i>, <i>seacock since 2025</i>.
      </p>
      <div id="filter-problems" class="find-problems" />
      <details id="filter-limits">
        <summary>Limits</summary>
        <div class="find-limits">
          <Chosen name="sort" label="Sort of record" any="all sorts" choices={SORT_CHOICES} />
          <Chosen name="system" label="System" any="all systems" choices={view.systems} />
          <Typed name="point" label="Point" list="find-points" />
          <Chosen name="quantity" label="Quantity" any="any or none" choices={view.kinds} />
          <Typed name="below" label="Below" example="40 mm" />
          <Typed name="above" label="Above" example="12.5 V" />
          <Typed name="between" label="Between" example="30 and 35 mm" />
          <Typed name="since" label="Since" example="2025-06" />
          <Typed name="until" label="Until" example="2025" />
          <Typed name="under" label="Measured under" list="find-conditions" example="ambient below 10 °C" />
          <Chosen name="standing" label="Standing of the spec" any="any or none" choices={same(STANDINGS)} />
          <Chosen name="outcome" label="Outcome of the test" any="any or none" choices={OUTCOME_CHOICES} />
          <Typed name="entry" label="Entry" example="2026-04-18" />
          <datalist id="find-points">
            {view.points.map(([ref, title]) => (
              <option value={ref}>{title}</option>
            ))}
          </datalist>
          <datalist id="find-conditions">
            {view.conditions.map((name) => (
              <option value={name} />
            ))}
          </datalist>
        </div>
      </details>
      <p id="filter-said" class="quiet" role="status" />
    </search>
  );
}

const SORT_CHOICES: readonly Choice[] = SORTS.map((sort) => [sort, PLURALS[sort]]);
const OUTCOME_CHOICES: readonly Choice[] = OUTCOMES.map((outcome) => [outcome, OUTCOME_WORD[outcome]]);

function same(names: readonly string[]): readonly Choice[] {
  return names.map((name) => [name, name]);
}

interface FieldProps {
  readonly name: QueryField;
  readonly label: string;
}

function Chosen(props: FieldProps & { readonly any: string; readonly choices: readonly Choice[] }): VNode {
  return (
    <div>
      <label for={`find-${props.name}`}>{props.label}</label>
      <select id={`find-${props.name}`} name={props.name}>
        <option value="">{props.any}</option>
        {props.choices.map(([value, words]) => (
          <option value={value}>{words}</option>
        ))}
      </select>
    </div>
  );
}

function Typed(props: FieldProps & { readonly list?: string; readonly example?: string }): VNode {
  return (
    <div>
      <label for={`find-${props.name}`}>{props.label}</label>
      <input
        id={`find-${props.name}`}
        name={props.name}
        list={props.list}
        placeholder={props.example}
        autocomplete="off"
        spellcheck={false}
        aria-describedby="filter-problems"
      />
    </div>
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
