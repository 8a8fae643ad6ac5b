import { withoutUnseen } from '../quantity/plain-line.js';
import { COLOURS } from './colour.js';
import type { Effects } from './effects.js';

/**
 * The effects with nothing in them by which a text of a book could move about on somebody's terminal, clear it, or hide
 * what it says. What goes to a file or to another program goes as it is.
 */
export function tame(effects: Effects): Effects {
  const { out, err, outIsTerminal } = effects;
  return {
    ...effects,
    // What is written over the line before begins so by itself, and not by what a book says.
    err: (text) => err(text.startsWith(OVER) ? OVER + tamed(text.slice(OVER.length)) : tamed(text)),
    out: outIsTerminal ? (text) => out(tamed(text)) : out,
  };
}

/** Goes back to the beginning of a line on a terminal and clears it: what comes then is written over it. */
export const OVER = '\r\u001b[2K';

/** The sign that begins a code for a terminal; of these only our own colours are written on purpose. */
const ESCAPE = '\u001b';

function tamed(text: string): string {
  const [first = '', ...others] = text.split(ESCAPE);
  return withoutUnseen(first) + others.map(afterEscape).join('');
}

function afterEscape(rest: string): string {
  const colour = COLOURS.find((code) => rest.startsWith(code));
  const begun = colour === undefined ? '\ufffd' : ESCAPE + colour;
  return begun + withoutUnseen(rest.slice(colour?.length ?? 0));
}
