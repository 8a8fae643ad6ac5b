import { AT_MOST, cpuTime } from '../spent.js';

/** What every refusal has to be, whatever was handed in. */

/** Signs that move about on a terminal, break a line, or turn the direction of what follows. */
export const UNSEEN = /[\p{Cc}\p{Cs}\u2028\u2029\u202a-\u202e\u2066-\u2069]/u;

/** Words of the inside of the program. What is quoted may say anything. */
const INSIDE = /undefined|\[object |NaN|Error:|\bat \S+:\d+|node:|\/src\/|a fault in ribband/;

/**
 * What is wrong with a refusal: it is a sentence or two for a person, on one line, of what can be seen, with nothing of
 * the program in it. Null where it is as it should be.
 */
export function notPlain(said: string): string | null {
  if (UNSEEN.test(said)) return `unseen signs: ${JSON.stringify(said)}`;
  if (said.length < 10) return `too short: ${said}`;
  if (said.length > 700) return `too long: ${said}`;
  return INSIDE.test(said.replaceAll(/`[^`]*`/g, '')) ? `of the inside: ${said}` : null;
}

/** Those of many texts that keep something busy for too long, with the milliseconds. */
export function slowOnes(texts: readonly string[], look: (text: string) => void): readonly string[] {
  return texts.flatMap((text) => {
    const began = cpuTime();
    look(text);
    const spent = cpuTime() - began;
    return spent > AT_MOST ? [`${Math.round(spent)}: ${text.slice(0, 60)}`] : [];
  });
}
