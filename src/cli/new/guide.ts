import { oneLine } from '../../draft/yaml.js';
import type { BookFacts, SystemFacts } from '../../reckon/facts.js';
import type { Begun } from './kept.js';
import { type Asking, type Step, withDraft } from './step.js';
import { closingSteps } from './steps-after.js';
import { systemSteps } from './steps-of-system.js';

/** Leads somebody through an entry, question by question; what is known by the options is not asked. */

/**
 * Asks all that is open, one question after the other.
 *
 * @param keep told after each answer, and in the middle of a long one.
 * @returns null where the person stopped.
 */
export async function guide(
  start: Begun,
  asking: Omit<Asking, 'keep'>,
  keep: (begun: Begun) => void,
): Promise<Begun | null> {
  let begun = start;
  for (;;) {
    const step = stepsOf(begun, asking.facts).find(({ key }) => !begun.answered.includes(key));
    if (step === undefined) return begun;
    const next = await step.run(begun, { ...asking, keep });
    if (next === null) return null;
    begun = { ...next, answered: [...next.answered, step.key] };
    keep(begun);
  }
}

/** All questions of an entry as far as it has come; later ones hang on earlier answers. */
function stepsOf(begun: Begun, facts: BookFacts): readonly Step[] {
  const systems = begun.draft.systems.flatMap((id) => facts.systems.find((one) => one.id === id) ?? []);
  return [
    TITLE,
    SYSTEMS,
    ...systems.flatMap((system) => systemSteps(system, begun, facts)),
    ...closingSteps(begun, facts),
  ];
}

/** Most letters that a line may have. */
const MOST_LETTERS = 500;

/** What is wrong with a title, or null. */
export function wrongTitle(title: string): string | null {
  const plain = oneLine(title);
  if (plain === '') return 'an entry needs a title.';
  return plain.length > MOST_LETTERS ? `a title has at most ${MOST_LETTERS} letters.` : null;
}

const TITLE: Step = {
  key: 'title',
  run: async (begun, { ask }) => {
    const title = await ask.text('What is the entry about?', { refuse: wrongTitle });
    return title === null ? null : withDraft(begun, { title: oneLine(title) });
  },
};

const SYSTEMS: Step = {
  key: 'systems',
  run: async (begun, { ask, facts }) => {
    const systems = await ask.several('Which systems?', facts.systems.map(systemChoice), true);
    return systems === null ? null : withDraft(begun, { systems });
  },
};

function systemChoice({ id, title, lately }: SystemFacts) {
  return { value: id, label: oneLine(title), hint: lately === null ? id : `${id}, last ${lately}` };
}
