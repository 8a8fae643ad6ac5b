/** Writing YAML by hand, where the layout matters as much as the values. */

/** Letters and digits, then what is harmless in any place of a line: no colon, comma, bracket, quote or hash. */
const PLAIN = /^(?:[\p{L}\p{N}]|-(?=\d))[\p{L}\p{N} .()'/±°%·²³Ω+-]*$/u;
const WORDS_WITH_MEANING = /^(?:true|false|null|yes|no|on|off|y|n)$/i;
const DAY = /^\d{4}-\d{2}-\d{2}$/;
/** What some parser takes for a number, a time or a date: all that begins like one and has no blank in it. */
const LIKE_A_NUMBER = /^[-+.\d]\S*$/;

/** A text as a YAML scalar of one line: plain where that is safe in any place, else in double quotes. */
export function scalar(text: string): string {
  const isPlain =
    PLAIN.test(text) &&
    !WORDS_WITH_MEANING.test(text) &&
    !text.endsWith(' ') &&
    (DAY.test(text) || !LIKE_A_NUMBER.test(text));
  return isPlain ? text : quoted(text);
}

/** What JSON lets stand bare and YAML does not print, breaks a line at, or takes for a mark of byte order. */
const UNPRINTED = /[\u007f-\u009f\u2028\u2029\ufeff\ufffe\uffff]|\p{Cs}/gu;

function quoted(text: string): string {
  return JSON.stringify(text).replace(
    UNPRINTED,
    (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}

/** A map on one line: `{ key: value, … }`. Keys are written as they are and have to be names. */
export function flowMap(pairs: readonly (readonly [key: string, written: string])[]): string {
  return pairs.length === 0 ? '{}' : `{ ${pairs.map(([key, written]) => `${key}: ${written}`).join(', ')} }`;
}

/** A text brought onto one line, so that it cannot leave the comment or the field that it is put into. */
export function oneLine(text: string): string {
  return text.replaceAll(/[\p{Cc}\p{Zl}\p{Zp}\s]+/gu, ' ').trim();
}
