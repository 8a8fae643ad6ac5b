import type { VNode } from 'preact';
import { moveSaid } from '../../../src/check/rules/parts.js';
import { unitOfWritten } from '../../../src/draft/complete.js';
import type { PartMoveWord } from '../../../src/draft/draft.js';
import { isSpentOn } from '../../../src/draft/grounds.js';
import type { BookFacts, PartFacts, PointFacts, TestFacts } from '../../../src/reckon/facts.js';
import { dayWords } from '../../../src/render/words.js';
import { CautionFacts } from '../../templates/cautions.js';
import type { Remarks } from './checks.js';
import type { WriteData } from './data.js';
import { Card, Field, focusOnceShown, Measure, Part, Tick, textOf } from './fields.js';
import { chosen, groundsFor, type PartRow, pointOf, type ReadingRow, type TestRow, testOf } from './form.js';
import { Grounds } from './resting.js';
import { changed, type SectionProps, withAgain, without } from './rows.js';

/** The parts of the form, each for one sort of answer. */

/** What it was about, when, and which systems. */
export function Head({ form, data, remarks, change }: SectionProps): VNode {
  return (
    <Part id="head" heading="What it is about">
      <Field id="title" label="Title" help={data.help['title']} remarks={remarks.get('title')}>
        {(marks) => (
          <input
            {...marks}
            type="text"
            autocomplete="off"
            enterkeyhint="next"
            maxLength={500}
            value={form.title}
            onInput={(event) => change({ title: textOf(event) })}
          />
        )}
      </Field>
      <Field id="date" label="Day" help={data.help['date']} remarks={remarks.get('date')}>
        {(marks) => (
          <input
            {...marks}
            type="date"
            value={form.date}
            onInput={(event) => change({ date: textOf(event) })}
          />
        )}
      </Field>
    </Part>
  );
}

/** So many systems are shown at once; the rest are one tap away. */
const SHOWN = 6;

export function Systems({ form, data, remarks, change }: SectionProps): VNode {
  const { systems } = data.facts;
  const chip = ({ id, title }: BookFacts['systems'][number]) => (
    <Tick
      name="system"
      isOn={form.systems.includes(id)}
      onChange={(isOn) =>
        change({ systems: isOn ? [...form.systems, id] : form.systems.filter((one) => one !== id) })
      }
    >
      {title}
    </Tick>
  );
  // One that is chosen stays in sight.
  const isNear = (id: string, at: number) => at < SHOWN || form.systems.includes(id);
  const far = systems.filter(({ id }, at) => !isNear(id, at));
  return (
    <Part id="systems" heading="Systems" note="Worked on lately first; the main one is the first you tap.">
      <div class="chips">{systems.filter(({ id }, at) => isNear(id, at)).map(chip)}</div>
      {far.length === 0 ? null : (
        <details>
          <summary>{far.length} more systems</summary>
          <div class="chips">{far.map(chip)}</div>
        </details>
      )}
      <Missing id="systems-field" remarks={remarks} name="systems" />
    </Part>
  );
}

function Missing({ id, remarks, name }: { id: string; remarks: Remarks; name: string }): VNode {
  return (
    <div class="said" id={id} role="status">
      {(remarks.get(name) ?? []).map(({ message }) => (
        <p class="error">{message}</p>
      ))}
    </div>
  );
}

function lastTime(last: { readonly written: string; readonly date: string } | null): string {
  return last === null ? 'Never read yet.' : `Last ${last.written} on ${dayWords(last.date)}.`;
}

export function Readings(props: SectionProps): VNode {
  const { form, data, change } = props;
  const add = (point: PointFacts | null) => {
    // The next tap would be on the value: its keys come up at once.
    focusOnceShown(`reading-${form.next}${point === null ? '-what' : ''}`);
    change({
      next: form.next + 1,
      readings: [
        ...form.readings,
        {
          id: form.next,
          point: point?.ref ?? '',
          what: '',
          typed: '',
          unit: point?.unit ?? '',
          with: point?.last?.with ?? '',
          under: {},
          note: '',
        },
      ],
    });
  };
  return (
    <Part id="readings" heading="Readings" note={data.help['measurements']}>
      {form.readings.map((row) => (
        <Reading {...props} row={row} />
      ))}
      {chosen(form, data.facts).map(({ title, points }) => {
        const left = points.filter(({ ref }) => !form.readings.some((row) => row.point === ref));
        return left.length === 0 ? null : (
          <details class="offers" open={points.length <= 12}>
            <summary>{title}: points</summary>
            <ul>
              {left.map((point) => (
                <li>
                  <button type="button" class="offer" onClick={() => add(point)}>
                    {point.title} <small class="line">{lastTime(point.last)}</small>
                  </button>
                </li>
              ))}
            </ul>
          </details>
        );
      })}
      <button type="button" class="add" onClick={() => add(null)}>
        Something else that was measured
      </button>
    </Part>
  );
}

function Reading({ form, data, remarks, change, takeOut, row }: SectionProps & { row: ReadingRow }): VNode {
  const point = pointOf(row.point, data.facts);
  const id = `reading-${row.id}`;
  const set = (fields: Partial<ReadingRow>) => change({ readings: changed(form.readings, row.id, fields) });
  const title = point?.title ?? (row.what.trim() || 'Something else');
  return (
    <Card
      id={`${id}-card`}
      title={title}
      note={
        point === null
          ? null
          : `${lastTime(point.last)}${point.where === null ? '' : ` Where: ${point.where}.`}`
      }
      onRemove={() =>
        takeOut({
          title,
          out: (now) => ({ readings: without(now.readings, row.id) }),
          back: (now) => ({ readings: withAgain(now.readings, row, form.readings) }),
        })
      }
    >
      {point !== null ? null : (
        <Field id={`${id}-what`} label="What was measured" help={data.help['measurements[].what']}>
          {(marks) => (
            <input
              {...marks}
              type="text"
              value={row.what}
              onInput={(event) => set({ what: textOf(event) })}
            />
          )}
        </Field>
      )}
      <Field
        id={id}
        label={
          <>
            Value<span class="quiet">: {title}</span>
          </>
        }
        help={point === null ? data.help['measurements[].value'] : undefined}
        remarks={remarks.get(id)}
      >
        {(marks) => (
          <Measure
            marks={marks}
            typed={row.typed}
            unit={row.unit}
            point={point}
            onTyped={(typed) => set({ typed })}
            onUnit={(unit) => set({ unit })}
          />
        )}
      </Field>
      <ReadingDetails data={data} row={row} point={point} id={id} set={set} />
    </Card>
  );
}

interface DetailProps {
  readonly data: WriteData;
  readonly row: ReadingRow;
  readonly point: PointFacts | null;
  readonly id: string;
  readonly set: (fields: Partial<ReadingRow>) => void;
}

/** How it was taken. Conditions at which a point is compared are asked at once: without them it counts for less. */
function ReadingDetails({ data, row, point, id, set }: DetailProps): VNode {
  const able = data.facts.instruments.filter(
    ({ abilities }) => point === null || abilities.some(({ kind }) => kind === point.kind),
  );
  return (
    <>
      {(point?.conditions ?? []).map(({ name, written }) => (
        <Field
          id={`${id}-${name}`}
          label={`At that time: ${name.replaceAll('-', ' ')}${written === '' ? '' : ` (last ${written})`}`}
        >
          {(marks) => (
            <Measure
              marks={marks}
              typed={row.under[name] ?? ''}
              unit={unitOfWritten(written)}
              point={null}
              onTyped={(typed) => set({ under: { ...row.under, [name]: typed } })}
              onUnit={null}
            />
          )}
        </Field>
      ))}
      {able.length === 0 ? null : (
        <Field id={`${id}-with`} label="Read with" help={data.help['measurements[].with']}>
          {(marks) => (
            <select {...marks} value={row.with} onChange={(event) => set({ with: textOf(event) })}>
              <option value="">not noted</option>
              {able.map(({ id: instrument, name }) => (
                <option value={instrument}>{name}</option>
              ))}
            </select>
          )}
        </Field>
      )}
      <Field id={`${id}-note`} label="A note on it" help={data.help['measurements[].note']}>
        {(marks) => (
          <input
            {...marks}
            type="text"
            maxLength={500}
            value={row.note}
            onInput={(event) => set({ note: textOf(event) })}
          />
        )}
      </Field>
    </>
  );
}

export function Meters({ form, data, remarks, change }: SectionProps): VNode | null {
  const meters = chosen(form, data.facts).flatMap(({ meters: all }) => all);
  if (meters.length === 0) return null;
  return (
    <Part id="meters" heading="Meters" note={data.help['meters']}>
      {meters.map(({ ref, title, unit, last }) => (
        <Field id={`meter-${ref}`} label={title} help={lastTime(last)} remarks={remarks.get(`meter-${ref}`)}>
          {(marks) => (
            <Measure
              marks={marks}
              typed={form.meters[ref] ?? ''}
              unit={unit}
              point={{ kind: 'time', unit, last: null }}
              onTyped={(typed) => change({ meters: { ...form.meters, [ref]: typed } })}
              onUnit={null}
            />
          )}
        </Field>
      ))}
    </Part>
  );
}

export function Tests(props: SectionProps): VNode | null {
  const { form, data, change } = props;
  const systems = chosen(form, data.facts).filter(({ tests }) => tests.length > 0);
  if (systems.length === 0) return null;
  const add = ({ ref, hazards, steps }: TestFacts) =>
    change({
      next: form.next + 1,
      tests: [
        ...form.tests,
        { id: form.next, test: ref, isCautioned: hazards.length === 0 && steps.length === 0, typed: {} },
      ],
    });
  const left = systems
    .flatMap(({ tests }) => tests)
    .filter(({ ref }) => !form.tests.some((row) => row.test === ref));
  return (
    <Part id="tests" heading="Tests" note={data.help['tests']}>
      {form.tests.map((row) => (
        <Test {...props} row={row} />
      ))}
      <ul class="offers">
        {left.map((test) => (
          <li>
            <button type="button" class="offer" onClick={() => add(test)}>
              {test.title}
              <small class="line">
                {test.last === null
                  ? 'Never done yet.'
                  : `Last ${test.last.outcome} on ${dayWords(test.last.date)}.`}
              </small>
            </button>
          </li>
        ))}
      </ul>
    </Part>
  );
}

function Test({ form, data, remarks, change, takeOut, row }: SectionProps & { row: TestRow }): VNode | null {
  const test = testOf(row.test, data.facts);
  if (test === null) return null;
  const id = `test-${row.id}`;
  const set = (fields: Partial<TestRow>) => change({ tests: changed(form.tests, row.id, fields) });
  return (
    <Card
      id={`${id}-card`}
      title={test.title}
      onRemove={() =>
        takeOut({
          title: test.title,
          out: (now) => ({ tests: without(now.tests, row.id) }),
          back: (now) => ({ tests: withAgain(now.tests, row, form.tests) }),
        })
      }
    >
      <Before test={test} data={data} isRead={row.isCautioned} onRead={() => set({ isCautioned: true })} />
      {!row.isCautioned
        ? null
        : test.requires.map((required) => (
            <Required test={row} required={required} data={data} remarks={remarks} set={set} />
          ))}
      <Missing id={`${id}-field`} remarks={remarks} name={id} />
    </Card>
  );
}

interface BeforeProps {
  readonly test: TestFacts;
  readonly data: WriteData;
  readonly isRead: boolean;
  readonly onRead: () => void;
}

/** The cautions and the steps of a test: before anything is asked about it, and folded away when they are read. */
function Before({ test, data, isRead, onRead }: BeforeProps): VNode {
  const cautions = data.cautions.filter(({ hazard }) => test.hazards.includes(hazard));
  const words = (
    <>
      {cautions.length === 0 ? null : <p class="caution-lead">{data.cautionsDefer}</p>}
      {cautions.map(({ title, facts }) => (
        <CautionFacts title={title} facts={facts} />
      ))}
      {test.steps.length === 0 ? null : (
        <>
          <h3>How it is done</h3>
          <ol>
            {test.steps.map((step) => (
              <li>{step}</li>
            ))}
          </ol>
        </>
      )}
    </>
  );
  if (isRead)
    return (
      <details>
        <summary>Cautions and steps</summary>
        {words}
      </details>
    );
  return (
    <div class="cautions-first">
      {words}
      <button type="button" class="add" onClick={onRead}>
        Read. Go on with what was measured
      </button>
    </div>
  );
}

interface RequiredProps {
  readonly test: TestRow;
  readonly required: TestFacts['requires'][number];
  readonly data: WriteData;
  readonly remarks: Remarks;
  readonly set: (fields: Partial<TestRow>) => void;
}

function Required({ test, required, data, remarks, set }: RequiredProps): VNode {
  const { name, kind, written, unit } = required;
  const point = pointOf(`${test.test.slice(0, test.test.indexOf('.'))}.${name}`, data.facts);
  const id = `test-${test.id}-${name}`;
  return (
    <Field
      id={id}
      label={point?.title ?? name.replaceAll('-', ' ')}
      help={`Required: ${written}`}
      remarks={remarks.get(id)}
    >
      {(marks) => (
        <Measure
          marks={marks}
          typed={test.typed[name] ?? ''}
          unit={kind === null ? '' : unit}
          point={kind === null ? null : { kind, unit, last: point?.last ?? null }}
          onTyped={(typed) => set({ typed: { ...test.typed, [name]: typed } })}
          onUnit={null}
        />
      )}
    </Field>
  );
}

/** Open items and upkeep to tick, what is due first. */
export function Ticks({ form, data, change }: SectionProps): VNode | null {
  const systems = chosen(form, data.facts);
  const items = systems.flatMap(({ items: all }) => all);
  const upkeep = systems
    .flatMap(({ upkeep: all }) => all)
    .toSorted((a, b) => ((a.due ?? '9') < (b.due ?? '9') ? -1 : 1));
  if (items.length + upkeep.length === 0) return null;
  const toggle = (list: 'closes' | 'done', name: string, isOn: boolean) =>
    change({ [list]: isOn ? [...form[list], name] : form[list].filter((one) => one !== name) });
  return (
    <Part id="ticks" heading="Done with it">
      {items.map(({ id, what, overdue }) => (
        <Tick
          name="closes"
          isOn={form.closes.includes(id)}
          note={overdue ? 'Overdue.' : null}
          onChange={(isOn) => toggle('closes', id, isOn)}
        >
          {what}
        </Tick>
      ))}
      {upkeep.length === 0 ? null : <h3>Upkeep</h3>}
      {upkeep.map(({ ref, what, due, overdue }) => (
        <Tick
          name="done"
          isOn={form.done.includes(ref)}
          note={due === null ? null : `${overdue ? 'Was due' : 'Due'} ${dayWords(due)}.`}
          onChange={(isOn) => toggle('done', ref, isOn)}
        >
          {what}
        </Tick>
      ))}
    </Part>
  );
}

const MOVES: readonly (readonly [PartMoveWord, string])[] = [
  ['ordered', 'was ordered'],
  ['arrived', 'arrived'],
  ['fitted', 'was fitted'],
  ['removed', 'was taken out'],
  ['moved', 'was moved to another place aboard'],
  ['returned', 'was sent back'],
  ['sold', 'was sold'],
  ['scrapped', 'was scrapped'],
];

export function Parts(props: SectionProps): VNode {
  const { form, data, change } = props;
  const known = chosen(form, data.facts).flatMap(({ parts }) => parts);
  const add = () =>
    change({
      next: form.next + 1,
      parts: [
        ...form.parts,
        { id: form.next, part: '', what: '', move: 'ordered', cost: '', supplier: '', due: '', rests: [] },
      ],
    });
  return (
    <Part id="parts" heading="Parts" note={data.help['parts']}>
      {form.parts.map((row) => (
        <PartCard {...props} row={row} known={known} />
      ))}
      <button type="button" class="add" onClick={add}>
        Add a part
      </button>
    </Part>
  );
}

function PartCard(props: SectionProps & { row: PartRow; known: readonly PartFacts[] }): VNode {
  const { form, data, remarks, change, takeOut, row, known } = props;
  const id = `part-${row.id}`;
  const set = (fields: Partial<PartRow>) => change({ parts: changed(form.parts, row.id, fields) });
  const part = known.find((one) => one.id === row.part);
  const title = part?.what ?? (row.part || row.what.trim() || 'A part');
  const lastMoves = new Map(known.map((one) => [one.id, one.lastMove] as const));
  const isPossible = (move: PartMoveWord) => moveSaid(row.part, move, lastMoves) === null;
  const pick = (name: string) => {
    const move = MOVES.find(([one]) => moveSaid(name, one, lastMoves) === null && one !== 'ordered')?.[0];
    set({ part: name, move: move ?? 'ordered' });
  };
  return (
    <Card
      id={`${id}-card`}
      title={title}
      onRemove={() =>
        takeOut({
          title,
          out: (now) => ({ parts: without(now.parts, row.id) }),
          back: (now) => ({ parts: withAgain(now.parts, row, form.parts) }),
        })
      }
    >
      {known.length === 0 ? null : (
        <Field id={`${id}-part`} label="Which part">
          {(marks) => (
            <select {...marks} value={row.part} onChange={(event) => pick(textOf(event))}>
              <option value="">a new one</option>
              {known.map((one) => (
                <option
                  value={one.id}
                >{`${one.what ?? one.id} (${one.lastMove} ${dayWords(one.on)})`}</option>
              ))}
            </select>
          )}
        </Field>
      )}
      {row.part !== '' ? null : (
        <Field id={`${id}-what`} label="What it is" help={data.help['parts[].what']}>
          {(marks) => (
            <input
              {...marks}
              type="text"
              maxLength={500}
              value={row.what}
              onInput={(event) => set({ what: textOf(event) })}
            />
          )}
        </Field>
      )}
      <Field id={id} label="What happened to it" remarks={remarks.get(id)}>
        {(marks) => (
          <select
            {...marks}
            value={row.move}
            onChange={(event) => set({ move: textOf(event) as PartMoveWord })}
          >
            {MOVES.filter(([move]) => move === row.move || isPossible(move)).map(([move, words]) => (
              <option value={move}>{words}</option>
            ))}
          </select>
        )}
      </Field>
      <Field id={`${id}-cost`} label="Paid" help={data.help['parts[].cost']}>
        {(marks) => (
          <div class="measure">
            <input
              {...marks}
              type="text"
              inputMode="decimal"
              value={row.cost}
              onInput={(event) => set({ cost: textOf(event) })}
            />
            {data.facts.currency === null ? null : <span class="unit">{data.facts.currency}</span>}
          </div>
        )}
      </Field>
      <Field id={`${id}-supplier`} label="From whom">
        {(marks) => (
          <input
            {...marks}
            type="text"
            maxLength={500}
            value={row.supplier}
            onInput={(event) => set({ supplier: textOf(event) })}
          />
        )}
      </Field>
      {row.move !== 'ordered' ? null : (
        <Field id={`${id}-due`} label="Promised for" help={data.help['parts[].due']}>
          {(marks) => (
            <input {...marks} type="date" value={row.due} onInput={(event) => set({ due: textOf(event) })} />
          )}
        </Field>
      )}
      {!isSpentOn(row.move, row.part === '') ? null : (
        <Grounds
          id={id}
          question="What it was chosen by"
          resting={{ is: 'part', part: title, move: row.move }}
          rests={row.rests}
          grounds={groundsFor(form, data.facts)}
          set={(rests) => set({ rests })}
        />
      )}
    </Card>
  );
}

export function Opens({ form, data, remarks, change, takeOut }: SectionProps): VNode {
  const add = () =>
    change({
      next: form.next + 1,
      opens: [...form.opens, { id: form.next, what: '', size: '', by: '', safety: false, rests: [] }],
    });
  return (
    <Part id="opens" heading="Left to do" note={data.help['opens']}>
      {form.opens.map((row) => {
        const id = `open-${row.id}`;
        const set = (fields: Partial<typeof row>) => change({ opens: changed(form.opens, row.id, fields) });
        return (
          <Card
            id={`${id}-card`}
            title={row.what.trim() || 'A job'}
            onRemove={() =>
              takeOut({
                title: row.what.trim() || 'A job',
                out: (now) => ({ opens: without(now.opens, row.id) }),
                back: (now) => ({ opens: withAgain(now.opens, row, form.opens) }),
              })
            }
          >
            <Field
              id={id}
              label="The work, in a sentence"
              help={data.help['opens[].what']}
              remarks={remarks.get(id)}
            >
              {(marks) => (
                <input
                  {...marks}
                  type="text"
                  maxLength={500}
                  value={row.what}
                  onInput={(event) => set({ what: textOf(event) })}
                />
              )}
            </Field>
            <Field
              id={`${id}-size`}
              label="Hours it will take"
              help={data.help['opens[].size']}
              remarks={remarks.get(`${id}-size`)}
            >
              {(marks) => (
                <Measure
                  marks={marks}
                  typed={row.size}
                  unit="h"
                  point={{ kind: 'time', unit: 'h', last: null }}
                  onTyped={(size) => set({ size })}
                  onUnit={null}
                />
              )}
            </Field>
            {row.size.trim() === '' ? null : (
              <Grounds
                id={id}
                question="What it rests on"
                resting={{ is: 'job' }}
                rests={row.rests}
                grounds={groundsFor(form, data.facts)}
                set={(rests) => set({ rests })}
              />
            )}
            <Field id={`${id}-by`} label="Done by" help={data.help['opens[].by']}>
              {(marks) => (
                <input
                  {...marks}
                  type="date"
                  value={row.by}
                  onInput={(event) => set({ by: textOf(event) })}
                />
              )}
            </Field>
            <Tick name={`${id}-safety`} isOn={row.safety} onChange={(safety) => set({ safety })}>
              Somebody can be hurt until it is done
            </Tick>
          </Card>
        );
      })}
      <button type="button" class="add" onClick={add}>
        Add a job
      </button>
    </Part>
  );
}

/** The owner first; others are one tap away. */
export function Hours({ form, data, remarks, change }: SectionProps): VNode | null {
  const [first, ...others] = data.facts.people;
  if (first === undefined) return null;
  const field = ({ id, name }: { readonly id: string; readonly name: string }) => (
    <Field id={`hours-${id}`} label={name} remarks={remarks.get(`hours-${id}`)}>
      {(marks) => (
        <Measure
          marks={marks}
          typed={form.hours[id] ?? ''}
          unit="h"
          point={{ kind: 'time', unit: 'h', last: null }}
          onTyped={(typed) => change({ hours: { ...form.hours, [id]: typed } })}
          onUnit={null}
        />
      )}
    </Field>
  );
  const isUsed = others.some(({ id }) => (form.hours[id] ?? '') !== '');
  return (
    <Part id="hours" heading="Hours" note={data.help['hours']}>
      {field(first)}
      {others.length === 0 ? null : (
        <details open={isUsed}>
          <summary>Others who worked on it</summary>
          {others.map(field)}
        </details>
      )}
    </Part>
  );
}

export function Prose({ form, change }: SectionProps): VNode {
  return (
    <Part
      id="prose"
      heading="In your words"
      note="As you would tell it. Speak it, where your phone's keys have a microphone."
    >
      <Field id="text" label="What you did and saw">
        {(marks) => (
          <textarea
            {...marks}
            rows={8}
            value={form.prose}
            onInput={(event) => change({ prose: textOf(event) })}
          />
        )}
      </Field>
    </Part>
  );
}
