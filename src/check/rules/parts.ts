import * as m from '../messages.js';
import type { Entry, PartMoveName } from '../model.js';
import { nearest } from '../nearest.js';
import type { Problem, Said } from '../problem.js';

/** Where a part is after a move. */
type PartWhereabouts = 'ordered' | 'ashore' | 'fitted' | 'gone';

const AFTER: Readonly<Record<PartMoveName, PartWhereabouts>> = {
  ordered: 'ordered',
  arrived: 'ashore',
  fitted: 'fitted',
  removed: 'ashore',
  moved: 'fitted',
  returned: 'gone',
  sold: 'gone',
  scrapped: 'gone',
};

/** From where each move can be made. A part nobody has told of yet may simply have been aboard: `fitted`. */
const FROM: Readonly<Record<PartMoveName, readonly (PartWhereabouts | 'untold')[]>> = {
  ordered: ['untold', 'ordered', 'ashore', 'fitted', 'gone'],
  arrived: ['untold', 'ordered', 'ashore', 'fitted', 'gone'],
  fitted: ['untold', 'ashore'],
  removed: ['fitted'],
  moved: ['fitted'],
  returned: ['ashore', 'ordered'],
  sold: ['ashore', 'fitted'],
  scrapped: ['ashore', 'fitted'],
};

/** Where a part is instead, and what would make the move possible. */
const IN_WORDS: Readonly<Record<PartWhereabouts | 'untold', readonly [now: string, mend: string]>> = {
  untold: [
    'no entry so far tells of it',
    'Correct the name; for something aboard from the beginning, say `move: fitted` in the first entry.',
  ],
  ordered: [
    'it is ordered, but has not come',
    'Say `move: arrived` first, here or in the entry of that day.',
  ],
  ashore: [
    'it is here, but not fitted',
    'Correct the name or the move, or say `move: fitted` in the entry in which it was fitted.',
  ],
  fitted: ['it is fitted', 'Say `move: removed` first, or correct the move.'],
  gone: [
    'it was returned, sold or scrapped before',
    'Give another one of the same sort a name of its own, or say `move: arrived` where it came back.',
  ],
};

/** A part is fitted after it came, and taken out only where it is. */
export function checkParts(entries: readonly Entry[]): readonly Problem[] {
  const now = new Map<string, PartMoveName>();
  const problems: Problem[] = [];
  for (const move of entries.flatMap((entry) => entry.parts)) {
    const { file, path } = move.place;
    const said = moveSaid(move.part, move.move, now);
    if (said !== null) problems.push({ ...said, at: { file, path: [...path, 'move'] } });
    const doubt = said === null ? misspeltSaid(move, now) : null;
    if (doubt !== null) problems.push({ ...doubt, at: { file, path: [...path, 'part'] } });
    now.set(move.part, move.move);
  }
  return problems;
}

/** The last move of every part told of so far, by name. */
type LastMoves = ReadonlyMap<string, PartMoveName>;

/** What speaks against a move of a part. */
export function moveSaid(part: string, move: PartMoveName, lastMoves: LastMoves): Said | null {
  const before = whereabouts(lastMoves.get(part));
  if (FROM[move].includes(before)) return null;
  // Several of one sort can be fitted one after the other under one name.
  if (move === 'fitted' && before === 'fitted') return null;
  if (move === 'fitted' && before === 'ordered') return m.partNeverCame(part);
  const near = before === 'untold' ? nearest(part, movable(move, lastMoves)) : null;
  const [now, mend] = IN_WORDS[before];
  return m.partNotThere(part, move, now, near === null ? mend : `Did you mean \`${near}\`?`);
}

/** As much of a move as tells whether its name is most likely a slip. */
interface NamedMove {
  readonly part: string;
  readonly move: PartMoveName;
  readonly what?: string | null | undefined;
  readonly note?: string | null | undefined;
}

/**
 * A part that comes or is fitted out of nowhere, under a name like one that is told of already. A part that
 * is really new says what it is where it first appears, and is then not asked about.
 */
export function misspeltSaid({ part, move, what, note }: NamedMove, lastMoves: LastMoves): Said | null {
  if (lastMoves.has(part) || (move !== 'arrived' && move !== 'fitted')) return null;
  if (isSaid(what) || isSaid(note)) return null;
  const awaited = nearest(part, awaiting(move, lastMoves));
  if (awaited !== null) return m.partMisspelt(part, move, awaited, true);
  // Of what nobody waits for, another number is another one of the same sort: `winch-1` and `winch-2`.
  const other = nearest(part, lastMoves.keys());
  if (other === null || withoutDigits(other) === withoutDigits(part)) return null;
  return m.partMisspelt(part, move, other, false);
}

function isSaid(text: string | null | undefined): boolean {
  return text !== null && text !== undefined && text !== '';
}

/** Parts of which this move would be the next: on order for one that comes, here or on order for one that is fitted. */
function awaiting(move: 'arrived' | 'fitted', lastMoves: LastMoves): readonly string[] {
  const due: readonly string[] = move === 'arrived' ? ['ordered'] : ['ordered', 'ashore'];
  return [...lastMoves].flatMap(([part, last]) => (due.includes(AFTER[last]) ? [part] : []));
}

/** Parts that can be moved so from where they are. */
function movable(move: PartMoveName, lastMoves: LastMoves): readonly string[] {
  return [...lastMoves].flatMap(([part, last]) => (FROM[move].includes(AFTER[last]) ? [part] : []));
}

function whereabouts(last: PartMoveName | undefined): PartWhereabouts | 'untold' {
  return last === undefined ? 'untold' : AFTER[last];
}

function withoutDigits(name: string): string {
  return name.replaceAll(/\d+/g, '');
}
