import { completed } from '../../../src/draft/complete.js';
import {
  instrumentOf,
  type Remark,
  remarkDate,
  remarkMeter,
  remarkPart,
  remarkReading,
  remarkTestValue,
  remarkValue,
} from '../../../src/draft/remarks.js';
import type { BookFacts } from '../../../src/reckon/facts.js';
import { chosen, draftOf, type Form, meterOf, pointOf, readingFrom, testOf } from './form.js';

/** What there is to say about the form, by the row or field it is about, from the checks of the command line. */

export type Remarks = ReadonlyMap<string, readonly Remark[]>;

/** @param today the day on the reader's own calendar. */
export function remarksOn(form: Form, facts: BookFacts, today: string): Remarks {
  const found: (readonly [string, readonly Remark[]])[] = [
    ['date', remarkDate(form.date, today)],
    ...readingRemarks(form, facts),
    ...meterRemarks(form, facts),
    ...testRemarks(form, facts),
    ...hoursRemarks(form),
    ...partRemarks(form, facts),
    ...sizeRemarks(form),
    ...photoRemarks(form),
  ];
  return new Map(found.filter(([, remarks]) => remarks.length > 0));
}

/** What still lacks before the form is an entry. Not said while somebody has only begun. */
export function lacking(form: Form, facts: BookFacts): Remarks {
  const found: (readonly [string, readonly Remark[]])[] = [];
  if (form.title.trim() === '') found.push(['title', [say('An entry needs a title: what was it about?')]]);
  if (chosen(form, facts).length === 0) found.push(['systems', [say('Tap the system that was worked on.')]]);
  for (const row of form.readings)
    if (row.typed.trim() === '')
      found.push([`reading-${row.id}`, [say('Write what was read, or take it out.')]]);
  for (const row of form.tests) {
    const test = testOf(row.test, facts);
    const isWhole = test?.requires.every(({ name }) => (row.typed[name] ?? '').trim() !== '') ?? false;
    if (!isWhole) found.push([`test-${row.id}`, [say('Write all that the test requires, or take it out.')]]);
  }
  for (const { id, question, chose, because } of form.decisions) {
    const said = [question, chose, because].filter((text) => text.trim() !== '').length;
    if (said > 0 && said < 3)
      found.push([`decision-${id}`, [say('Say what the question was, what was chosen and why.')]]);
  }
  return new Map(found);
}

function say(message: string): Remark {
  return { severity: 'error', message, hint: null };
}

type Found = readonly (readonly [string, readonly Remark[]])[];

function readingRemarks(form: Form, facts: BookFacts): Found {
  return form.readings.flatMap((row): Found => {
    const reading = readingFrom(row, facts);
    if (reading === null) return [];
    const point = pointOf(row.point, facts);
    const nameless =
      point === null && row.what.trim() === '' ? [say('Say in a few words what was measured.')] : [];
    const value =
      point === null
        ? remarkValue(reading.value, null)
        : remarkReading(reading, point, instrumentOf(reading.with, facts));
    return [[`reading-${row.id}`, [...nameless, ...value]]];
  });
}

function meterRemarks(form: Form, facts: BookFacts): Found {
  return Object.entries(form.meters).flatMap(([ref, typed]): Found => {
    const meter = meterOf(ref, facts);
    if (meter === null || typed.trim() === '') return [];
    return [[`meter-${ref}`, remarkMeter(completed(typed, meter.unit), meter, false)]];
  });
}

function testRemarks(form: Form, facts: BookFacts): Found {
  return form.tests.flatMap((row): Found => {
    const test = testOf(row.test, facts);
    const system = row.test.slice(0, row.test.indexOf('.'));
    return (test?.requires ?? []).flatMap(({ name, kind, unit }): Found => {
      const typed = row.typed[name] ?? '';
      if (typed.trim() === '') return [];
      const point = pointOf(`${system}.${name}`, facts);
      return [[`test-${row.id}-${name}`, remarkTestValue(completed(typed, unit), kind, point, null)]];
    });
  });
}

function hoursRemarks({ hours }: Form): Found {
  return Object.entries(hours).flatMap(
    ([by, typed]): Found =>
      typed.trim() === '' ? [] : [[`hours-${by}`, remarkValue(completed(typed, 'h'), 'time')]],
  );
}

function partRemarks(form: Form, facts: BookFacts): Found {
  const { draft, rowAt } = draftOf(form, facts);
  return draft.parts.flatMap((part, index): Found => {
    const row = rowAt(['parts', index]);
    return row === null ? [] : [[row, remarkPart(part, facts, draft.parts.slice(0, index))]];
  });
}

function sizeRemarks({ opens }: Form): Found {
  return opens.flatMap(
    ({ id, size }): Found =>
      size.trim() === '' ? [] : [[`open-${id}-size`, remarkValue(completed(size, 'h'), 'time')]],
  );
}

function photoRemarks({ photos }: Form): Found {
  return photos.flatMap(
    ({ id, alt }): Found =>
      alt.trim() === '' ? [[`photo-${id}`, [say('Say what it shows, for somebody who cannot see it.')]]] : [],
  );
}
