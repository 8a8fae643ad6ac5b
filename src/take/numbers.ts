/** Reads numbers as a spreadsheet or a logger writes them, without guessing which mark is the decimal one. */

const FORMS = {
  // Thousands may be kept apart by the other mark only where the decimal one is there too.
  point: /^[-+]?(?:\d+|\d{1,3}(?:[ '\u00a0\u202f]\d{3})+|\d{1,3}(?:,\d{3})+(?=\.))(?:\.\d+)?$/,
  comma: /^[-+]?(?:\d+|\d{1,3}(?:[ '\u00a0\u202f]\d{3})+|\d{1,3}(?:\.\d{3})+(?=,))(?:,\d+)?$/,
} as const;

export type Decimal = keyof typeof FORMS;

/** A number as a plain text (`-1234.50`), with its digits as they are; null where it is none. */
export function plainNumber(written: string, decimal: Decimal): string | null {
  const text = written.trim().replace(/^[−–]/, '-');
  if (!FORMS[decimal].test(text)) return null;
  const marks = decimal === 'point' ? /[ '\u00a0\u202f,+]/g : /[ '\u00a0\u202f.+]/g;
  return text.replace(marks, '').replace(',', '.');
}

/** Decimals of a plain number. */
export function decimalsOf(plain: string): number {
  const point = plain.indexOf('.');
  return point < 0 ? 0 : plain.length - point - 1;
}
