import type { Draft, DraftReading } from '../../draft/draft.js';
import { oneLine } from '../../draft/yaml.js';
import type { BookFacts, SystemFacts } from '../../reckon/facts.js';
import type { Choice } from '../effects.js';
import type { Begun } from './kept.js';
import { reopened, withoutKeys } from './reopen.js';
import type { Asking } from './step.js';

/** The last question: all that was said, of which any answer can be changed before it is written. */

/** What a row of the list stands for, and the entry with its question open again. */
interface Row {
  readonly label: string;
  readonly reopen: () => Begun;
}

/** @returns 'write', the entry with a question open again, or null to stop. */
export async function review(
  begun: Begun,
  asking: Pick<Asking, 'ask' | 'facts'>,
): Promise<Begun | 'write' | null> {
  const { ask, facts } = asking;
  const rows = rowsOf(begun, facts);
  const passed = passedOver(begun, facts);
  const more: readonly Choice[] =
    passed.length === 0 ? [] : [{ value: MORE, label: 'add something that was passed over' }];
  const chosen = await ask.one('Write it so? Or choose what to change', [
    { value: '', label: 'yes, write it' },
    ...choicesOf(rows),
    ...more,
  ]);
  if (chosen === null) return null;
  if (chosen === '') return 'write';
  if (chosen !== MORE) return rows[Number(chosen)]?.reopen() ?? begun;
  const which = await ask.one('What was passed over?', choicesOf(passed));
  return which === null ? null : (passed[Number(which)]?.reopen() ?? begun);
}

const MORE = '+';

function choicesOf(rows: readonly Row[]): readonly Choice[] {
  return rows.map(({ label }, index) => ({ value: String(index), label }));
}

/** So much of the words as shows which they are. */
const WORDS_SHOWN = 60;

/** Everything that was said, in the order in which it is written. */
function rowsOf(begun: Begun, facts: BookFacts): readonly Row[] {
  const { draft } = begun;
  const systems = chosen(draft, facts);
  const whole = (field: keyof Draft, label: string): Row => ({
    label,
    reopen: () => reopened(begun, [[field]]),
  });
  const each = <T>(
    field: keyof Draft,
    items: readonly T[],
    say: (item: T) => string,
    pick?: (item: T) => string,
  ) =>
    items.map(
      (item, index): Row => ({
        label: oneLine(say(item)),
        reopen: () => {
          const again = reopened(begun, [[field, index]]);
          return pick === undefined ? again : { ...again, picked: [...again.picked, pick(item)] };
        },
      }),
    );
  const titled = (ref: string | undefined, of: 'points' | 'meters' | 'tests') =>
    systems.flatMap((system) => [...system[of]]).find((one) => one.ref === ref)?.title ?? ref ?? '';
  const words = oneLine(draft.prose);
  const names = systems.map(({ title }) => oneLine(title)).join(', ');
  return [
    whole('date', `day: ${draft.date}`),
    whole('title', `about: ${oneLine(draft.title)}`),
    whole('systems', `systems: ${names}`),
    ...(draft.hours.length === 0 ? [] : [hoursRow(begun, facts)]),
    ...each('meters', draft.meters, ({ meter, reads }) => `${titled(meter, 'meters')}: ${reads}`),
    ...each(
      'measurements',
      draft.measurements,
      (one) => readingWords(one, titled(one.point, 'points')),
      ({ point }) => point ?? '',
    ),
    ...each(
      'tests',
      draft.tests,
      ({ test, readings }) => `${titled(test, 'tests')}: ${Object.values(readings).join(', ')}`,
      ({ test }) => test,
    ),
    ...each('parts', draft.parts, (one) =>
      [`part: ${one.what ?? one.part} ${one.move}`, one.cost, restWords(one)].filter(Boolean).join(', '),
    ),
    ...each('decisions', draft.decisions, (one) =>
      [`decided: ${one.question} ${one.chose}`, restWords(one)].filter(Boolean).join(', '),
    ),
    ...each('opens', draft.opens, (one) =>
      [`left to do: ${one.what}`, one.size, restWords(one)].filter(Boolean).join(', '),
    ),
    ...(draft.closes.length === 0 ? [] : [whole('closes', `done with it: ${draft.closes.join(', ')}`)]),
    ...(draft.done.length === 0 ? [] : [whole('done', `upkeep: ${draft.done.join(', ')}`)]),
    ...each('photos', draft.photos, ({ alt }) => `picture: ${alt}`),
    ...(words === ''
      ? []
      : [
          whole(
            'prose',
            `your words: ${words.length > WORDS_SHOWN ? `${words.slice(0, WORDS_SHOWN)} …` : words}`,
          ),
        ]),
  ];
}

function chosen({ systems }: Draft, facts: BookFacts): readonly SystemFacts[] {
  return systems.flatMap((id) => facts.systems.find((system) => system.id === id) ?? []);
}

/** A thing named in plain words comes from an option: no question asks for it, it can only be left out. */
function readingWords({ what, value }: DraftReading, title: string): string {
  return what === undefined ? `${title}: ${value}` : `${what}: ${value} (takes it out)`;
}

function restWords(told: { readonly 'rests-on'?: readonly string[] }): string {
  const refs = told['rests-on'] ?? [];
  return refs.length === 0 ? '' : `rests on ${refs.join(', ')}`;
}

/** Who worked is asked in one question: all hours are asked again together. */
function hoursRow(begun: Begun, { people }: BookFacts): Row {
  const nameOf = (by: string) => people.find(({ id }) => id === by)?.name ?? by;
  return {
    label: oneLine(`hours: ${begun.draft.hours.map(({ by, spent }) => `${nameOf(by)} ${spent}`).join(', ')}`),
    reopen: () => {
      const { draft, answered, picked, pictures } = reopened(begun, [['hours']]);
      return {
        draft,
        answered: withoutKeys(answered, ['who', 'hours']),
        picked: picked.filter((one) => !one.startsWith('hours:')),
        pictures,
      };
    },
  };
}

/** Questions that were answered with nothing, and those that can be answered once more. */
function passedOver(begun: Begun, facts: BookFacts): readonly Row[] {
  const { draft, answered } = begun;
  const row = (label: string, ...keys: readonly string[]): readonly Row[] => {
    const left = withoutKeys(answered, keys);
    return left.length === answered.length
      ? []
      : [{ label: oneLine(label), reopen: () => ({ ...begun, answered: left }) }];
  };
  const ofSystem = ({ id, title, points, meters, items, upkeep }: SystemFacts) => [
    ...meters
      .filter(({ ref }) => !draft.meters.some(({ meter }) => meter === ref))
      .flatMap((one) => row(one.title, `meter:${one.ref}`)),
    ...row(`${title}: what was read`, `points:${id}`),
    ...points
      .filter(({ ref }) => !draft.measurements.some(({ point }) => point === ref))
      .flatMap((one) => row(one.title, `read:${one.ref}`)),
    ...row(`${title}: a test`, `tests:${id}`),
    ...(items.some((item) => !draft.closes.includes(item.id))
      ? row(`${title}: work that is done`, `items:${id}`)
      : []),
    ...(upkeep.some(({ ref }) => !draft.done.includes(ref)) ? row(`${title}: upkeep`, `upkeep:${id}`) : []),
  ];
  return [
    ...chosen(draft, facts).flatMap(ofSystem),
    ...(draft.hours.length === 0 ? row('hours', 'who', 'hours') : []),
    ...row('a part', 'part:none', `part:${draft.parts.length}`),
    ...row('a decision', 'decision:none', `decision:${draft.decisions.length}`),
    ...row('work that is left to do', 'open:none', `open:${draft.opens.length}`),
    ...row('a picture', 'photo:none', `photo:${draft.photos.length}`),
    ...(draft.prose.trim() === '' ? row('your words', 'prose') : []),
  ];
}
