import { NO_PAINT, type Paint } from '../check/report/text.js';

const CODES: Readonly<Record<Parameters<Paint>[0], readonly [string, string]>> = {
  error: ['\u001b[1;31m', '\u001b[22;39m'],
  warning: ['\u001b[33m', '\u001b[39m'],
  faint: ['\u001b[2m', '\u001b[22m'],
  strong: ['\u001b[1m', '\u001b[22m'],
  mark: ['\u001b[36m', '\u001b[39m'],
};

/** Every code that is written, without the sign that begins it. */
export const COLOURS: readonly string[] = Object.values(CODES).flatMap((pair) =>
  pair.map((code) => code.slice(1)),
);

const ansi: Paint = (style, text) => `${CODES[style][0]}${text}${CODES[style][1]}`;

/**
 * How to colour what goes to a stream: not at all with NO_COLOR set (to anything but an empty text), always
 * with FORCE_COLOR, else only on a terminal that is not `dumb`.
 */
export function paintFor(isTerminal: boolean, env: Readonly<Record<string, string | undefined>>): Paint {
  if (isSet(env['NO_COLOR'])) return NO_PAINT;
  if (isSet(env['FORCE_COLOR']) && env['FORCE_COLOR'] !== '0') return ansi;
  return isTerminal && env['TERM'] !== 'dumb' ? ansi : NO_PAINT;
}

function isSet(value: string | undefined): boolean {
  return value !== undefined && value !== '';
}
