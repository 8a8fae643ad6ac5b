import { z } from 'zod';
import { BASES, basisSchema, doc, hazardSchema, hideableSchema } from './common.js';
import { PART_MOVES } from './entry.js';
import {
  derivedValue,
  exposure,
  finding,
  powerCase,
  trend,
  upkeepState,
  weights,
  workPlan,
} from './export-computed.js';
import {
  day,
  dayOrNull,
  exampleOf,
  field,
  flag,
  names,
  number,
  quantity,
  quantityOrNull,
  rowOrNull,
  rows,
  text,
  textOrNull,
  uncertainty,
  valueFields,
} from './export-fields.js';

/**
 * What `ribband export` writes: the checked and computed book as one JSON document, for other programs.
 * Every field is always there; what is not known is `null`, never left out. `version` goes up when a field
 * changes its meaning or goes; a new field is not a new version.
 */

/** The version of the document that is written now. */
export const EXPORT_VERSION = 1;

const entryRef = text(
  'The entry that says so: its file name without the ending.',
  '2026-04-18-capacity-test',
);
const line = z
  .int()
  .positive()
  .nullable()
  .meta(
    doc({
      about:
        'Line of that file on which it is written, counted from 1; null in the file of a site, which is made without looking for lines.',
      example: 12,
    }),
  );
const systemRef = text('The system it belongs to.', 'house-dc');
const by = textOrNull('Who did it: a person of book.yaml.', 'owner');
const instrument = textOrNull('With which instrument of book.yaml.', 'clamp-meter');
const note = textOrNull('A remark.', 'after two hours of rest only');
const see = textOrNull("Photo that shows it, by its path from the book's folder.", 'photos/2026/label.jpg');

const condition = z.strictObject({
  name: text('What the condition is.', 'ambient'),
  value: text('Its value as written.', '19 °C'),
});
const under = rows(condition, 'Conditions under which it was taken.');

const bookHead = z.strictObject({
  id: text('Short name of the book.', 'marram'),
  name: text('What the subject is called.', 'Marram'),
  type: textOrNull('What sort of thing it is.', 'wooden motor-sailer'),
  language: text('Language of the prose (BCP 47).', 'en-GB'),
  currency: textOrNull('Currency in which most money is spent (ISO 4217).', 'EUR'),
});

const meterReading = z.strictObject({
  meter: text('The meter, as system.name.', 'engine.hours'),
  reads: field(quantity, 'What the meter showed.', exampleOf(quantity)),
  replaced: flag('Whether it is the first reading of a new meter.'),
  wrapped: flag('Whether the meter had gone past its highest figure since the last reading.'),
  line,
});

const statement = z.strictObject({
  spec: text('The spec it bears on, as system.name.', 'house-dc.bank-model'),
  says: text('What is stated, as written.', 'TL-200 x 2'),
  basis: basisSchema.meta(doc({ about: 'How whoever states it knows.', example: 'marked' })),
  by,
  with: instrument,
  see,
  note,
  line,
});

const photo = z.strictObject({
  file: text("Path of the picture from the book's folder.", 'photos/2026/bank-label.jpg'),
  alt: text('What it shows, in words.', 'Label of the old bank'),
  caption: textOrNull('What is written below it.', 'The label under the grime'),
});

const entry = z.strictObject({
  id: entryRef,
  file: text("Path of the file from the book's folder.", 'entries/2026/2026-04-18-capacity-test.md'),
  sha256: text('SHA-256 of the file, in hexadecimal.', 'e3b0c442…'),
  date: day('Day of the work.'),
  title: text('What the entry is about.', 'Capacity test on the house bank'),
  systems: names('Systems that were worked on, the main one first.', 'house-dc'),
  place: textOrNull('Where the work was done.', 'the yard, shed 2'),
  meters: rows(meterReading, 'What meters showed.'),
  statements: rows(statement, 'What was stated, printed or read off about a spec.'),
  opens: names('Items that it opens; told in full under `items`.', 'fit-house-bank'),
  closes: names('Items that are done with it.', 'test-house-bank'),
  done: names('Upkeep carried out, as system.name.', 'house-dc.terminals'),
  photos: rows(photo, 'Pictures and photographed papers.'),
  private: field(
    z.array(hideableSchema),
    'What of it only the owner is to see; recorded, and not yet acted upon.',
    ['cost'],
  ),
  body: text('The prose, in CommonMark.', 'The bank gave up after fourteen hours.'),
});

const derived = z.strictObject({
  id: text('Its name, as system.name.', 'house-dc.usable'),
  title: text('What it is, in plain words.', 'Usable capacity'),
  from: text('The formula as written.', '0.5 * capacity'),
  kind: text('Kind of quantity.', 'charge'),
  unit: text('Unit in which it is shown.', 'Ah'),
  uses: names('What the formula names, in full.', 'house-dc.capacity'),
});

const upkeep = z.strictObject({
  id: text('Its name, as system.name.', 'house-dc.terminals'),
  what: text('The work that comes back.', 'Clean and re-torque the terminals'),
  every: text('How often, as written.', '6 months'),
  meter: textOrNull('The meter that counts its hours.', 'engine.hours'),
  safety: flag('Whether somebody can be hurt if it is left undone.'),
});

const system = z.strictObject({
  id: text("The system's name.", 'house-dc'),
  file: text("Path of the file from the book's folder.", 'systems/house-dc.md'),
  title: text('Its name in plain words.', 'House batteries'),
  group: textOrNull('Heading under which it is listed.', 'Electrics'),
  inService: dayOrNull('Day on which it came into service.'),
  hazards: field(z.array(hazardSchema), 'Dangers of working on it.', ['dc-battery']),
  meters: names('Its meters, as system.name.', 'engine.hours'),
  derived: rows(derived, 'Values computed from its points and specs.'),
  upkeep: rows(upkeep, 'Work that comes back.'),
  body: text('The prose, in CommonMark.', 'Isolator first, negative off first.'),
});

const limitState = z.enum(['inside', 'outside', 'undecided', 'no-limit', 'former']).meta(
  doc({
    about:
      "How it lies to the point's limits; former: it is of what was there before, which they are not about.",
    example: 'outside',
  }),
);

const lastReading = z.strictObject({
  date: day('Day of the last reading.'),
  written: valueFields.written,
  limit: limitState,
});

const logged = z.strictObject({
  file: text('File of the rows, from the folder of the book.', 'series/house-voltage.csv'),
  sha256: text('SHA-256 of that file as it lies on disk.', '0f3b…'),
  rows: number('How many readings there are.', 10420),
  from: textOrNull('First day, by the clock of the logger.', '2025-10-01'),
  to: textOrNull('Last day.', '2026-03-31'),
  lowest: field(z.number().nullable(), 'Lowest value, in the unit of the point.', 12.1),
  mean: field(z.number().nullable(), 'Mean of all values, in the unit of the point.', 12.8),
  highest: field(z.number().nullable(), 'Highest value, in the unit of the point.', 14.4),
});

const point = z.strictObject({
  id: text('Its name, as system.name.', 'house-dc.capacity'),
  system: systemRef,
  title: text('What is measured, in plain words.', 'Capacity at the 20 h rate'),
  kind: text('Kind of quantity.', 'charge'),
  unit: text('Unit in which it is usually written.', 'Ah'),
  atLeast: quantityOrNull('Lower limit.'),
  atMost: quantityOrNull('Upper limit.'),
  expect: z
    .enum(['rising', 'falling', 'steady'])
    .nullable()
    .meta(doc({ about: 'Which way it is expected to go with age.', example: 'falling' })),
  where: textOrNull('Where exactly it is measured.', 'at the bank terminals'),
  since: dayOrNull('Day on which what it is measured on was put there; null where it has always been.'),
  until: dayOrNull('Last day on which it was there; null where it still is.'),
  readings: z
    .int()
    .nonnegative()
    .meta(doc({ about: 'How many readings there are.', example: 7 })),
  last: rowOrNull(lastReading, 'The last reading of what is there now.'),
  specs: names('Specs for which its readings are evidence.', 'house-dc.bank-capacity'),
  logged: rowOrNull(logged, 'What a logger has read there, summed up; null where there is none.'),
});

const reading = z.strictObject({
  date: day('Day on which it was taken.'),
  system: systemRef,
  point: textOrNull('The point, as system.name; null where named in plain words.', 'house-dc.capacity'),
  what: textOrNull('What was measured, in plain words; null at a point.', 'battery box, inside length'),
  ...valueFields,
  uncertainty,
  uncertaintyFrom: z.enum(['written', 'instrument', 'unknown']).meta(
    doc({
      about: 'Where the uncertainty is known from: the value as written, or the accuracy of the instrument.',
      example: 'written',
    }),
  ),
  basis: z.enum(BASES).meta(doc({ about: 'How it is known.', example: 'measured' })),
  test: textOrNull('The test in which it was read, as system.name.', 'house-dc.capacity-test'),
  with: instrument,
  by,
  under,
  see,
  note,
  entry: entryRef,
  line,
});

const evidence = z.strictObject({
  date: day('Day of the evidence.'),
  basis: basisSchema.meta(doc({ about: 'How it is known.', example: 'measured' })),
  value: text('What was found, as written.', '318 ± 6 Ah'),
  agreement: z
    .enum(['conforms', 'does-not-conform', 'undecided'])
    .meta(doc({ about: 'How it compares with what is stated.', example: 'does-not-conform' })),
  from: z.enum(['reading', 'statement']).meta(doc({ about: 'What it is.', example: 'reading' })),
  by,
  with: instrument,
  instrumentOverdueSince: dayOrNull(
    'Day since which the instrument itself was due to be compared when it was used; null where it was not, or nothing tells.',
  ),
  see,
  note,
  entry: entryRef,
});

const standing = z.enum(['verified', 'contradicted', 'undecided', 'lapsed', 'unverified']);

const spec = z.strictObject({
  id: text('Its name, as system.name.', 'house-dc.bank-capacity'),
  system: systemRef,
  title: text('What is stated, in plain words.', 'Capacity of the house bank'),
  value: text('What is stated, as written.', '400 Ah'),
  quantity: quantityOrNull('The stated value as a quantity; null for a text.'),
  basis: basisSchema.meta(doc({ about: 'How whoever stated it knows.', example: 'told' })),
  source: textOrNull('Who or what stated it.', "the seller's list"),
  since: dayOrNull('Day on which it was stated.'),
  within: textOrNull('How far a value may lie off and still agree, as written.', '5 %'),
  means: z
    .enum(['about', 'at-least', 'at-most'])
    .meta(doc({ about: 'Whether the value is itself, or a least or a most.', example: 'about' })),
  point: textOrNull('The point whose readings are evidence for it.', 'house-dc.capacity'),
  needs: basisSchema.meta(doc({ about: 'Basis at which it counts as checked.', example: 'measured' })),
  againEvery: textOrNull('How long a check holds.', '12 months'),
  standing: field(standing, 'What the book makes of it on that day.', 'contradicted'),
  because: text('One sentence that says why it stands so.', 'Measured on 2026-04-18: 318 ± 6 Ah.'),
  holds: text('What is to be believed from now on.', '318 ± 6 Ah'),
  lapsesOn: dayOrNull('Day on which the last check stops holding.'),
  evidence: rows(evidence, 'All that bears on it: the highest basis first, newest first within it.'),
  file: text("Path of the system's file.", 'systems/house-dc.md'),
  line,
});

const outcome = z
  .enum(['pass', 'fail', 'undecided'])
  .meta(doc({ about: 'The outcome, as computed from the readings.', example: 'fail' }));

const requirement = z.strictObject({
  name: text('What is read.', 'capacity'),
  required: text('What is required of it, as written.', '>= 320 Ah'),
});

const requirementResult = z.strictObject({
  name: text('What was read.', 'capacity'),
  required: text('What was required of it, as written.', '>= 320 Ah'),
  value: textOrNull('What was read, as written; null where it is missing.', '318 ± 6 Ah'),
  outcome,
});

const testRun = z.strictObject({
  date: day('Day on which it was done.'),
  outcome,
  basis: z.enum(BASES).meta(doc({ about: 'How it is known.', example: 'measured' })),
  results: rows(requirementResult, 'What was required, and what was found.'),
  with: instrument,
  by,
  under,
  see,
  note,
  entry: entryRef,
  line,
});

const test = z.strictObject({
  id: text('Its name, as system.name.', 'house-dc.capacity-test'),
  system: systemRef,
  title: text('Name of the test in plain words.', '20-hour capacity test'),
  requires: rows(requirement, 'What is read, and what is required of it.'),
  steps: names('The procedure, step by step.', 'Discharge at 20 A.'),
  hazards: field(z.array(hazardSchema), 'Dangers of doing it.', ['dc-battery']),
  againEvery: textOrNull('How often it is to be done again.', '12 months'),
  outcome: field(outcome.nullable(), 'Outcome of the last run; null where there is none.', 'fail'),
  runs: rows(testRun, 'Every time it was done, newest first.'),
});

const money = z.strictObject({
  amount: number('Amount in the main unit; negative for money that came back.', 1480),
  currency: text('ISO 4217 code.', 'EUR'),
});

const partMove = z.strictObject({
  date: day('Day on which it happened.'),
  move: z.enum(PART_MOVES).meta(doc({ about: 'What happened to it.', example: 'ordered' })),
  quantity: z
    .int()
    .nullable()
    .meta(doc({ about: 'How many.', example: 4 })),
  cost: rowOrNull(money, 'What was paid for all of them.'),
  mass: quantityOrNull('Mass of all of them.'),
  note,
  entry: entryRef,
  line,
});

const part = z.strictObject({
  id: text('Short name of the part.', 'house-bank-2026'),
  what: textOrNull('What it is, in plain words.', 'four 135 Ah gel batteries'),
  system: systemRef,
  now: z
    .enum(['ordered', 'ashore', 'fitted', 'removed', 'returned', 'sold', 'scrapped'])
    .meta(doc({ about: 'Where it is now.', example: 'ordered' })),
  since: day('Day since which it is there.'),
  ordered: dayOrNull('Day on which it was ordered.'),
  arrived: dayOrNull('Day on which it came.'),
  due: dayOrNull('Day on which it was promised.'),
  late: flag(
    'Whether it is late now: still on order, past the day for which it was promised. Of one that came, cameLateDays tells.',
  ),
  cameLateDays: field(
    z.number().nullable(),
    'Days by which it came after the day for which it was promised; null where it came in time or has not come.',
    5,
    'days',
  ),
  leadDays: field(z.number().nullable(), 'Days from order to arrival.', 12, 'days'),
  supplier: textOrNull('From whom.', 'Quay Electric'),
  serial: textOrNull('Serial number.', 'TL-88120'),
  costs: rows(money, 'What it has cost, one row a currency.'),
  restsOn: names('Specs, points and derived values it stands or falls with.', 'house-dc.capacity'),
  moves: rows(partMove, 'What happened to it, oldest first.'),
});

const waitsOn = z.strictObject({
  kind: field(z.enum(['part', 'item', 'decision']), 'What it waits on.', 'part'),
  id: text('Its short name.', 'house-bank-2026'),
});

const closing = z.strictObject({ date: day('Day on which it was closed.'), entry: entryRef });

const item = z.strictObject({
  id: text('Short name of the item.', 'fit-house-bank'),
  what: text('What is to be done.', 'Fit and terminate the new bank'),
  system: systemRef,
  status: z
    .enum(['ready', 'blocked', 'waiting', 'done'])
    .meta(doc({ about: 'Whether it can be started.', example: 'waiting' })),
  overdue: flag('Whether it is past the day by which it had to be done.'),
  size: quantityOrNull('Working time it is thought to take.'),
  by: dayOrNull('Day by which it has to be done.'),
  goal: flag('Whether it is an end that other work leads to.'),
  defect: flag('Whether something is known to be wrong until it is done.'),
  safety: flag('Whether somebody can be hurt until it is done.'),
  waitsOn: rows(waitsOn, 'All that it was said to wait on.'),
  blockedBy: names('Open items that have to be done first.', 'battery-box-vent'),
  waitsFor: names('Parts that have to come first.', 'house-bank-2026'),
  undecided: names('Decisions that have to be made first.', 'bank-size'),
  waitsOnHidden: flag('Whether it waits on something besides that is not in this copy of the book.'),
  holdsUp: names('Items that wait on this one.', 'launch'),
  restsOn: names('Specs, points and derived values it stands or falls with.', 'house-dc.capacity'),
  opened: day('Day on which it was opened.'),
  entry: entryRef,
  line,
  closed: rowOrNull(closing, 'When it was done.'),
});

const decisionOption = z.strictObject({
  option: text('What could be done.', 'like for like'),
  figures: rows(condition, 'What speaks for or against it, in numbers.'),
  note,
});

const support = z.strictObject({
  ref: text('A spec, point or derived value, as system.name.', 'house-dc.bank-capacity'),
  standing: field(standing.nullable(), 'How the spec stands; null for what is no spec.', 'contradicted'),
});

const turned = z.strictObject({
  date: day('Day of the reading or statement with which it turned.'),
  entry: entryRef,
  ref: text('The spec or point that was read or stated.', 'shore-power.charger-output'),
});

const holding = z.strictObject({
  verdict: field(
    z.enum(['holds', 'fails', 'undecided', 'unknown']),
    'Whether it holds; `unknown` where a value is missing.',
    'holds',
  ),
  turned: rowOrNull(turned, 'What turned it; null where it holds, or never did.'),
  missing: names('Names of which no value is known.', 'shore-power.charger-output'),
});

const decision = z.strictObject({
  id: text('Short name of the decision.', 'bank-size'),
  date: day('Day on which it was made.'),
  system: systemRef,
  question: text('What had to be decided.', 'Replace like for like, or go up a size?'),
  options: rows(decisionOption, 'What there was to choose from.'),
  chose: text('What was chosen.', 'like for like'),
  because: text('Why.', 'The charger cannot fill the larger bank in one day.'),
  restsOn: rows(support, 'What it rests on, with the standing of the specs among it.'),
  holdsWhile: textOrNull('Comparison that has to stay true.', 'shore-power.charger-output <= 30 A'),
  undoes: textOrNull('The decision that it takes back.', 'bank-size-first'),
  undoneBy: textOrNull('The decision that took it back.', 'bank-size-again'),
  holding: rowOrNull(holding, 'Whether what it hangs on is still so; null where it hangs on nothing.'),
  entry: entryRef,
  line,
});

const hours = z.strictObject({
  date: day('Day of the work.'),
  by: text('Who worked: a person of book.yaml.', 'owner'),
  hours: number('How long.', 3.5, 'h'),
  system: textOrNull("The system it was spent on; null where it is shared by all the entry's.", 'house-dc'),
  entry: entryRef,
  line,
});

/** The whole document. */
export const exportSchema = z
  .strictObject({
    format: z.literal('ribband-export').meta(doc({ about: 'What this is.', example: 'ribband-export' })),
    version: z
      .literal(EXPORT_VERSION)
      .meta(doc({ about: 'Version of the shape of this document.', example: EXPORT_VERSION })),
    asOf: day('The day for which everything is computed; later entries are not in it.'),
    book: field(bookHead, 'What the book is about.', exampleOf(bookHead)),
    entries: rows(entry, 'Entries, oldest first.'),
    systems: rows(system, 'Systems.'),
    points: rows(point, 'Points of all systems.'),
    readings: rows(reading, 'Readings, oldest first.'),
    specs: rows(spec, 'Specs of all systems with their standing.'),
    tests: rows(test, 'Tests of all systems with their outcomes.'),
    parts: rows(part, 'Parts that any entry tells of.'),
    items: rows(item, 'Items that were opened, done or not.'),
    decisions: rows(decision, 'Decisions.'),
    hours: rows(hours, 'Hours as logged, oldest first.'),
    findings: rows(finding, 'What is to be settled, the most pressing first.'),
    exposures: rows(
      exposure,
      'Specs that are not verified, with what rests on each; the one with most at stake first.',
    ),
    derived: rows(derivedValue, 'What derived values come to.'),
    trends: rows(trend, 'What becomes of each point over time.'),
    upkeep: rows(upkeepState, 'When work that comes back is due.'),
    work: field(workPlan, 'The open work laid out in time.', exampleOf(workPlan)),
    power: rows(powerCase, 'Cases of the power plan; empty without one.'),
    weights: rowOrNull(weights, 'The weights; null for a book without a plan of them.'),
  })
  .meta({
    title: 'Ribband export',
    description: 'What `ribband export` writes: the checked and computed book as one JSON document.',
  });

export type ExportDocument = z.infer<typeof exportSchema>;
