import { isDay } from '../check/build/values.js';
import { dayMeant } from '../check/day-meant.js';
import { addDays } from '../reckon/calendar.js';
import type { Given } from './command.js';
import type { Effects } from './effects.js';
import { Refusal } from './refusal.js';

/**
 * Today: by the local calendar, or the day in RIBBAND_TODAY, with which a build can be repeated.
 *
 * @throws Refusal where RIBBAND_TODAY is no day.
 */
export function todayOf({ env, today }: Effects): string {
  const set = env['RIBBAND_TODAY'];
  return set === undefined || set === '' ? today() : readDay(set, 'RIBBAND_TODAY');
}

/**
 * The day given by an option, or null: `2026-04-18`, `18 April 2026`, `today` or `yesterday`.
 *
 * @throws Refusal where it is no day, or could be two.
 */
export function dayGiven(given: Given, option: string, effects: Effects): string | null {
  const written = given.value(option);
  if (written === null) return null;
  return dayTold(written, todayOf(effects)) ?? readDay(written, `--${option}`);
}

/** The day that is meant by `2026-04-18`, `18 April 2026`, `today` or `yesterday`; null where it is none, or could be two. */
export function dayTold(written: string, today: string): string | null {
  const plain = written.trim().toLowerCase();
  if (plain === 'today') return today;
  if (plain === 'yesterday') return addDays(today, -1);
  return dayMeant(written);
}

function readDay(written: string, where: string): string {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(written))
    throw new Refusal(
      `\`${where}\` is a day such as \`2026-04-18\`${where.startsWith('--') ? ', `18 April 2026`, `today` or `yesterday`' : ''}, not \`${written}\`.`,
    );
  if (!isDay(written)) throw new Refusal(`\`${where}\`: the calendar has no day ${written}.`);
  return written;
}
