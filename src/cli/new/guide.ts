import { remarkDate } from '../../draft/remarks.js';
import { oneLine } from '../../draft/yaml.js';
import type { BookFacts, SystemFacts } from '../../reckon/facts.js';
import { dayTold } from '../day.js';
import type { Begun } from './kept.js';
import { review } from './review.js';
import { type Asking, type Step, withDraft } from './step.js';
import { closingSteps } from './steps-after.js';
import { systemSteps } from './steps-of-system.js';

/** Leads somebody through an entry, question by question; what is known by the options is not asked. */

/** What the questions are asked with; what is known of the book hangs on the day of the entry. */
export interface Guiding extends Omit<Asking, 'keep' | 'facts'> {
  readonly factsOn: (date: string) => BookFacts;
}

/**
 * Asks all that is open, one question after the other; at the end any answer can be changed.
 *
 * @param keep told after each answer, and in the middle of a long one.
 * @returns null where the person stopped.
 */
export async function guide(
  start: Begun,
  { factsOn, ...asking }: Guiding,
  keep: (begun: Begun) => void,
): Promise<Begun | null> {
  let begun = start;
  for (;;) {
    const facts = factsOn(begun.draft.date);
    const step = stepsOf(begun, facts).find(({ key }) => !begun.answered.includes(key));
    if (step === undefined) {
      const reviewed = await review(begun, { ask: asking.ask, facts });
      if (reviewed === null) return null;
      if (reviewed === 'write') return begun;
      // Kept only once it is answered anew: whoever stops before that has the answer they gave.
      begun = reviewed;
      continue;
    }
    const next = await step.run(begun, { ...asking, facts, keep });
    if (next === null) return null;
    begun = { ...next, answered: [...next.answered, step.key] };
    keep(begun);
  }
}

/** All questions of an entry as far as it has come; later ones hang on earlier answers. */
function stepsOf(begun: Begun, facts: BookFacts): readonly Step[] {
  const systems = begun.draft.systems.flatMap((id) => facts.systems.find((one) => one.id === id) ?? []);
  return [
    DAY,
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

/** Most entries are of the same day; some are of the last weekend. */
const DAY: Step = {
  key: 'day',
  run: async (begun, { ask, today }) => {
    const { date } = begun.draft;
    const otherwise = date === today ? 'today' : date;
    const typed = await ask.text(`Which day was it? (Enter for ${otherwise}; or yesterday, 12 May 2026)`, {
      refuse: (answer) => (answer.trim() === '' ? null : wrongDay(answer, today)),
    });
    if (typed === null) return null;
    return withDraft(begun, { date: typed.trim() === '' ? date : (dayTold(typed, today) ?? date) });
  },
};

/** What is wrong with a day in words or figures, or null. */
function wrongDay(written: string, today: string): string | null {
  const [remark] = remarkDate(dayTold(written, today) ?? written.trim(), today);
  return remark === undefined ? null : [remark.message, remark.hint].filter(Boolean).join(' ');
}

const TITLE: Step = {
  key: 'title',
  run: async (begun, { ask }) => {
    const said = begun.draft.title;
    const title = await ask.text('What is the entry about?', {
      refuse: wrongTitle,
      ...(said === '' ? {} : { initial: said }),
    });
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
