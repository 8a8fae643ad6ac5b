import { completed, nameFrom } from '../../draft/complete.js';
import type { DraftDecision, DraftOpened, DraftPart } from '../../draft/draft.js';
import { groundWords, isSpentOn, type Resting, reliesOn, remarkGrounds } from '../../draft/grounds.js';
import { remarkValue } from '../../draft/remarks.js';
import { oneLine } from '../../draft/yaml.js';
import type { BookFacts } from '../../reckon/facts.js';
import type { GroundFacts } from '../../reckon/grounds.js';
import type { Begun } from './kept.js';
import { needed, type Step, withDraft } from './step.js';
import { refuser } from './steps-of-system.js';

/**
 * Questions about what stands or falls with a claim: parts that money is spent on, sized jobs, decisions. Each is a
 * step of its own, so that stopping at one loses none before it; only what these prompts took in is asked about.
 */

/** What there is to rest on: all of the entry's systems. */
function groundsFor({ draft }: Begun, { systems }: BookFacts): readonly GroundFacts[] {
  return draft.systems.flatMap((id) => systems.find((system) => system.id === id)?.grounds ?? []);
}

type RestingList = 'parts' | 'decisions' | 'opens';

/** Puts fields into one answer of a list. */
function change<T extends RestingList>(
  begun: Begun,
  list: T,
  index: number,
  fields: Partial<DraftPart & DraftDecision & DraftOpened>,
): Begun {
  const items: readonly object[] = begun.draft[list];
  return withDraft(begun, {
    [list]: items.map((item, at) => (at === index ? { ...item, ...fields } : item)),
  });
}

/** Asks what an answer rests on, and says where that is not checked; nothing where there is nothing to choose. */
function restsStep(key: string, list: RestingList, index: number, resting: Resting, question: string): Step {
  return {
    key,
    run: async (begun, { ask, facts, say }) => {
      const grounds = groundsFor(begun, facts);
      if (grounds.length === 0) return begun;
      const choices = grounds.map((ground) => ({ value: ground.ref, label: groundWords(ground) }));
      const refs = await ask.several(`${question} (none is fine)`, choices, false);
      if (refs === null) return null;
      const said = remarkGrounds(resting, refs, grounds);
      if (said.length > 0)
        say(said.map(({ message, hint }) => [message, hint].filter(Boolean).join(' ')).join('\n'));
      return change(begun, list, index, reliesOn(refs, grounds));
    },
  };
}

/** What a part was chosen by, where money is spent on it now; nothing is asked otherwise. */
export function partDetails({ draft, answered }: Begun): readonly Step[] {
  return draft.parts.flatMap(({ part, what, move }, index) =>
    answered.includes(`part:${index}`) && isSpentOn(move, what !== undefined)
      ? [
          restsStep(
            `part-rests:${index}`,
            'parts',
            index,
            { is: 'part', part, move },
            `${what ?? part}: which of these was it chosen by?`,
          ),
        ]
      : [],
  );
}

export function openStep(none: (begun: Begun) => Begun): Step['run'] {
  return async (begun, { ask, facts }) => {
    const { opens } = begun.draft;
    const question = opens.length === 0 ? 'What is left to do?' : 'What else is left to do?';
    const what = await ask.text(`${question} (Enter for nothing)`, {});
    if (what === null) return null;
    if (oneLine(what) === '') return none(begun);
    const taken = [...facts.taken.items, ...opens.map(({ item }) => item)];
    const opened = { item: nameFrom(what, taken), what: oneLine(what) };
    return withDraft(begun, { opens: [...opens, opened] });
  };
}

/** How long a job will take; of one with a size, that is somebody's time, what it rests on. */
export function openDetails({ draft, answered }: Begun): readonly Step[] {
  return draft.opens.flatMap(({ what, size }, index) => {
    if (!answered.includes(`open:${index}`)) return [];
    const question = `${what}: which of these does it rest on?`;
    return [
      sizeStep(index),
      ...(size === undefined
        ? []
        : [restsStep(`open-rests:${index}`, 'opens', index, { is: 'job' }, question)]),
    ];
  });
}

function sizeStep(index: number): Step {
  return {
    key: `open-size:${index}`,
    run: async (begun, { ask }) => {
      const typed = await ask.text('How long will it take, roughly, in h? (Enter if not known)', {
        refuse: refuser((answer) => remarkValue(completed(answer, 'h'), 'time')),
      });
      if (typed === null) return null;
      return typed.trim() === '' ? begun : change(begun, 'opens', index, { size: completed(typed, 'h') });
    },
  };
}

export function decisionStep(none: (begun: Begun) => Begun): Step['run'] {
  return async (begun, { ask, facts }) => {
    const { decisions } = begun.draft;
    const first = decisions.length === 0 ? 'Was anything decided?' : 'Was anything else decided?';
    const question = await ask.text(`${first} What was the question? (Enter for nothing)`, {});
    if (question === null) return null;
    if (oneLine(question) === '') return none(begun);
    const taken = [...facts.taken.decisions, ...decisions.map(({ decision }) => decision)];
    const decision = nameFrom(question, taken);
    const asked = { decision, question: oneLine(question), chose: '', because: '' };
    return withDraft(begun, { decisions: [...decisions, asked] });
  };
}

/** What was chosen, why, and what that rests on. */
export function decisionDetails({ draft, answered }: Begun): readonly Step[] {
  return draft.decisions.flatMap((_, index) =>
    answered.includes(`decision:${index}`)
      ? [
          wordsStep('chose', 'What was chosen?', index),
          wordsStep('because', 'Why?', index),
          restsStep(
            `decision-rests:${index}`,
            'decisions',
            index,
            { is: 'decision' },
            'Which of these does the decision rest on?',
          ),
        ]
      : [],
  );
}

function wordsStep(field: 'chose' | 'because', question: string, index: number): Step {
  return {
    key: `decision-${field}:${index}`,
    run: async (begun, { ask }) => {
      const typed = await ask.text(question, { refuse: needed });
      return typed === null ? null : change(begun, 'decisions', index, { [field]: oneLine(typed) });
    },
  };
}
