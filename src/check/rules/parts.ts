import * as m from '../messages.js';
import type { Entry, PartMoveName } from '../model.js';
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
    const said = moveSaid(move.part, move.move, now.get(move.part) ?? null);
    const at = { file: move.place.file, path: [...move.place.path, 'move'] };
    if (said !== null) problems.push({ ...said, at });
    now.set(move.part, move.move);
  }
  return problems;
}

/**
 * What speaks against a move of a part.
 *
 * @param last the last move that was told of it; null where none was.
 */
export function moveSaid(part: string, move: PartMoveName, last: PartMoveName | null): Said | null {
  const before = last === null ? 'untold' : AFTER[last];
  if (FROM[move].includes(before)) return null;
  // Several of one sort can be fitted one after the other under one name.
  if (move === 'fitted' && before === 'fitted') return null;
  if (move === 'fitted' && before === 'ordered') return m.partNeverCame(part);
  return m.partNotThere(part, move, ...IN_WORDS[before]);
}
