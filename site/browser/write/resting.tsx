import type { VNode } from 'preact';
import { groundWords, type Resting, remarkGrounds } from '../../../src/draft/grounds.js';
import type { GroundFacts } from '../../../src/reckon/grounds.js';
import { Card, Field, Part, Said, Tick, textOf } from './fields.js';
import { type DecisionRow, groundsFor } from './form.js';
import { changed, type SectionProps, withAgain, without } from './rows.js';

/** What an answer rests on, and decisions, which are little else. */

interface GroundsProps {
  readonly id: string;
  readonly question: string;
  readonly resting: Resting;
  readonly rests: readonly string[];
  readonly grounds: readonly GroundFacts[];
  readonly set: (rests: readonly string[]) => void;
}

/** To tick, each with how it stands; closed until it is wanted. That ground is not checked is said and stops nothing. */
export function Grounds({ id, question, resting, rests, grounds, set }: GroundsProps): VNode | null {
  if (grounds.length === 0) return null;
  return (
    <div class="grounds">
      <details open={rests.length > 0}>
        <summary>{question}</summary>
        {grounds.map((ground) => (
          <Tick
            name={`${id}-rests`}
            isOn={rests.includes(ground.ref)}
            onChange={(isOn) =>
              set(isOn ? [...rests, ground.ref] : rests.filter((one) => one !== ground.ref))
            }
          >
            {groundWords(ground)}
          </Tick>
        ))}
      </details>
      <Said id={`${id}-rests`} remarks={remarkGrounds(resting, rests, grounds)} lead="Weak ground:" />
    </div>
  );
}

export function Decisions(props: SectionProps): VNode {
  const { form, data, change } = props;
  const add = () =>
    change({
      next: form.next + 1,
      decisions: [...form.decisions, { id: form.next, question: '', chose: '', because: '', rests: [] }],
    });
  return (
    <Part id="decisions" heading="Decided" note={data.help['decisions']}>
      {form.decisions.map((row) => (
        <DecisionCard {...props} row={row} />
      ))}
      <button type="button" class="add" onClick={add}>
        Add a decision
      </button>
    </Part>
  );
}

const FIELDS = [
  ['question', 'What had to be decided'],
  ['chose', 'What was chosen'],
  ['because', 'Why'],
] as const;

function DecisionCard(props: SectionProps & { row: DecisionRow }): VNode {
  const { form, data, remarks, change, takeOut, row } = props;
  const id = `decision-${row.id}`;
  const title = row.question.trim() || 'A decision';
  const set = (fields: Partial<DecisionRow>) =>
    change({ decisions: changed(form.decisions, row.id, fields) });
  return (
    <Card
      id={`${id}-card`}
      title={title}
      onRemove={() =>
        takeOut({
          title,
          out: (now) => ({ decisions: without(now.decisions, row.id) }),
          back: (now) => ({ decisions: withAgain(now.decisions, row, form.decisions) }),
        })
      }
    >
      {FIELDS.map(([field, label]) => {
        const own = field === 'question' ? id : `${id}-${field}`;
        return (
          <Field id={own} label={label} remarks={remarks.get(own)}>
            {(marks) => (
              <input
                {...marks}
                type="text"
                maxLength={500}
                value={row[field]}
                onInput={(event) => set({ [field]: textOf(event) })}
              />
            )}
          </Field>
        );
      })}
      <Grounds
        id={id}
        question="What it rests on"
        resting={{ is: 'decision' }}
        rests={row.rests}
        grounds={groundsFor(form, data.facts)}
        set={(rests) => set({ rests })}
      />
    </Card>
  );
}
