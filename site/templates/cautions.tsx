import type { VNode } from 'preact';
import { CAUTIONS_DEFER, type Caution } from '../../src/render/cautions.js';

/** The usual cautions for some kinds of danger, and that others come first. */
export function Cautions({ cautions }: { cautions: readonly Caution[] }): VNode {
  return (
    <section class="leaf cautions">
      <div class="margin">
        <h2 id="cautions">Cautions</h2>
      </div>
      <div class="body">
        <p>
          <strong>{CAUTIONS_DEFER}</strong>
        </p>
        <div class="caution-list">
          {cautions.map(({ hazard, title, facts }) => (
            <div class="caution" id={`caution-${hazard}`}>
              <CautionFacts title={title} facts={facts} />
            </div>
          ))}
        </div>
      </div>
    </section>
  );
}

/** The cautions for one kind of danger, each with its source. */
export function CautionFacts({ title, facts }: Pick<Caution, 'title' | 'facts'>): VNode {
  return (
    <>
      <h3>{title}</h3>
      <ul>
        {facts.map(({ text, source }) => (
          <li>
            {text} <small>({source})</small>
          </li>
        ))}
      </ul>
    </>
  );
}
