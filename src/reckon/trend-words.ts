import type { Point } from '../check/model.js';
import { printQuantity, siResolution } from '../quantity/index.js';
import type { Crossing, Trend, TrendTest } from './trend-model.js';

/** What a person would say of a trend, in one or two sentences. */

/**
 * Comparable days without which no trend is claimed. On just as many, a test that looks both ways can never show one:
 * of the 24 orders of four values the two that go one way have p = 2/24.
 */
export const FEWEST_DAYS = 4;

type Said = Omit<Trend, 'sentence'>;

export function sentenceOf(point: Point, trend: Said): string {
  const about = { 'too-few': tooFew, 'no-trend': noTrend, trend: drift }[trend.status];
  const last = trend.used.at(-1);
  const odd =
    last?.flagged === true
      ? ` The last reading, of ${last.point.reading.date}, is not what those before it led to expect.`
      : '';
  return `${about(trend, point)}${odd}`;
}

function tooFew({ used, leftOut, days }: Said): string {
  const all = used.length + leftOut.length;
  if (all === 0) return 'No readings yet.';
  if (used.length === 0)
    return `Too few for a trend: ${all === 1 ? 'the one reading cannot' : `none of ${all} readings can`} be compared.`;
  const others = leftOut.length === 0 ? '' : `; ${leftOut.length} more cannot be compared`;
  if (days < used.length)
    return `Too few for a trend: ${used.length} comparable readings, but on ${count(days, 'day')}, and it takes ${FEWEST_DAYS}${others}.`;
  return `Too few for a trend: ${used.length} of the ${FEWEST_DAYS} comparable readings it takes${others}.`;
}

/**
 * A test that shows no drift has not shown that there is none, nor that what is seen is chance: it is said what was
 * asked of how many days, and where they all go one way, that they do.
 */
function noTrend({ used, days, test }: Said): string {
  const since = monthOf(used[0]?.point.reading.date ?? '');
  const first = used[0]?.si;
  if (used.every(({ si }) => si === first))
    return `No trend: the ${count(used.length, 'comparable reading')} since ${since} are all the same.`;
  const way = oneWay(used);
  const said = `read on ${days} days since ${since}, ${probability(test)}`;
  if (days === FEWEST_DAYS && test?.sided === 'two-sided') {
    const steps = way === null ? '' : `, though every step goes ${way}`;
    return `Too few days to tell a drift from chance (${said})${steps}.`;
  }
  return way === null
    ? `No drift can be shown (${said}).`
    : `No step goes ${way === 'up' ? 'down' : 'up'}, but a drift cannot be shown yet (${said}).`;
}

/** The way that readings go where none goes the other way. */
function oneWay(used: Said['used']): 'up' | 'down' | null {
  const steps = used.slice(1).map(({ si }, index) => si - (used[index]?.si ?? si));
  if (steps.every((step) => step >= 0)) return 'up';
  return steps.every((step) => step <= 0) ? 'down' : null;
}

function drift(trend: Said, point: Point): string {
  const { direction, crossings } = trend;
  const clauses = crossings.map((one) => clause(one, trend)).filter((text) => text !== '');
  const way = direction === 'rising' ? 'Rising' : 'Falling';
  const first = `${way} ${speed(trend)}${against(point, direction)}`;
  return `${[first, ...clauses].join('; ')}.`;
}

/** By the month, or by the year where a month moves the value by less than the last digit that is read. */
function speed({ rate, used, scale }: Said): string {
  const last = used.at(-1)?.point.reading.quantity;
  if (rate === null || last === undefined || rate.perMonth.value === 0)
    return 'too slowly to put a figure on it';
  const { perMonth } = rate;
  const yearly = scale === 'linear' && Math.abs(perMonth.si) < siResolution(last);
  const value = Math.abs(perMonth.value) * (yearly ? 12 : 1);
  // Two significant digits: the interval says how sure they are. The direction is said in words.
  const rounded = { ...perMonth, value, resolution: 10 ** (Math.floor(Math.log10(value)) - 1) };
  return `about ${printQuantity(rounded)} a ${yearly ? 'year' : 'month'}`;
}

function against({ expect }: Point, direction: Trend['direction']): string {
  if (expect === null || expect === direction) return '';
  return expect === 'steady' ? ', though it should hold steady' : `, though it was expected to be ${expect}`;
}

function clause(crossing: Crossing, { asOf, used, direction }: Said): string {
  const limit = printQuantity(crossing.limit);
  const { status, which } = crossing;
  if (status === 'already-crossed') return crossed(crossing, limit, used.at(-1)?.point.reading.date ?? asOf);
  if (status === 'crosses') return reaching(crossing, limit, asOf);
  const towards = which === 'at-least' ? direction === 'falling' : direction === 'rising';
  return towards ? `does not reach ${limit} within 5 years` : '';
}

function crossed({ which, central }: Crossing, limit: string, lastRead: string): string {
  const side = which === 'at-least' ? 'below' : 'above';
  if (central === null) return `${side} ${limit}`;
  if (central > lastRead) return `should have reached ${limit} about ${monthOf(central)}: measure again`;
  return `by the trend ${side} ${limit} since about ${monthOf(central)}`;
}

/** A date that is bounded on both sides, on one, or hardly at all; one that may be past already is told as that. */
function reaching({ from, central, to }: Crossing, limit: string, asOf: string): string {
  const soon = from === null || from <= asOf;
  if (to !== null)
    return soon
      ? `may reach ${limit} at any time, and by ${monthOf(to)} at the latest`
      : `reaches ${limit} ${between(from, to)}`;
  const earliest = soon ? '' : `in ${monthOf(from)} at the earliest`;
  if (central !== null)
    return `reaches ${limit} about ${monthOf(central)}${soon ? ', give or take years' : `, ${earliest}`}`;
  return soon ? `when it reaches ${limit} cannot be said` : `reaches ${limit} ${earliest}`;
}

function between(from: string, to: string): string {
  const [early, late] = [monthOf(from), monthOf(to)];
  if (early === late) return `in ${late}`;
  const sameYear = from.slice(0, 4) === to.slice(0, 4);
  return `between ${sameYear ? early.replace(/ \d+$/, '') : early} and ${late}`;
}

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
];

/** `May 2027`. */
function monthOf(date: string): string {
  return `${MONTHS[Number(date.slice(5, 7)) - 1] ?? ''} ${date.slice(0, 4)}`;
}

/** Of a test that looks one way only, it is said which. */
function probability(test: TrendTest | null): string {
  const p = test?.p ?? 1;
  const way = { rising: ' for a rise', falling: ' for a fall', 'two-sided': '' }[test?.sided ?? 'two-sided'];
  return `p = ${p.toFixed(p < 0.1 ? 3 : 2)}${way}`;
}

function count(number: number, noun: string): string {
  return `${number} ${noun}${number === 1 ? '' : 's'}`;
}
