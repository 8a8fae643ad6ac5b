import type { VNode } from 'preact';
import type { Said } from '../../../src/render/pack/said.js';
import type { PackView, Section } from '../../../src/render/pack/view.js';
import { dayWords } from '../../../src/render/words.js';
import { Where } from './table.js';

/** What comes first: the title, the answers, the particulars and the contents. */
export function Front({ view }: { view: PackView }): VNode {
  return (
    <>
      <Title view={view} />
      <Answers view={view} />
      <Particulars view={view} />
      <Contents sections={view.sections} />
    </>
  );
}

function Title({ view }: { view: PackView }): VNode {
  return (
    <header class="title">
      <p class="kind">Record of condition and work</p>
      <h1>{view.subject}</h1>
      {view.description !== null && <p class="description">{view.description}</p>}
      <p class="state">
        As the record stood on {dayWords(view.asOf)}
        {view.first !== null && view.last !== null && (
          <>
            , after {view.entryCount} entries from {dayWords(view.first)} to {dayWords(view.last)}
          </>
        )}
        .
      </p>
      {view.copy !== null && (
        <p class="state">
          {view.copy.for} {view.copy.lacks}
        </p>
      )}
    </header>
  );
}

function Answers({ view }: { view: PackView }): VNode {
  return (
    <section class="answers" aria-labelledby="summary">
      <h2 id="summary">In short</h2>
      <dl>
        {view.summary.map(({ asks, says }) => (
          <div>
            <dt>{asks}</dt>
            <dd>
              {says.map((said) => (
                <p>
                  <Sentence said={said} sections={view.sections} />
                </p>
              ))}
            </dd>
          </div>
        ))}
      </dl>
    </section>
  );
}

function Sentence({ said, sections }: { said: Said; sections: readonly Section[] }): VNode {
  return (
    <>
      {said.map((piece) =>
        typeof piece === 'string' ? (
          piece
        ) : (
          <Where to={piece.page} number={sections.find(({ place }) => place === piece.page)?.number ?? ''} />
        ),
      )}
    </>
  );
}

function Particulars({ view }: { view: PackView }): VNode | null {
  if (view.particulars.length === 0 && view.about === null) return null;
  return (
    <section class="particulars" aria-labelledby="particulars">
      <h2 id="particulars">Particulars</h2>
      {view.about !== null && <p>{view.about}</p>}
      <dl class="facts">
        {view.particulars.map(([label, value]) => (
          <div>
            <dt>{label}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <p class="note">
        Particulars are as the owner states them. What of them is checked stands with the systems.
      </p>
    </section>
  );
}

function Contents({ sections }: { sections: readonly Section[] }): VNode {
  return (
    <nav class="contents" aria-labelledby="contents">
      <h2 id="contents">Contents</h2>
      <ContentsList sections={sections} />
    </nav>
  );
}

function ContentsList({ sections }: { sections: readonly Section[] }): VNode {
  return (
    <ol>
      {sections.map(({ place, number, title, parts }) => (
        <li>
          <a href={`#${place}`}>
            <span class="number">{number}</span>
            <span class="what">{title}</span>
            <span class="dots" aria-hidden="true" />
            <span class="page-number" data-to={place} />
          </a>
          {parts.length > 0 && <ContentsList sections={parts} />}
        </li>
      ))}
    </ol>
  );
}
