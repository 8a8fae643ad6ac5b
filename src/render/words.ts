import type { Basis, PartMoveName } from '../check/model.js';
import type { FindingRule, Grade } from '../reckon/grading.js';
import type { ItemStatus, Outcome, PartPlace, Standing } from '../reckon/model.js';
import type { GoalPlan } from '../reckon/work.js';

/** The words in which the site says things, in one place. */

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const WEEKDAYS = ['Sunday', 'Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday'];

/** A day for reading: `2026-04-18` as `18 Apr 2026`. */
export function dayWords(date: string): string {
  return `${Number(date.slice(8, 10))} ${MONTHS[Number(date.slice(5, 7)) - 1]} ${date.slice(0, 4)}`;
}

/** A sentence with the days in it for reading. */
export function datesInWords(sentence: string): string {
  return sentence.replace(/\b\d{4}-\d{2}-\d{2}\b/g, dayWords);
}

/** A month for reading: `2026-04` as `Apr 2026`. */
export function monthWords(month: string): string {
  return `${MONTHS[Number(month.slice(5, 7)) - 1]} ${month.slice(0, 4)}`;
}

/** The weekday of a day. */
export function weekday(date: string): string {
  return WEEKDAYS[new Date(`${date}T00:00:00Z`).getUTCDay()] as string;
}

/** `1 reading`, `2 readings`; irregular plurals are given. */
export function count(number: number, one: string, many = `${one}s`): string {
  return `${number} ${number === 1 ? one : many}`;
}

/** A comparison as it is printed: `>= 320 Ah` as `≥ 320 Ah`. */
export function comparison(written: string): string {
  return written.replaceAll('>=', '≥').replaceAll('<=', '≤');
}

/** The first letter made a capital. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Words in a row: `a`, `a and b`, `a, b and c`. */
export function listed(words: readonly string[]): string {
  if (words.length < 2) return words[0] ?? '';
  return `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

/** The first letter made small, but of a name that is all capitals: `RCD`. */
export function lower(text: string): string {
  return /^\p{Lu}\p{Ll}/u.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;
}

/** Standings in the order in which they need looking at. */
export const STANDING_ORDER: readonly Standing[] = [
  'contradicted',
  'undecided',
  'lapsed',
  'unverified',
  'verified',
];

/** What each standing means, in a sentence. */
export const STANDING_MEANS: Readonly<Record<Standing, string>> = {
  contradicted: 'The latest evidence of a higher basis says otherwise. The evidence counts, not the claim.',
  undecided: 'The evidence straddles the limit: within its uncertainty it may be so or not. Measure better.',
  lapsed: 'It was checked and found true, but longer ago than a check holds.',
  unverified: 'Nobody has checked it yet to the basis that it needs.',
  verified: 'Evidence of the basis that it needs agrees with it and is recent enough.',
};

/** What each basis means, in a few words. */
export const BASIS_MEANS: Readonly<Record<Basis, string>> = {
  told: 'somebody said so',
  printed: "it is in the maker's papers",
  marked: 'it was read off the item itself',
  measured: 'it was measured',
  witnessed: 'a third party measured or saw it: a surveyor, a yard, a laboratory',
};

/** What a grade of a finding is called. */
export const GRADE_WORD: Readonly<Record<Grade, string>> = {
  'before-use': 'settle before use',
  soon: 'settle soon',
  'when-convenient': 'when convenient',
};

/** What a rule finds, in two or three words. */
export const RULE_WORD: Readonly<Record<FindingRule, string>> = {
  'failed-test': 'Test failed',
  'limit-crossed': 'Out of limits',
  'false-limit': 'Limit not kept',
  'safety-upkeep': 'Safety upkeep overdue',
  'safety-item': 'Safety work open',
  defect: 'Defect open',
  'false-claim': 'Claim contradicted',
  lapsed: 'Check out of date',
  'overdue-item': 'Work past its day',
};

/** What an outcome of a test is called. */
export const OUTCOME_WORD: Readonly<Record<Outcome, string>> = {
  pass: 'passed',
  fail: 'failed',
  undecided: 'undecided',
};

/** What the status of an open item is called. */
export const STATUS_WORD: Readonly<Record<ItemStatus, string>> = {
  ready: 'ready',
  blocked: 'blocked',
  waiting: 'waiting',
  done: 'done',
};

/** Where a part is now, in words. */
export const PLACE_WORD: Readonly<Record<PartPlace, string>> = {
  ordered: 'on order',
  ashore: 'here, not fitted',
  fitted: 'fitted',
  removed: 'removed',
  returned: 'returned',
  sold: 'sold',
  scrapped: 'scrapped',
};

/** What happened to a part, in words. */
export const MOVE_WORD: Readonly<Record<PartMoveName, string>> = {
  ordered: 'ordered',
  arrived: 'arrived',
  fitted: 'fitted',
  removed: 'removed',
  moved: 'moved',
  returned: 'sent back',
  sold: 'sold',
  scrapped: 'scrapped',
};

/** When a goal can be reached, in words. */
export function forecastWords(forecast: GoalPlan['forecast']): string {
  if (forecast === null) return 'no forecast: the hours logged tell no pace';
  const { earliest, latest } = forecast;
  return earliest === latest ? dayWords(earliest) : `between ${dayWords(earliest)} and ${dayWords(latest)}`;
}
