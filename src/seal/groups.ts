/** A hash that people read aloud, write down and compare: in groups of four, eight groups a line. */

const GROUP = 4;
const GROUPS_A_LINE = 8;

/** The fewest digits of a hash that are taken for it: 128 bits cannot be met by trying. */
export const FEWEST_DIGITS = 32;

/** The lines of a hash: `b5bb 9d80 14a0 …`. */
export function groupLines(hash: string): readonly string[] {
  const groups = hash.match(new RegExp(`.{1,${GROUP}}`, 'g')) ?? [];
  return Array.from({ length: Math.ceil(groups.length / GROUPS_A_LINE) }, (_, line) =>
    groups.slice(line * GROUPS_A_LINE, (line + 1) * GROUPS_A_LINE).join(' '),
  );
}

/** The digits of a hash as somebody has typed them off, in any grouping; null where they are none, too few or too many. */
export function digitsOf(typed: string): string | null {
  const digits = typed.toLowerCase().replaceAll(/[\s:.-]+/g, '');
  return /^[0-9a-f]+$/.test(digits) && digits.length >= FEWEST_DIGITS && digits.length <= 64 ? digits : null;
}
