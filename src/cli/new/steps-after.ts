import { existsSync, statSync } from 'node:fs';
import { homedir } from 'node:os';
import { resolve } from 'node:path';
import { completed, nameFrom, photoFile } from '../../draft/complete.js';
import type { DraftPart, PartMoveWord } from '../../draft/draft.js';
import { type Remark, remarkMoney, remarkPart, remarkValue } from '../../draft/remarks.js';
import { oneLine } from '../../draft/yaml.js';
import type { BookFacts } from '../../reckon/facts.js';
import type { Choice } from '../effects.js';
import type { Begun } from './kept.js';
import { type Asking, needed, type Step, withDraft } from './step.js';
import { refuser } from './steps-of-system.js';
import { decisionDetails, decisionStep, openDetails, openStep, partDetails } from './steps-resting.js';

/** The questions that come after those about the systems: time, parts, what is left to do, pictures, words. */

export function closingSteps(begun: Begun, facts: BookFacts): readonly Step[] {
  const { parts, decisions, opens, photos } = begun.draft;
  return [
    ...hoursSteps(begun, facts),
    ...partDetails(begun),
    ...repeated('part', parts.length, begun, partStep),
    ...decisionDetails(begun),
    ...repeated('decision', decisions.length, begun, decisionStep),
    ...openDetails(begun),
    ...repeated('open', opens.length, begun, openStep),
    ...repeated('photo', photos.length, begun, photoStep),
    PROSE,
  ];
}

/** A question that is asked again until there is no more to say; `NAME:none` stands for that. */
function repeated(
  name: string,
  count: number,
  begun: Begun,
  make: (none: (begun: Begun) => Begun) => Step['run'],
): readonly Step[] {
  const end = `${name}:none`;
  if (begun.answered.includes(end)) return [];
  const none = (now: Begun): Begun => ({ ...now, answered: [...now.answered, end] });
  return [{ key: `${name}:${count}`, run: make(none) }];
}

function hoursSteps(begun: Begun, { people }: BookFacts): readonly Step[] {
  if (begun.draft.hours.length > 0 && !begun.answered.includes('who')) return [];
  if (people.length <= 1) return people.map(({ id }) => hoursStep(id, 'How long did you work, in h?'));
  const picked = people.filter(({ id }) => begun.picked.includes(`hours:${id}`));
  return [
    {
      key: 'who',
      run: async (now, { ask }) => {
        const choices = people.map(({ id, name }) => ({
          value: `hours:${id}`,
          label: oneLine(name),
          hint: id,
        }));
        const who = await ask.several('Who worked on it? (none is fine)', choices, false);
        return who === null ? null : { ...now, picked: [...now.picked, ...who] };
      },
    },
    ...picked.map(({ id, name }) => hoursStep(id, `${oneLine(name)}: how long, in h?`)),
  ];
}

function hoursStep(by: string, question: string): Step {
  return {
    key: `hours:${by}`,
    run: async (begun, { ask }) => {
      const typed = await ask.text(`${question} (Enter for none)`, {
        refuse: refuser((answer) => remarkValue(completed(answer, 'h'), 'time')),
      });
      if (typed === null) return null;
      if (typed.trim() === '') return begun;
      const hours = [...begun.draft.hours, { by, spent: completed(typed, 'h') }];
      return withDraft(begun, { hours });
    },
  };
}

/** What can happen to a part, and how it is said. */
export const MOVES: readonly (readonly [PartMoveWord, string])[] = [
  ['ordered', 'ordered'],
  ['arrived', 'arrived'],
  ['fitted', 'fitted'],
  ['removed', 'taken out'],
  ['moved', 'moved to another place aboard'],
  ['returned', 'sent back'],
  ['sold', 'sold'],
  ['scrapped', 'scrapped'],
];

const NEW = '+';

function partStep(none: (begun: Begun) => Begun): Step['run'] {
  return async (begun, asking) => {
    const { ask, facts } = asking;
    const known = facts.systems
      .filter(({ id }) => begun.draft.systems.includes(id))
      .flatMap(({ parts }) => parts)
      .map(
        ({ id, what, lastMove, on }): Choice => ({
          value: id,
          label: oneLine(what ?? id),
          hint: `${lastMove} ${on}`,
        }),
      );
    const which = await ask.one('A part ordered, come, fitted or taken out?', [
      { value: '', label: begun.draft.parts.length === 0 ? 'no' : 'no more' },
      { value: NEW, label: 'one that the book does not know yet' },
      ...known,
    ]);
    if (which === null) return null;
    if (which === '') return none(begun);
    const part = which === NEW ? await newPart(begun, asking) : { part: which };
    return part === null ? null : movePart(begun, part, asking);
  };
}

async function newPart(
  begun: Begun,
  { ask, facts }: Asking,
): Promise<Pick<DraftPart, 'part' | 'what'> | null> {
  const what = await ask.text('What is it?', { refuse: needed });
  if (what === null) return null;
  const taken = [...facts.taken.parts, ...begun.draft.parts.map(({ part }) => part)];
  return { part: nameFrom(what, taken), what: oneLine(what) };
}

/** Only the moves that the part can make from where it is. */
async function movePart(
  begun: Begun,
  part: Pick<DraftPart, 'part' | 'what'>,
  { ask, facts }: Asking,
): Promise<Begun | null> {
  const { parts } = begun.draft;
  const moves = MOVES.filter(([move]) => remarkPart({ ...part, move }, facts, parts).length === 0);
  const chosen = await ask.one(
    `${part.what ?? part.part}: what happened to it?`,
    moves.map(([value, label]) => ({ value, label })),
  );
  const move = moves.find(([value]) => value === chosen)?.[0];
  if (move === undefined) return null;
  const currency = facts.currency ?? '';
  const typed = await ask.text(
    `What was paid${currency === '' ? '' : `, in ${currency}`}? (Enter for nothing)`,
    {
      refuse: refuser((answer): readonly Remark[] => remarkMoney(completed(answer, currency))),
    },
  );
  if (typed === null) return null;
  const cost = typed.trim() === '' ? {} : { cost: completed(typed, currency) };
  return withDraft(begun, { parts: [...parts, { ...part, move, ...cost }] });
}

function photoStep(none: (begun: Begun) => Begun): Step['run'] {
  return async (begun, { ask, cwd }) => {
    const { photos, date } = begun.draft;
    const path = await ask.text('A picture to take in: its path (Enter for none)', {
      refuse: (typed) => (typed.trim() === '' ? null : wrongPicture(pathOf(typed, cwd))),
    });
    if (path === null) return null;
    if (path.trim() === '') return none(begun);
    const alt = await ask.text('What does it show?', { refuse: needed });
    if (alt === null) return null;
    const file = photoFile(
      date,
      alt,
      photos.map((photo) => photo.file),
    );
    const next = withDraft(begun, { photos: [...photos, { file, alt: oneLine(alt) }] });
    return { ...next, pictures: { ...next.pictures, [file]: pathOf(path, cwd) } };
  };
}

/** A path as typed or dropped onto a terminal: quotes and escaped blanks are the shell's, `~` is home. */
export function pathOf(typed: string, cwd: string): string {
  const plain = typed
    .trim()
    .replace(/^(['"])(.*)\1$/, '$2')
    .replaceAll('\\ ', ' ');
  return resolve(cwd, plain.replace(/^~(?=\/)/, homedir()));
}

/** What is wrong with the path of a picture, or null. */
export function wrongPicture(path: string): string | null {
  if (!existsSync(path)) return 'there is no such file.';
  if (!statSync(path).isFile()) return 'that is no file.';
  return /\.(?:jpe?g|png|webp)$/i.test(path) ? null : 'a picture is a JPEG, PNG or WebP file.';
}

const PROSE: Step = {
  key: 'prose',
  run: async (begun, { ask, keep }) => {
    const prose = await ask.long('In your own words: what did you do and see? (Tab, then Enter, ends it)', {
      initial: begun.draft.prose,
      keep: (text) => keep(withDraft(begun, { prose: text })),
    });
    return prose === null ? null : withDraft(begun, { prose });
  },
};
