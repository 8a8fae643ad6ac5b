/** Times of the day, in seconds from midnight, and stretches of it. */

export const DAY = 86_400;

/** A stretch of the day, in seconds from midnight; it never goes over midnight. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

export const WHOLE_DAY: readonly Span[] = [{ from: 0, to: DAY }];

/**
 * Clock windows as stretches of the day: one over midnight becomes two, those that touch or overlap become
 * one, and one that ends when it begins is the whole day. Without windows it is the whole day.
 *
 * @param between `['16:30-07:30']`, as the schema has it.
 * @example spansOf(['22:00-01:00']) // [{ from: 0, to: 3600 }, { from: 79200, to: 86400 }]
 */
export function spansOf(between: readonly string[] | undefined): readonly Span[] {
  if (between === undefined || between.length === 0) return WHOLE_DAY;
  const pieces = between.flatMap(piecesOf).sort((a, b) => a.from - b.from);
  return pieces.reduce<Span[]>((merged, piece) => {
    const last = merged.at(-1);
    if (last === undefined || piece.from > last.to) merged.push(piece);
    else merged[merged.length - 1] = { from: last.from, to: Math.max(last.to, piece.to) };
    return merged;
  }, []);
}

function piecesOf(window: string): readonly Span[] {
  const [from = 0, to = DAY] = window.split('-').map(secondsOf);
  if (from < to) return [{ from, to }];
  return [
    { from, to: DAY },
    { from: 0, to },
  ].filter((piece) => piece.to > piece.from);
}

function secondsOf(clock: string): number {
  const [hours = 0, minutes = 0] = clock.split(':').map(Number);
  return hours * 3600 + minutes * 60;
}

/** The day cut wherever one of the stretches begins or ends: inside a piece nothing changes. */
export function cutsOf(spans: readonly Span[]): readonly Span[] {
  const edges = [...new Set([0, DAY, ...spans.flatMap(({ from, to }) => [from, to])])].sort((a, b) => a - b);
  return edges.slice(1).map((to, index) => ({ from: edges[index] as number, to }));
}

/** Whether a piece made by `cutsOf` lies in one of the stretches. */
export function lies(piece: Span, spans: readonly Span[]): boolean {
  return spans.some(({ from, to }) => piece.from >= from && piece.to <= to);
}

/** Seconds in the stretches together; they do not overlap. */
export function lengthOf(spans: readonly Span[]): number {
  return spans.reduce((sum, { from, to }) => sum + to - from, 0);
}

/** The time that two lists of stretches have in common. */
export function common(a: readonly Span[], b: readonly Span[]): readonly Span[] {
  return cutsOf([...a, ...b]).filter((piece) => lies(piece, a) && lies(piece, b));
}

/** Stretches that follow each other made one. */
export function joined(spans: readonly Span[]): readonly Span[] {
  return spans.reduce<Span[]>((merged, span) => {
    const last = merged.at(-1);
    if (last !== undefined && last.to === span.from) merged[merged.length - 1] = { ...last, to: span.to };
    else merged.push({ from: span.from, to: span.to });
    return merged;
  }, []);
}

/** `17:00 to 19:00 and 21:30 to 24:00`; the whole day is `all day`. */
export function spansInWords(spans: readonly Span[]): string {
  const whole = joined(spans);
  if (lengthOf(whole) === DAY) return 'all day';
  return `from ${whole.map(({ from, to }) => `${clock(from)} to ${clock(to)}`).join(' and ')}`;
}

function clock(seconds: number): string {
  const minutes = Math.round(seconds / 60);
  const two = (number: number) => String(number).padStart(2, '0');
  return `${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
}
