import { completed, unitOfWritten } from '../../draft/complete.js';
import type { DraftReading, DraftTest } from '../../draft/draft.js';
import {
  instrumentOf,
  type Remark,
  remarkMeter,
  remarkReading,
  remarkTestValue,
  remarkValue,
} from '../../draft/remarks.js';
import { oneLine } from '../../draft/yaml.js';
import type { BookFacts, MeterFacts, PointFacts, SystemFacts, TestFacts } from '../../reckon/facts.js';
import { CAUTIONS_DEFER, cautionsFor } from '../../render/cautions.js';
import type { Choice } from '../effects.js';
import type { Begun } from './kept.js';
import { type Step, withDraft } from './step.js';

/** The questions about one system: what was read, tested and done. */

/** Up to so many points are asked about one by one; of more it is asked first which were read. */
const FEW = 4;

/** The questions about a system, as far as earlier answers bring them up. */
export function systemSteps(system: SystemFacts, begun: Begun, facts: BookFacts): readonly Step[] {
  const { points, meters, tests, items, upkeep } = system;
  const isFew = points.length <= FEW;
  // Of one system alone its name need not be said again.
  const ofSystem = (question: string) =>
    begun.draft.systems.length > 1 ? `${oneLine(system.title)}. ${question}` : question;
  const isAsked = (ref: string) => isFew || begun.picked.includes(ref);
  const picked = tests.filter(({ ref }) => begun.picked.includes(ref));
  return [
    ...meters.map(meterStep),
    ...(isFew
      ? []
      : [pickStep(`points:${system.id}`, ofSystem('What did you read?'), points.map(pointChoice))]),
    ...points.filter(({ ref }) => isAsked(ref)).flatMap((point) => readingSteps(point, begun, facts)),
    ...(tests.length === 0
      ? []
      : [pickStep(`tests:${system.id}`, ofSystem('Which tests were done?'), tests.map(testChoice))]),
    ...picked.flatMap((test) => testSteps(test, system)),
    ...(items.length === 0
      ? []
      : [
          tickStep(
            `items:${system.id}`,
            'closes',
            ofSystem('What is done with it?'),
            items.map((item) => ({
              value: item.id,
              label: oneLine(item.what),
              hint: item.overdue ? `${item.id}, overdue` : item.id,
            })),
          ),
        ]),
    ...(upkeep.length === 0
      ? []
      : [
          tickStep(
            `upkeep:${system.id}`,
            'done',
            ofSystem('Which upkeep was done?'),
            upkeep.map(({ ref, what, due, overdue }) => ({
              value: ref,
              label: oneLine(what),
              hint: due === null ? ref : `${overdue ? 'was due' : 'due'} ${due}`,
            })),
          ),
        ]),
  ];
}

function lastTime(last: { readonly written: string; readonly date: string } | null): string {
  return last === null ? 'never read yet' : `last ${oneLine(last.written)} on ${last.date}`;
}

function pointChoice({ ref, title, unit, last }: PointFacts): Choice {
  return {
    value: ref,
    label: oneLine(title),
    hint: last === null && unit !== '1' ? `${unit}, never read yet` : lastTime(last),
  };
}

function testChoice({ ref, title, last }: TestFacts): Choice {
  const before = last === null ? 'never done yet' : `last ${last.outcome} on ${last.date}`;
  return { value: ref, label: oneLine(title), hint: before };
}

/** Asks what there is to be asked about. */
function pickStep(key: string, question: string, choices: readonly Choice[]): Step {
  return {
    key,
    run: async (begun, { ask }) => {
      const refs = await ask.several(`${question} (none is fine)`, choices, false);
      return refs === null ? null : { ...begun, picked: [...begun.picked, ...refs] };
    },
  };
}

/** Ticks things off. */
function tickStep(key: string, list: 'closes' | 'done', question: string, choices: readonly Choice[]): Step {
  return {
    key,
    run: async (begun, { ask }) => {
      const open = choices.filter(({ value }) => !begun.draft[list].includes(value));
      if (open.length === 0) return begun;
      const ticked = await ask.several(`${question} (none is fine)`, open, false);
      return ticked === null ? null : withDraft(begun, { [list]: [...begun.draft[list], ...ticked] });
    },
  };
}

/**
 * Refuses an answer that is wrong, and one that is only doubtful the first time: given again as it is, it is
 * meant.
 */
export function refuser(remarksOn: (answer: string) => readonly Remark[]): (answer: string) => string | null {
  let doubted: string | null = null;
  return (answer) => {
    if (answer.trim() === '' || answer === doubted) return null;
    const remarks = remarksOn(answer);
    const error = remarks.find(({ severity }) => severity === 'error');
    if (error !== undefined) return [error.message, error.hint].filter(Boolean).join(' ');
    const warning = remarks[0];
    if (warning === undefined) return null;
    doubted = answer;
    return `${warning.message} Enter once more if it is right.`;
  };
}

function inUnit(title: string, unit: string): string {
  return unit === '1' || unit === '' ? oneLine(title) : `${oneLine(title)}, in ${unit}`;
}

function meterStep(meter: MeterFacts): Step {
  return {
    key: `meter:${meter.ref}`,
    run: async (begun, { ask }) => {
      if (begun.draft.meters.some((one) => one.meter === meter.ref)) return begun;
      const typed = await ask.text(`${inUnit(meter.title, meter.unit)} (${lastTime(meter.last)})`, {
        refuse: refuser((answer) => remarkMeter(completed(answer, meter.unit), meter, false)),
      });
      if (typed === null) return null;
      if (typed.trim() === '') return begun;
      const reading = { meter: meter.ref, reads: completed(typed, meter.unit) };
      return withDraft(begun, { meters: [...begun.draft.meters, reading] });
    },
  };
}

/** The value, and where there is one: with what it was read, under which conditions, and why it is so far off. */
function readingSteps(point: PointFacts, begun: Begun, facts: BookFacts): readonly Step[] {
  const reading = begun.draft.measurements.find((one) => one.point === point.ref);
  const byGuide = begun.answered.includes(`read:${point.ref}`);
  return [valueStep(point), ...(reading === undefined || !byGuide ? [] : detailSteps(point, reading, facts))];
}

function valueStep(point: PointFacts): Step {
  return {
    key: `read:${point.ref}`,
    run: async (begun, { ask }) => {
      if (begun.draft.measurements.some((one) => one.point === point.ref)) return begun;
      const typed = await ask.text(`${inUnit(point.title, point.unit)} (${lastTime(point.last)})`, {
        refuse: refuser((answer) => remarkReading({ value: completed(answer, point.unit) }, point, null)),
      });
      if (typed === null) return null;
      if (typed.trim() === '') return begun;
      const reading = { point: point.ref, value: completed(typed, point.unit) };
      return withDraft(begun, { measurements: [...begun.draft.measurements, reading] });
    },
  };
}

function detailSteps(point: PointFacts, reading: DraftReading, facts: BookFacts): readonly Step[] {
  const able = facts.instruments.filter(({ abilities }) => abilities.some(({ kind }) => kind === point.kind));
  const isDoubted = remarkReading({ value: reading.value }, point, null).length > 0;
  return [
    ...(able.length === 0 ? [] : [instrumentStep(point, able)]),
    ...point.conditions.map((condition) => conditionStep(point, condition)),
    ...(isDoubted ? [noteStep(point)] : []),
  ];
}

function change(begun: Begun, ref: string, fields: Partial<DraftReading>): Begun {
  const measurements = begun.draft.measurements.map((one) =>
    one.point === ref ? { ...one, ...fields } : one,
  );
  return withDraft(begun, { measurements });
}

const NONE = '-';

/** The instrument of the last time stands first; one that cannot have shown the value is said at once. */
function instrumentStep(point: PointFacts, able: BookFacts['instruments']): Step {
  return {
    key: `with:${point.ref}`,
    run: async (begun, { ask, facts, say }) => {
      const value = begun.draft.measurements.find((one) => one.point === point.ref)?.value ?? '';
      const isLast = ({ id }: { readonly id: string }) => Number(id === point.last?.with);
      const choices = able
        .toSorted((a, b) => isLast(b) - isLast(a))
        .map(({ id, name }) => ({ value: id, label: oneLine(name), hint: id }));
      const none = { value: NONE, label: 'not noted' };
      const ordered = point.last?.with == null ? [none, ...choices] : [...choices, none];
      for (;;) {
        const chosen = await ask.one(`${oneLine(point.title)}, ${value}: read with what?`, ordered);
        if (chosen === null || chosen === NONE) return chosen === null ? null : begun;
        const wrong = remarkReading({ value, note: NONE }, point, instrumentOf(chosen, facts));
        if (wrong.length === 0) return change(begun, point.ref, { with: chosen });
        say(wrong.map(({ message }) => message).join('\n'));
      }
    },
  };
}

function conditionStep(point: PointFacts, condition: PointFacts['conditions'][number]): Step {
  return {
    key: `under:${point.ref}:${condition.name}`,
    run: async (begun, { ask }) => {
      const before = condition.written === '' ? 'with its unit' : `last ${condition.written}`;
      const question = `${oneLine(point.title)}: ${condition.name} at that time (${before}; Enter if not noted)`;
      const unit = unitOfWritten(condition.written);
      const typed = await ask.text(question, {
        refuse: refuser((answer) => (unit === '' ? [] : remarkValue(completed(answer, unit), null))),
      });
      if (typed === null) return null;
      if (typed.trim() === '') return begun;
      const reading = begun.draft.measurements.find((one) => one.point === point.ref);
      const under = { ...reading?.under, [condition.name]: completed(typed, unit) };
      return change(begun, point.ref, { under });
    },
  };
}

function noteStep(point: PointFacts): Step {
  return {
    key: `note:${point.ref}`,
    run: async (begun, { ask }) => {
      const note = await ask.text(`${oneLine(point.title)}: a word on why it reads so (Enter for none)`, {});
      if (note === null) return null;
      return note.trim() === '' ? begun : change(begun, point.ref, { note: oneLine(note) });
    },
  };
}

/** The cautions and the steps first, then each value that the test requires. */
function testSteps(test: TestFacts, system: SystemFacts): readonly Step[] {
  return [
    { key: `test:${test.ref}`, run: cautionsBefore(test) },
    ...test.requires.map((required): Step => {
      const point = system.points.find(({ ref }) => ref === `${system.id}.${required.name}`) ?? null;
      return { key: `test:${test.ref}:${required.name}`, run: requiredStep(test, required, point) };
    }),
  ];
}

function cautionsBefore(test: TestFacts): Step['run'] {
  return async (begun, { ask, say }) => {
    say(testWords(test));
    const question = `${oneLine(test.title)}: the cautions are read, and it was done?`;
    const answer = await ask.one(question, [
      { value: 'yes', label: 'yes, go on with what was read' },
      { value: 'no', label: 'no, leave this test out' },
    ]);
    if (answer === null) return null;
    return answer === 'yes' ? begun : { ...begun, picked: begun.picked.filter((ref) => ref !== test.ref) };
  };
}

/** What to be careful of, who comes first, and how it is done. */
function testWords({ title, hazards, steps }: TestFacts): string {
  const cautions = cautionsFor(hazards).flatMap(({ title: danger, facts }) => [
    `${danger}:`,
    ...facts.map(({ text, source }) => `  - ${text} (${source})`),
  ]);
  return [
    oneLine(title),
    ...cautions,
    ...(cautions.length === 0 ? [] : [CAUTIONS_DEFER]),
    ...steps.map((step, index) => `${index + 1}. ${oneLine(step)}`),
  ].join('\n');
}

function requiredStep(
  test: TestFacts,
  required: TestFacts['requires'][number],
  point: PointFacts | null,
): Step['run'] {
  return async (begun, { ask }) => {
    const run = begun.draft.tests.find((one) => one.test === test.ref);
    if (run?.readings[required.name] !== undefined) return begun;
    const known = begun.draft.measurements.find((one) => one.point === point?.ref && point !== null)?.value;
    const unit = required.unit === '' || required.kind === null ? '' : `, in ${required.unit}`;
    const title = oneLine(point?.title ?? required.name.replaceAll('-', ' '));
    const remarksOn = (answer: string) =>
      remarkTestValue(completed(answer, required.unit), required.kind, point, null);
    const refuse = refuser(remarksOn);
    const typed = await ask.text(`${oneLine(test.title)}: ${title}${unit} (required ${required.written})`, {
      refuse: (answer) =>
        answer.trim() === '' ? 'the test requires it; Ctrl-C keeps what there is.' : refuse(answer),
      ...(known === undefined ? {} : { initial: known }),
    });
    if (typed === null) return null;
    const value = required.kind === null ? oneLine(typed) : completed(typed, required.unit);
    return withDraft(begun, { tests: withValue(begun.draft.tests, test.ref, required.name, value) });
  };
}

function withValue(
  tests: readonly DraftTest[],
  test: string,
  name: string,
  value: string,
): readonly DraftTest[] {
  const run = tests.find((one) => one.test === test);
  if (run === undefined) return [...tests, { test, readings: { [name]: value } }];
  return tests.map((one) => (one === run ? { ...one, readings: { ...one.readings, [name]: value } } : one));
}
