import type { PowerPlanFile } from '../../schemas/power-plan.js';
import type { WeightsPlanFile } from '../../schemas/weights-plan.js';
import type { CheckedBook, PartMove, PartMoveName, Position, System } from '../../src/check/model.js';
import type { Quantity } from '../../src/quantity/index.js';
import type { PowerCase, SourceCase, StoreCase } from '../../src/reckon/power/model.js';
import { reckonPower } from '../../src/reckon/power/power.js';
import type { Figure } from '../../src/reckon/uncertain.js';
import { type Values, valuesInForce } from '../../src/reckon/values.js';
import { quantity } from './book.js';

/** Books with plans, put together without files, for tests that need many of them. */

/** A book with plans and with points `s.name` of which values are known. */
export interface Planned {
  readonly book: CheckedBook;
  readonly values: Values;
}

/** @param known values in force by the name of their point, which is of the system `s`. */
export function planned(
  plans: Partial<CheckedBook['plans']>,
  known: Readonly<Record<string, string>> = {},
  moves: readonly PartMove[] = [],
): Planned {
  const given = new Map(
    Object.entries(known).map(([name, value]) => [`s.${name}`, quantity(value)] as const),
  );
  const systems = new Map([['s', systemWith(given)]]);
  const book: CheckedBook = {
    id: 'skiff',
    subject: { name: 'Skiff', type: null, built: null, about: null, homePort: null, particulars: [] },
    language: 'en',
    currency: null,
    address: null,
    display: { system: 'as-written' },
    people: new Map(),
    instruments: new Map(),
    audiences: new Map(),
    copy: null,
    systems,
    entries: entriesOf(moves),
    series: new Map(),
    plans: { power: null, weights: null, ...plans },
  };
  return { book, values: valuesInForce(systems, new Map(), new Map(), given) };
}

function systemWith(given: ReadonlyMap<string, Quantity>): System {
  const place = { file: 'systems/s.md', path: [] };
  const points = [...given].map(([ref, { kind, unit }]) => {
    const name = ref.slice(2);
    const point = {
      ref,
      system: 's',
      name,
      title: name,
      kind,
      unit,
      atLeast: null,
      atMost: null,
      expect: null,
      compareAt: [],
      correct: null,
      plausible: null,
      where: null,
      series: null,
      since: null,
      until: null,
      place,
    };
    return [name, point] as const;
  });
  return {
    id: 's',
    file: 'systems/s.md',
    title: 'S',
    group: null,
    inService: null,
    hazards: [],
    points: new Map(points),
    meters: new Map(),
    specs: new Map(),
    derived: new Map(),
    tests: new Map(),
    upkeep: new Map(),
    body: '',
  };
}

/** What a test says of a part's move. */
export interface Told {
  readonly part: string;
  readonly move: PartMoveName;
  readonly date: string;
  readonly mass?: string;
  readonly at?: Position;
  readonly from?: Position;
}

/** A move of a part as the checker would have it. */
export function move({ part, move: how, date, mass, at, from }: Told): PartMove {
  return {
    date,
    part,
    move: how,
    what: null,
    system: 's',
    quantity: null,
    cost: null,
    supplier: null,
    due: null,
    serial: null,
    mass: mass === undefined ? null : quantity(mass, 'mass'),
    at: at ?? null,
    from: from ?? null,
    restsOn: [],
    see: null,
    note: null,
    entry: `${date}-work`,
    place: { file: `entries/${date}.md`, path: ['parts', 0] },
  };
}

/** One entry for each move, in order of date. */
function entriesOf(moves: readonly PartMove[]): CheckedBook['entries'] {
  const dates = [...moves].sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
  return dates.map((part) => ({
    id: part.entry,
    file: part.place.file,
    hash: '',
    date: part.date,
    title: 'Work',
    systems: ['s'],
    location: null,
    hours: [],
    meters: [],
    readings: [],
    statements: [],
    tests: [],
    parts: [part],
    decisions: [],
    opens: [],
    closes: [],
    done: [],
    photos: [],
    private: [],
    body: '',
  }));
}

/** The only case, or the one named, of a power plan. */
export function caseOf(
  power: PowerPlanFile,
  known: Readonly<Record<string, string>> = {},
  id?: string,
): PowerCase {
  const { book, values } = planned({ power }, known);
  const found = reckonPower(book, values)?.cases.find((one) => id === undefined || one.id === id);
  if (found === undefined) throw new Error(`no case ${id ?? 'at all'}`);
  return found;
}

/** A source of a case. */
export function sourceIn(one: PowerCase, id: string): SourceCase {
  const found = one.sources.find((source) => source.id === id);
  if (found === undefined) throw new Error(`no source ${id}`);
  return found;
}

/** A store of a case. */
export function storeIn(one: PowerCase, id: string): StoreCase {
  const found = one.stores.find((store) => store.id === id);
  if (found === undefined) throw new Error(`no store ${id}`);
  return found;
}

/** The number of a figure in SI. */
export function si(figure: Figure | null): number {
  if (figure === null) throw new Error('there is no figure');
  return figure.quantity.si;
}

/** The half-width of a figure in SI; null where it is unknown. */
export function half(figure: Figure | null): number | null {
  if (figure === null) throw new Error('there is no figure');
  return figure.quantity.siUncertainty;
}

/** A weights plan with plain hydrostatics: 10 t, marks 10 m apart, centre of flotation amidships. */
export function weightsPlan(
  weights: WeightsPlanFile['weights'] = {},
  hydrostatics: Partial<NonNullable<WeightsPlanFile['hydrostatics']>> = {},
): WeightsPlanFile {
  return {
    origin: 'aft mark',
    hydrostatics: {
      on: '2024-06-01',
      length: '10 m',
      displacement: '10 t',
      'draught-fwd': '1.20 m',
      'draught-aft': '1.50 m',
      tpc: '0.2 t/cm',
      mctc: '0.1 t m/cm',
      lcf: '5 m',
      lcg: '5 m',
      kg: '1.5 m',
      gm: '0.8 m',
      valid: { 'mass-change': '50 %' },
      ...hydrostatics,
    },
    weights,
  };
}
