/**
 * A piece of somebody's text made fit for a sentence of ours: on one line, no longer than is let, and with a mark where
 * there are signs that are not seen, that turn the direction of what follows, or that move about on a terminal. Joiners
 * stay, since letters and pictures are made with them.
 */

const UNSEEN = /[\p{Cc}\p{Cs}\u2028\u2029]|(?![\u200c\u200d])\p{Cf}/gu;

/** The mark that Unicode has for what cannot be shown. */
const MARK = '\ufffd';

/** @param most letters that are kept, in UTF-16 units; what is longer ends in an ellipsis. */
export function plainLine(text: string, most = Number.POSITIVE_INFINITY): string {
  // Blanks become one, so that there may be more to come than is kept; but not all of a megabyte is looked at.
  const line = text
    .slice(0, 20 * most)
    .replaceAll(/\s+/g, ' ')
    .trim();
  const isCut = line.length > most;
  const kept = isCut ? line.slice(0, most - 1).replace(/[\ud800-\udbff]$/, '') : line;
  return `${kept.replaceAll(UNSEEN, MARK)}${isCut ? '…' : ''}`;
}

/** The same sign for sign, so that columns stay where they are; line ends and tabulators are left alone. */
export function withoutUnseen(text: string): string {
  return text.replaceAll(UNSEEN, (sign) => (/[\n\r\t]/.test(sign) ? sign : MARK.repeat(sign.length)));
}
