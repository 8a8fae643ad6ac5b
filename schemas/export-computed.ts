import { z } from 'zod';
import { basisSchema, hazardSchema } from './common.js';
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
} from './export-fields.js';

/** What is computed from the whole book: the parts of the export that no file of the book says. */

const numberOrNull = (about: string, example: number, unit?: string) =>
  field(z.number().nullable(), about, example, unit);
const figure = (about: string) => field(quantity, about, exampleOf(quantity));
const choice = <const T extends readonly [string, ...string[]]>(of: T, about: string) =>
  field(z.enum(of), about, of[0]);

const STANDINGS = ['verified', 'contradicted', 'undecided', 'lapsed', 'unverified'] as const;
const VERDICTS = ['works', 'fails', 'undecided', 'cannot-say'] as const;

const verdict = choice(VERDICTS, 'Whether it works; `cannot-say` where a value is missing.');

const rest = z.strictObject({
  ref: text('The spec, point or derived value.', 'house-dc.bank-capacity'),
  standing: field(z.enum(STANDINGS).nullable(), 'How it stands; null where it is no spec.', 'verified'),
});
const restsOn = rows(rest, 'What it rests on, with the standing of the specs among it.');

const amount = z.strictObject({
  currency: text('Currency (ISO 4217).', 'EUR'),
  amount: number('How much.', 1480),
});

const dependent = z.strictObject({
  sort: choice(['derived', 'decision', 'part', 'item', 'case', 'weights'], 'What sort of thing it is.'),
  id: text('Its name; system.name for a derived value.', 'bank-size'),
  through: names('The shortest way to it from the spec, both ends included.', 'house-dc.bank-capacity'),
});

/** A spec that is not verified, with what rests on it. */
export const exposure = z.strictObject({
  spec: text('The spec, as system.name.', 'house-dc.bank-capacity'),
  standing: choice(STANDINGS, 'How it stands.'),
  dependents: rows(dependent, 'All that rests on it, through others too, nearest first, each once.'),
  money: rows(amount, 'Money in parts that rest on it, each part once, by currency.'),
  hours: number('Hours of work that rest on it, each item once.', 6, 'h'),
  settledBy: field(
    basisSchema.nullable(),
    'The lowest basis that would settle it; null where it is settled against the claim.',
    'measured',
  ),
  next: text('What to do next about it.', 'Measure it.'),
});

const GRADES = ['before-use', 'soon', 'when-convenient'] as const;

const fittedPart = z.strictObject({
  part: text('The part.', 'house-bank-2026'),
  date: day('Day on which it was fitted.'),
});

const ground = z.strictObject({
  rule: choice(
    [
      'failed-test',
      'limit-crossed',
      'false-limit',
      'safety-upkeep',
      'safety-item',
      'defect',
      'false-claim',
      'lapsed',
      'overdue-item',
    ],
    'The rule by which it is listed and graded.',
  ),
  grade: choice(GRADES, 'Its grade by that rule.'),
  sort: choice(['spec', 'point', 'test', 'upkeep', 'item'], 'What sort of thing it is about.'),
  id: text('Its name; system.name but for an item.', 'genset.load-test'),
  title: text('What it is, in plain words.', 'Load test in steps'),
  says: text('The evidence, in a sentence.', 'Failed on 2026-04-18: capacity 318 Ah, required ≥ 320 Ah.'),
  date: dayOrNull('Day of the evidence; null where it is that nothing was ever done.'),
  entry: textOrNull('Its entry.', '2026-04-18-capacity-test'),
  raisedBy: field(z.array(hazardSchema), 'Dangers that raised its grade.', ['gas']),
  fittedSince: rows(
    fittedPart,
    'Parts of the system that were fitted after the evidence: it may be another thing now.',
  ),
});

/** Something to be settled. */
export const finding = z.strictObject({
  grade: choice(GRADES, 'How soon it should be settled.'),
  system: text('The system it belongs to.', 'house-dc'),
  grounds: rows(ground, 'The facts that show it; the one that decides the grade first.'),
});

/** What a derived value comes to. */
export const derivedValue = z.strictObject({
  id: text('Full name, system.name.', 'house-dc.usable'),
  title: text('What it is, in plain words.', 'Usable capacity'),
  from: text('Its formula.', '0.5 * capacity'),
  value: quantityOrNull('What it comes to; null where something in its formula has no value.'),
  restsOn,
  date: dayOrNull('Day of the newest reading or statement in it.'),
});

const crossing = z.strictObject({
  which: choice(['at-least', 'at-most'], 'Which limit.'),
  limit: figure('The limit.'),
  status: choice(['crosses', 'already-crossed', 'none-within-5-years'], 'Whether it is reached.'),
  from: dayOrNull('Earliest day.'),
  central: dayOrNull('The day on which the line of the trend reaches it.'),
  to: dayOrNull('Latest day; null where it cannot be bounded.'),
});

const outlier = z.strictObject({
  date: day('Day of the reading.'),
  entry: text('The entry it is from.', '2026-04-18-capacity-test'),
});

/** What becomes of a point over time. */
export const trend = z.strictObject({
  point: text('The point, as system.name.', 'house-dc.capacity'),
  status: choice(['too-few', 'no-trend', 'trend'], 'Whether a trend is claimed.'),
  direction: field(z.enum(['rising', 'falling']).nullable(), 'Which way it goes.', 'falling'),
  scale: choice(['linear', 'log'], 'The scale on which it is reckoned.'),
  days: number('Days with at least one comparable reading.', 9),
  perMonth: quantityOrNull(
    'Change in a month by Theil and Sen; in % of the value on a logarithmic scale; null under four days.',
  ),
  perMonthLow: quantityOrNull('Lower end of its 95 % interval.'),
  perMonthHigh: quantityOrNull('Upper end of its 95 % interval.'),
  p: numberOrNull('Probability of the Mann–Kendall test.', 0.01),
  crossings: rows(crossing, 'When it reaches its limits.'),
  flagged: rows(outlier, 'Readings that are not what those before them led to expect.'),
  sentence: text('What a person would say of it.', 'Falling about 2.6 Ah a month.'),
});

const late = z.strictObject({
  days: numberOrNull('Days after its turn by the calendar; null where it was in time by that.', 31),
  hours: numberOrNull('Hours after its turn by the meter; null where it was in time by that.', 12, 'h'),
});

const upkeepDone = z.strictObject({
  date: day('Day on which it was done.'),
  entry: text('The entry that says so.', '2026-04-18-capacity-test'),
  hours: numberOrNull('Running hours at that time; null where no meter tells.', 1243.6, 'h'),
  late: rowOrNull(late, 'How long after its turn it was done; null where it was in time, or nothing tells.'),
});

const byDate = z.strictObject({
  on: day('Day on which it is due.'),
  inDays: number('Days until then; negative where it is past.', 12),
});

const byHours = z.strictObject({
  atReading: number('What the meter will show when it is due.', 1400, 'h'),
  left: number('Hours left; negative where they are overrun.', 64.8, 'h'),
  earliest: dayOrNull('Earliest day at the recent rate of use.'),
  usual: dayOrNull('Day at the usual rate of use.'),
  latest: dayOrNull('Latest day; null where use may stop.'),
  because: text('The rate behind it.', 'at 5.1 h a week while in use, since 2026-05-09'),
});

const counted = z.strictObject({
  date: day('From when the present interval counts.'),
  why: choice(['done', 'due', 'in-service', 'first-entry'], 'What happened on that day.'),
});

/** When work that comes back is due. */
export const upkeepState = z.strictObject({
  id: text('Full name, system.name.', 'engine.oil'),
  system: text('The system it belongs to.', 'engine'),
  what: text('The work.', 'Change engine oil and filter'),
  every: text('How often, as written.', '125 h or 12 months'),
  safety: flag('Whether lives hang on it.'),
  done: rows(upkeepDone, 'When it was done, newest first.'),
  from: rowOrNull(counted, 'From when it counts; null where nothing tells.'),
  byDate: rowOrNull(byDate, 'Due by the calendar; null where it does not come back so.'),
  byHours: rowOrNull(byHours, 'Due by running hours; null where it does not come back so.'),
  overdueByDate: flag('Whether its day is past.'),
  overdueByHours: flag('Whether its hours are overrun.'),
  dueOn: dayOrNull('The day by which it has to be done, whichever comes first; null where nothing tells.'),
  because: text('Why then.', 'Due on 2027-05-02. Last done on 2026-05-02.'),
});

const pace = z.strictObject({
  usual: number('Hours a week.', 4.7, 'h'),
  slow: number('Hours a week in slow weeks.', 2.5, 'h'),
  fast: number('Hours a week in fast weeks.', 4.9, 'h'),
  weeks: number('Weeks looked back on.', 26),
  since: day('First day of them.'),
});

const leadTime = z.strictObject({
  supplier: text('The supplier.', 'Quay Electric'),
  count: number('Deliveries on record.', 10),
  median: numberOrNull('Half came within so many days; null under three deliveries.', 28),
  ninety: numberOrNull('Nine in ten came within so many days.', 49.7),
  promised: number('Deliveries that were promised for a day.', 10),
  late: number('Of those, how many came later.', 5),
});

const arrival = z.strictObject({
  part: text('The part.', 'house-bank-2026'),
  earliest: day('Earliest day on which it can be expected.'),
  latest: day('Latest day.'),
  because: text('Why.', 'promised for 2026-05-20'),
});

const step = z.strictObject({
  id: text('The item, or `part NAME`.', 'fit-house-bank'),
  earliestStart: number('Days from today on which it can begin.', 0),
  earliestFinish: number('Days from today on which it can be done.', 5.7),
  latestStart: number('Days from today on which it has to begin at the latest.', 0),
  latestFinish: number('Days from today on which it has to be done at the latest.', 5.7),
  float: number('Days that it can slip without moving the goal.', 0),
});

const range = z.strictObject({ earliest: day('Earliest day.'), latest: day('Latest day.') });

const goal = z.strictObject({
  goal: text('The item that is the goal.', 'launch'),
  forecast: rowOrNull(range, 'When it can be reached; null where the hours logged tell no pace.'),
  chain: names('The chain that decides, first step first.', 'fit-house-bank'),
  steps: rows(step, 'All steps to it, with their times at the pace of fast weeks.'),
  hours: number('Hours of work in all of them.', 75, 'h'),
  chainHours: number('Hours of work in the chain.', 31, 'h'),
  unsized: names('Items of which nobody has said how long they take.', 'fit-house-bank'),
  unpromised: names('Parts of which nothing tells when they come.', 'house-bank-2026'),
  because: text('Why then.', '75 h of work at 2.5 to 4.9 h a week, as logged since 2026-05-18.'),
});

/** The open work laid out in time. */
export const workPlan = z.strictObject({
  pace: rowOrNull(pace, 'How much gets done; null where the hours logged are too few to tell.'),
  leadTimes: rows(leadTime, 'How long suppliers take, from order to arrival.'),
  arrivals: rows(arrival, 'When parts on order can be expected.'),
  goals: rows(goal, 'Goals that are not reached yet.'),
});

const reason = z.strictObject({
  verdict,
  sort: choice(['source', 'store', 'load'], 'What it is about.'),
  id: text('Which one.', 'house-bank'),
  text: text('Why it works or does not.', 'Generator carries all that may run on it.'),
  restsOn,
});

const moment = z.strictObject({
  from: number('Seconds from midnight.', 61200, 's'),
  to: number('Seconds from midnight.', 68400, 's'),
  verdict,
  mayRun: names('Loads that may run then.', 'fridge'),
  shed: names('Those that have to be off, in the order in which they are switched off.', 'laptop'),
  active: figure('What the others ask together.'),
  apparent: figure('The same in volt-amperes.'),
});

const largestSet = z.strictObject({
  loads: names('Loads that can run together, to which no other can be added.', 'fridge'),
  verdict: choice(['works', 'undecided', 'fails'], 'By interval.'),
  active: figure('What they ask together.'),
});

const source = z.strictObject({
  id: text('Short name.', 'genset'),
  title: text('What it is.', 'Generator'),
  absent: flag('Whether it is not there in this case.'),
  verdict,
  rating: quantityOrNull('What it gives for hours, derated.'),
  apparentRating: quantityOrNull('The same in volt-amperes; null where it is not limited so.'),
  shortTime: quantityOrNull('What it gives for a start.'),
  energy: figure('What its loads take in a day.'),
  hours: quantityOrNull('Hours a day that it runs.'),
  fuel: quantityOrNull('Fuel a day, at most.'),
  moments: rows(moment, 'Pieces of the day.'),
  largestSets: rows(largestSet, 'Largest sets of loads that can run together, most loads first.'),
  sets: numberOrNull('How many such sets there are; null where they were not all found.', 2),
});

const filler = z.strictObject({
  source: text('The source that charges.', 'genset'),
  hours: figure('Hours a day that it charges.'),
  puts: figure('Charge that it puts back.'),
});

const store = z.strictObject({
  id: text('Short name.', 'house-bank'),
  title: text('What it is.', 'House bank'),
  verdict,
  capacity: quantityOrNull('Its capacity.'),
  usable: quantityOrNull('What may be taken out.'),
  used: quantityOrNull('What is taken out in a day.'),
  alone: quantityOrNull('How long it lasts when nothing charges it.'),
  fillers: rows(filler, 'What charges it.'),
  short: quantityOrNull('What is left to put back at the end of the day.'),
  lasts: quantityOrNull('How long it lasts with its sources running; null where they keep up.'),
});

/** One case of the power plan. */
export const powerCase = z.strictObject({
  id: text('Short name.', 'winter'),
  title: text('The case in plain words.', 'At anchor, winter'),
  verdict,
  days: quantityOrNull('How long it has to last.'),
  energy: figure('What all its loads take in a day.'),
  fuel: quantityOrNull('Fuel a day, at most; null where none is burnt.'),
  reasons: rows(reason, 'Why it works or does not, worst first.'),
  sources: rows(source, 'Its sources.'),
  stores: rows(store, 'Its stores.'),
  assumes: names(
    'What is taken for granted since the plan does not say it.',
    'House bank is charged in full.',
  ),
  restsOn,
});

const ledgerLine = z.strictObject({
  sort: choice(['plan', 'fitted', 'removed', 'moved-from', 'moved-to'], 'Why it is in the ledger.'),
  id: text('The part, or the weight of the plan.', 'dinghy'),
  title: text('What it is.', 'Dinghy on chocks'),
  date: dayOrNull('Since when; null is always.'),
  entry: textOrNull('The entry that says so.', '2026-04-18-capacity-test'),
  mass: figure('Its mass; negative where it was taken away.'),
  forward: figure('Forward of the origin.'),
  starboard: figure('To starboard of the centreline.'),
  up: figure('Above the origin.'),
  counts: flag('Whether it is a change since the boat floated as the hydrostatics say.'),
});

const notWeighed = z.strictObject({
  part: text('The part.', 'house-bank'),
  move: text('What happened to it.', 'removed'),
  date: day('When.'),
  entry: text('The entry that says so.', '2026-04-18-capacity-test'),
  missing: names('What is not on record.', 'mass'),
});

const floating = z.strictObject({
  sinkage: figure('Change of draught at the centre of flotation; positive is deeper.'),
  trim: figure('Draught aft less draught forward.'),
  trimChange: figure('Change of trim; positive is by the stern.'),
  draughtFwd: figure('Draught at the forward mark.'),
  draughtAft: figure('Draught at the aft mark.'),
  heel: quantityOrNull('Heel, positive to starboard; null without a metacentric height.'),
  gm: quantityOrNull('Metacentric height.'),
});

/** The weights and what they do. */
export const weights = z.strictObject({
  title: text('Name of the plan.', 'Weights'),
  origin: text('From where positions are measured.', 'aft face of the sternpost at the keel'),
  lines: rows(ledgerLine, 'The ledger, oldest first.'),
  notWeighed: rows(notWeighed, 'Moves of parts that are left out.'),
  massChange: figure('Sum of the masses that count.'),
  displacement: quantityOrNull('Displacement now; null where it was not known before.'),
  forward: quantityOrNull('Centre of gravity now, forward of the origin.'),
  starboard: quantityOrNull('Centre of gravity now, to starboard.'),
  up: quantityOrNull('Centre of gravity now, above the origin.'),
  status: choice(
    ['given', 'outside-limits', 'no-hydrostatics'],
    'Whether draught, trim and heel are given, and if not, why.',
  ),
  floating: rowOrNull(floating, 'How she floats; null outside the limits within which that can be said.'),
  reasons: names('Why none is given.', 'The change of displacement is over its limit.'),
  remarks: names('What was left out or taken for granted.', 'Free liquids are not counted.'),
  restsOn,
});
