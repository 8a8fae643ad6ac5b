import { isDay } from '../check/build/values.js';
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

/** The day given by an option, or null. @throws Refusal where it is no day. */
export function dayGiven(given: Given, option: string): string | null {
  const written = given.value(option);
  return written === null ? null : readDay(written, `--${option}`);
}

function readDay(written: string, where: string): string {
  if (!/^\d{4}-\d{2}-\d{2}$/.test(written))
    throw new Refusal(`\`${where}\` is a day such as \`2026-04-18\`, not \`${written}\`.`);
  if (!isDay(written)) throw new Refusal(`\`${where}\`: the calendar has no day ${written}.`);
  return written;
}
