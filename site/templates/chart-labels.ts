/** Places of words in a drawing: where they cover least of what is drawn, and one another not at all if it can be. */

/** A field of the drawing, in its units. */
export interface Field {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Where words may stand: the end of their base line that `anchor` names. */
export interface Spot {
  readonly x: number;
  readonly y: number;
  readonly anchor: 'start' | 'end';
}

/** Width of a letter of 12 units, and how far words reach above and below their base line. */
const LETTER = 6;
const ABOVE = 10;
const BELOW = 3;

/** What it costs to stand outside the frame: more than to cover anything in it. */
const OUTSIDE = 10_000;

/**
 * Puts words one after another on the best of their spots; earlier spots win where two are as good.
 *
 * @param wanted words with their spots, those that matter most first; none without a spot.
 * @param taken what is drawn already.
 * @returns a spot for each, in the same order.
 */
export function placed(
  wanted: readonly { readonly words: string; readonly spots: readonly [Spot, ...Spot[]] }[],
  taken: readonly Field[],
  frame: Field,
): readonly Spot[] {
  const covered = [...taken];
  return wanted.map(({ words, spots }) => {
    const best = spots
      .map((spot) => ({ spot, field: fieldOf(words, spot) }))
      .map((one) => ({ ...one, cost: costOf(one.field, covered, frame) }))
      .reduce((least, one) => (one.cost < least.cost ? one : least));
    covered.push(best.field);
    return best.spot;
  });
}

function fieldOf(words: string, { x, y, anchor }: Spot): Field {
  const width = words.length * LETTER;
  const left = anchor === 'start' ? x : x - width;
  return { left, right: left + width, top: y - ABOVE, bottom: y + BELOW };
}

function costOf(field: Field, covered: readonly Field[], frame: Field): number {
  const isInside = field.top >= frame.top && field.bottom <= frame.bottom;
  return covered.reduce((sum, other) => sum + overlap(field, other), isInside ? 0 : OUTSIDE);
}

function overlap(a: Field, b: Field): number {
  const width = Math.min(a.right, b.right) - Math.max(a.left, b.left);
  const height = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
  return width > 0 && height > 0 ? width * height : 0;
}
