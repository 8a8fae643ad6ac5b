import type { PartMove, Position } from '../../check/model.js';
import {
  exactly,
  fromQuantity,
  minus,
  type Origin,
  product,
  sumOf,
  timesNumber,
  type Uncertain,
} from '../uncertain.js';
import type { LineSort, NotWeighed } from './model.js';

/** The ledger of masses and where they sit, from the moves of parts. */

/** Forward, to starboard, up. */
export type Place = readonly [Uncertain<'length'>, Uncertain<'length'>, Uncertain<'length'>];

/** A mass put somewhere; negative where it is taken away. */
export interface Entry {
  readonly sort: LineSort;
  readonly id: string;
  readonly title: string;
  readonly system: string | null;
  readonly date: string | null;
  readonly entry: string | null;
  readonly note: string | null;
  readonly mass: Uncertain<'mass'>;
  readonly at: Place;
}

/** Something of a part that is aboard, as far as it is known. */
interface Lot {
  readonly mass: Uncertain<'mass'> | null;
  readonly at: Place | null;
}

/** What is known of a part before its next move. */
interface State {
  readonly lots: readonly Lot[];
  /** The last mass that was stated. */
  readonly mass: Uncertain<'mass'> | null;
  readonly title: string;
}

/** A change: mass and place, or what of them is not on record. */
interface Change {
  readonly sort: LineSort;
  readonly lot: Lot;
}

export interface PartLedger {
  readonly entries: readonly Entry[];
  readonly notWeighed: readonly NotWeighed[];
}

/**
 * What the moves of parts do to the weights. A mass or place that a move does not state is taken from the
 * part's earlier moves: what was fitted at 118 kg is removed at 118 kg, from where it was.
 *
 * @param moves in order of date; of all parts.
 */
export function partLedger(moves: readonly PartMove[]): PartLedger {
  const states = new Map<string, State>();
  const entries: Entry[] = [];
  const notWeighed: NotWeighed[] = [];
  for (const move of moves) {
    const before = states.get(move.part) ?? { lots: [], mass: null, title: move.part };
    const state = { ...before, title: move.what ?? before.title, mass: massOf(move) ?? before.mass };
    const { changes, lots } = changesOf(move, state);
    states.set(move.part, { ...state, lots });
    for (const { sort, lot } of changes) {
      const entry = entryOf(move, sort, lot, state.title);
      if (entry !== null) entries.push(entry);
    }
    const missing = missingIn(changes);
    if (missing.length > 0)
      notWeighed.push({
        part: move.part,
        title: state.title,
        move: move.move,
        date: move.date,
        entry: move.entry,
        missing,
      });
  }
  return { entries, notWeighed };
}

function massOf({ mass }: PartMove): Uncertain<'mass'> | null {
  return mass === null ? null : fromQuantity('mass', mass);
}

/** A position states no uncertainty, so that is unknown. */
function placeOf(position: Position): Place {
  const axis = (si: number): Uncertain<'length'> => {
    const origin: Origin = { half: null, resolution: 0 };
    return { kind: 'length', si, slopes: new Map([[origin, 1]]), rests: new Set() };
  };
  return [axis(position[0]), axis(position[1]), axis(position[2])];
}

function changesOf(
  move: PartMove,
  state: State,
): { readonly changes: readonly Change[]; readonly lots: readonly Lot[] } {
  switch (move.move) {
    case 'ordered':
    case 'arrived':
      return { changes: [], lots: state.lots };
    case 'fitted': {
      const lot = { mass: state.mass, at: move.at && placeOf(move.at) };
      return { changes: [{ sort: 'fitted', lot }], lots: [...state.lots, lot] };
    }
    case 'removed':
      return takenOff(move, state);
    case 'moved':
      return shifted(move, state);
    case 'returned':
    case 'sold':
    case 'scrapped':
      // What is aboard goes ashore with it; what was taken off before changes nothing any more.
      return state.lots.length > 0 || move.from !== null ? takenOff(move, state) : { changes: [], lots: [] };
  }
}

function takenOff(move: PartMove, { lots, mass }: State) {
  const gone = goneFrom(move, lots, mass);
  return {
    changes: gone.map((lot): Change => ({ sort: 'removed', lot: negative(lot) })),
    lots: leftOf(move, lots),
  };
}

function shifted(move: PartMove, { lots, mass }: State) {
  const gone = goneFrom(move, lots, mass);
  const moved: Lot = { mass: totalOf(gone), at: move.at && placeOf(move.at) };
  const from = gone.map((lot): Change => ({ sort: 'moved-from', lot: negative(lot) }));
  return {
    changes: [...from, { sort: 'moved-to', lot: moved } as const],
    lots: [...leftOf(move, lots), moved],
  };
}

/** What a move takes away: what it states, else all that is aboard of the part. */
function goneFrom(move: PartMove, lots: readonly Lot[], lastMass: Uncertain<'mass'> | null): readonly Lot[] {
  if (move.mass === null && move.from === null && lots.length > 0) return lots;
  const aboard = lots.length === 0 ? lastMass : totalOf(lots);
  const mass = move.mass === null ? aboard : lastMass;
  const only = lots.length === 1 ? (lots[0] as Lot).at : null;
  return [{ mass, at: move.from === null ? only : placeOf(move.from) }];
}

/** What is still aboard of a part when a move has taken some of it away. */
function leftOf(move: PartMove, lots: readonly Lot[]): readonly Lot[] {
  const total = totalOf(lots);
  const taken = move.mass?.si ?? Number.POSITIVE_INFINITY;
  if (total === null || taken >= total.si * (1 - 1e-9)) return [];
  const mass = minus(total, massOf(move) ?? exactly('mass', 0));
  return [{ mass, at: lots.length === 1 ? (lots[0] as Lot).at : null }];
}

function totalOf(lots: readonly Lot[]): Uncertain<'mass'> | null {
  const masses = lots.flatMap(({ mass }) => mass ?? []);
  return masses.length < lots.length || lots.length === 0 ? null : sumOf('mass', masses);
}

function negative({ mass, at }: Lot): Lot {
  return { mass: mass && timesNumber(mass, -1), at };
}

function entryOf(move: PartMove, sort: LineSort, { mass, at }: Lot, title: string): Entry | null {
  if (mass === null || at === null) return null;
  const { part: id, system, date, entry, note } = move;
  return { sort, id, title, system, date, entry, note, mass, at };
}

function missingIn(changes: readonly Change[]): NotWeighed['missing'] {
  const mass = changes.some(({ lot }) => lot.mass === null);
  const position = changes.some(({ lot }) => lot.at === null);
  return [...(mass ? (['mass'] as const) : []), ...(position ? (['position'] as const) : [])];
}

/** Sums of mass and of mass times position. */
export interface Totals {
  readonly mass: Uncertain<'mass'>;
  readonly forward: Uncertain<'moment-of-mass'>;
  readonly starboard: Uncertain<'moment-of-mass'>;
  readonly up: Uncertain<'moment-of-mass'>;
}

/** The sums over some entries; nought over none. Their order does not matter. */
export function totalsOf(entries: readonly Pick<Entry, 'mass' | 'at'>[]): Totals {
  const moment = (axis: 0 | 1 | 2) =>
    sumOf(
      'moment-of-mass',
      entries.map(({ mass, at }) => product('moment-of-mass', mass, at[axis])),
    );
  return {
    mass: sumOf(
      'mass',
      entries.map(({ mass }) => mass),
    ),
    forward: moment(0),
    starboard: moment(1),
    up: moment(2),
  };
}
