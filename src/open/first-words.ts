/** Marks of CommonMark that a plain text does without, and what stays of each. */
const MARKS: readonly (readonly [RegExp, string])[] = [
  [/!\[([^\]]*)\]\([^)]*\)/g, '$1'],
  [/:reading\[([^\]]*)\]\{[^}]*\}/g, '$1'],
  [/\[([^\]]*)\]\([^)]*\)/g, '$1'],
  [/\[\^[^\]]*\]/g, ''],
  [/<[^>]*>/g, ''],
  [/(\*\*|__|~~|`)(.+?)\1/g, '$2'],
  [/([*_])(\S(?:.*?\S)?)\1(?!\w)/g, '$2'],
  [/\\([!-/:-@[-`{-~])/g, '$1'],
];

/** Paragraphs that are none: headings, lists, tables, quotes, code, rules. */
const NO_PARAGRAPH = /^(?:#|[-*+] |\d+[.)] |\||>|```|~~~|(?:[-*_] *){3,}$)/;

/**
 * The first paragraph of a text in CommonMark, as plain text in one line; null where it has none. Good enough to tell
 * what a text is about; it is no reader of the format.
 */
export function firstWords(markdown: string): string | null {
  const paragraph = markdown
    .split(/\r?\n[ \t]*\r?\n/)
    .map((text) => text.trim())
    .find((text) => text !== '' && !NO_PARAGRAPH.test(text));
  if (paragraph === undefined) return null;
  const flat = paragraph.replaceAll(/\s+/g, ' ');
  const plain = MARKS.reduce((text, [mark, stays]) => text.replaceAll(mark, stays), flat).trim();
  return plain === '' ? null : plain;
}
