/** Writing YAML by hand, where the layout and the comments matter as much as the values. */

const PLAIN = /^\p{L}[\p{L}\p{N} .()'-]*$/u;
const WORDS_WITH_MEANING = /^(?:true|false|null|yes|no|on|off)$/i;

/** A text as a YAML scalar of one line: plain where that is safe in any place, else in double quotes. */
export function scalar(text: string): string {
  return PLAIN.test(text) && !WORDS_WITH_MEANING.test(text) && !text.endsWith(' ')
    ? text
    : JSON.stringify(text);
}

/** A text brought onto one line, so that it cannot leave the comment or the field that it is put into. */
export function oneLine(text: string): string {
  return text.replaceAll(/[\p{Cc}\p{Zl}\p{Zp}\s]+/gu, ' ').trim();
}
