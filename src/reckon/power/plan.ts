import type { PowerPlanFile } from '../../../schemas/power-plan.js';
import type { Kind } from '../../quantity/index.js';
import { isMissing, type PlanReader } from '../plan-values.js';
import { exactly, larger, minus, product, quotient, restingOn, type Uncertain } from '../uncertain.js';
import { DAY, lengthOf, type Span, spansOf, WHOLE_DAY } from './day.js';

/**
 * The power plan in SI: what is written in `plans/power.yaml`, with its formulas reckoned. A value that cannot
 * be had is null, and `gaps` says in a sentence why.
 */

/** Hours a day in one case, and when in the day they may be. */
export interface Use {
  readonly hours: Uncertain<'time'>;
  readonly spans: readonly Span[];
  /** Whether windows were declared, rather than any time of the day. */
  readonly declared: boolean;
  /** A sentence on why it cannot be, where it cannot. */
  readonly gap: string | null;
}

interface Thing {
  readonly id: string;
  readonly title: string;
  readonly system: string | null;
  /** Refs that it names: in formulas, and under `rests-on`. */
  readonly rests: readonly string[];
  /** Sentences about values that are missing. */
  readonly gaps: readonly string[];
}

export interface PlanLoad extends Thing {
  readonly from: string;
  /** Active power while it runs. */
  readonly running: Uncertain<'power'> | null;
  /** Active power while it starts: never less than while it runs. */
  readonly starting: Uncertain<'power'> | null;
  /** Apparent power while it runs. */
  readonly apparent: Uncertain<'apparent-power'> | null;
  /** Whether its power factor is stated; otherwise it is taken as 1. */
  readonly factorStated: boolean;
  readonly shed: number | null;
  readonly uses: ReadonlyMap<string, Use>;
}

export interface PlanSource extends Thing {
  /** What it is rated at, before derating. */
  readonly full: Uncertain<'power'> | null;
  /** Active power that it gives for hours, derated. */
  readonly active: Uncertain<'power'> | null;
  /** Apparent power that it gives for hours, derated; `unlimited` where it is not limited so. */
  readonly apparent: Uncertain<'apparent-power'> | null | 'unlimited';
  /** Active power against which starts are held: the short-time rating, else the rating as it stands. */
  readonly shortTime: Uncertain<'power'> | null;
  /** Whether a short-time rating is stated. */
  readonly shortTimeStated: boolean;
  readonly fuel: Uncertain<'volume-flow'> | null;
  readonly fills: readonly string[];
  readonly drains: string | null;
  readonly efficiency: Uncertain<'ratio'>;
  readonly efficiencyStated: boolean;
  readonly runs: ReadonlyMap<string, Use>;
}

export interface PlanStore extends Thing {
  readonly capacity: Uncertain<'charge'> | null;
  readonly voltage: Uncertain<'voltage'> | null;
  readonly chargingVoltage: Uncertain<'voltage'> | null;
  readonly usable: Uncertain<'ratio'>;
  readonly chargeEfficiency: Uncertain<'ratio'>;
  /** In order of the state of charge; null where a current is missing. */
  readonly acceptance:
    | readonly { readonly at: Uncertain<'ratio'>; readonly current: Uncertain<'current'> }[]
    | null;
  /** What is taken for granted since the plan does not say it. */
  readonly assumes: readonly string[];
}

export interface PlanCase {
  readonly id: string;
  readonly title: string;
  readonly about: string | null;
  readonly days: Uncertain<'time'> | null;
  readonly without: ReadonlySet<string>;
  /** State of charge to which stores are filled. */
  readonly chargeTo: Uncertain<'ratio'>;
}

export interface Plan {
  readonly title: string;
  readonly cases: readonly PlanCase[];
  readonly sources: readonly PlanSource[];
  readonly stores: readonly PlanStore[];
  readonly loads: readonly PlanLoad[];
}

type Named<T> = NonNullable<T>[keyof NonNullable<T>];
type LoadFile = Named<PowerPlanFile['loads']>;
type SourceFile = Named<PowerPlanFile['sources']>;
type StoreFile = Named<PowerPlanFile['stores']>;

/** Reads a checked power plan. */
export function readPowerPlan(file: PowerPlanFile, reader: PlanReader): Plan {
  return {
    title: file.title ?? 'Power',
    cases: Object.entries(file.cases).map(([id, one]) => readCase(id, one, reader)),
    sources: Object.entries(file.sources ?? {}).map(([id, source]) => readSource(id, source, reader)),
    stores: Object.entries(file.stores ?? {}).map(([id, store]) => readStore(id, store, reader)),
    loads: Object.entries(file.loads ?? {}).map(([id, load]) => readLoad(id, load, reader)),
  };
}

/** Reads the values of one thing and gathers what is missing. */
class Fields {
  readonly gaps: string[] = [];
  readonly refs = new Set<string>();
  private readonly declared: ReadonlySet<string>;
  private readonly title: string;
  private readonly reader: PlanReader;

  constructor(title: string, rests: readonly string[] | undefined, reader: PlanReader) {
    this.title = title;
    this.reader = reader;
    for (const ref of rests ?? []) this.rest(ref);
    this.declared = new Set(this.refs);
  }

  /** A value that has to be there and to make sense, or null with a gap. */
  value<K extends Kind>(
    what: string,
    written: string | number,
    kind: K,
    fits: (si: number) => boolean = (si) => si >= 0,
  ): Uncertain<K> | null {
    const read = this.reader.value(written, kind);
    if (isMissing(read)) {
      for (const ref of read.missing) this.rest(ref);
      const names = read.missing.join(' and ');
      const why = names === '' ? 'cannot be reckoned' : `hangs on ${names}, of which no value is known`;
      this.gaps.push(`${what} of ${this.title} ${why}.`);
      return null;
    }
    for (const ref of read.rests) this.refs.add(ref);
    if (fits(read.si)) return restingOn(read, this.declared);
    this.gaps.push(`${what} of ${this.title} comes to a value that makes no sense: ${written}.`);
    return null;
  }

  /** A value that may be left out. */
  optional<K extends Kind>(
    what: string,
    written: string | number | undefined,
    kind: K,
    fits?: (si: number) => boolean,
  ): Uncertain<K> | null {
    return written === undefined ? null : this.value(what, written, kind, fits);
  }

  /** A share above 0 % and up to 100 %; all, where left out. */
  share(what: string, written: string | number | undefined): Uncertain<'ratio'> {
    return this.optional(what, written, 'ratio', (si) => si > 0 && si <= 1) ?? exactly('ratio', 1);
  }

  private rest(ref: string): void {
    this.refs.add(ref);
    for (const below of this.reader.values.of(ref)?.restsOn ?? []) this.refs.add(below);
  }
}

function titled(id: string, title: string | undefined): string {
  if (title !== undefined) return title;
  const words = id.replaceAll('-', ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function thing(id: string, title: string, system: string | undefined, fields: Fields): Thing {
  return { id, title, system: system ?? null, rests: [...fields.refs], gaps: fields.gaps };
}

function readCase(id: string, one: PowerPlanFile['cases'][string], reader: PlanReader): PlanCase {
  const fields = new Fields(one.title, undefined, reader);
  return {
    id,
    title: one.title,
    about: one.about ?? null,
    days: fields.optional('The time', one.days, 'time', (si) => si > 0),
    without: new Set(one.without ?? []),
    chargeTo: fields.share('The charge', one['charge-to']),
  };
}

/** Uses by case. */
function readUses(uses: LoadFile['uses'], fields: Fields, title: string): ReadonlyMap<string, Use> {
  return new Map(
    Object.entries(uses).flatMap(([id, use]): [string, Use][] => {
      const spans = spansOf(use.between);
      const hours = fields.value('The hours a day', use.hours, 'time');
      const declared = lengthOf(spans) < DAY;
      return hours === null ? [] : [[id, useOf(hours, spans, declared, title)]];
    }),
  );
}

/** Hours in windows; more of them than the windows hold is a gap. */
export function useOf(
  hours: Uncertain<'time'>,
  spans: readonly Span[],
  declared: boolean,
  title: string,
): Use {
  const most = lengthOf(spans);
  const gap =
    hours.si > most * (1 + 1e-9)
      ? `${title} is to run ${hours.si / 3600} h a day, and there are only ${most / 3600} h in which it may.`
      : null;
  return { hours, spans, declared, gap };
}

function readLoad(id: string, load: LoadFile, reader: PlanReader): PlanLoad {
  const title = titled(id, load.title);
  const fields = new Fields(title, load['rests-on'], reader);
  const running = fields.value('The power', load.running, 'power');
  const starting = fields.optional('The starting power', load.starting, 'power');
  const factor = fields.share('The power factor', load['power-factor']);
  const startKnown = load.starting === undefined || starting !== null;
  return {
    ...thing(id, title, load.system, fields),
    from: load.from,
    running,
    starting:
      running === null || !startKnown ? null : starting === null ? running : larger(running, starting),
    apparent: running === null ? null : quotient('apparent-power', running, factor),
    factorStated: load['power-factor'] !== undefined,
    shed: load.shed ?? null,
    uses: readUses(load.uses, fields, title),
  };
}

function readSource(id: string, source: SourceFile, reader: PlanReader): PlanSource {
  const title = titled(id, source.title);
  const fields = new Fields(title, source['rests-on'], reader);
  const full = fields.value('The rating', source.continuous, 'power');
  const apparent = fields.optional('The apparent rating', source.apparent, 'apparent-power');
  const short = fields.optional('The short-time rating', source['short-time']?.power, 'power');
  const derate = fields.share('The derating', source.derate);
  const shortStated = source['short-time'] !== undefined;
  return {
    ...thing(id, title, source.system, fields),
    full,
    active: full === null ? null : product('power', full, derate),
    apparent:
      source.apparent === undefined
        ? 'unlimited'
        : apparent === null
          ? null
          : product('apparent-power', apparent, derate),
    shortTime: shortStated ? short : full,
    shortTimeStated: shortStated,
    fuel: fields.optional('The use of fuel', source.fuel, 'volume-flow'),
    fills: source.fills ?? [],
    drains: source.drains ?? null,
    efficiency: fields.share('The efficiency', source.efficiency),
    efficiencyStated: source.efficiency !== undefined,
    runs: readUses(source.runs ?? {}, fields, title),
  };
}

function readStore(id: string, store: StoreFile, reader: PlanReader): PlanStore {
  const title = titled(id, store.title);
  const fields = new Fields(title, store['rests-on'], reader);
  const positive = (si: number) => si > 0;
  const capacity = fields.value('The capacity', store.capacity, 'charge', positive);
  const voltage = fields.value('The voltage', store.voltage, 'voltage', positive);
  const charging = fields.optional('The charging voltage', store['charging-voltage'], 'voltage', positive);
  const usable = fields.share('The usable share', store.usable);
  const chargeEfficiency = fields.share('The charge efficiency', store['charge-efficiency']);
  const acceptance = readAcceptance(store, fields);
  return {
    ...thing(id, title, store.system, fields),
    capacity,
    voltage,
    chargingVoltage: charging ?? voltage,
    usable,
    chargeEfficiency,
    acceptance,
    assumes: [
      ...(store.usable === undefined ? [`All of the charge of ${title} may be used.`] : []),
      ...(store.acceptance === undefined
        ? [`${title} takes all the current it is given until it is full.`]
        : []),
      ...(charging === null ? [`${title} is charged at its nominal voltage.`] : []),
      ...(store['charge-efficiency'] === undefined
        ? [`All of the charge that is put into ${title} comes out again.`]
        : []),
    ],
  };
}

function readAcceptance(store: StoreFile, fields: Fields): PlanStore['acceptance'] {
  const steps = (store.acceptance ?? []).map((step) => ({
    at: fields.value('A state of charge', step.at, 'ratio', (si) => si >= 0 && si <= 1),
    current: fields.value('The current accepted', step.current, 'current'),
  }));
  const known = steps.flatMap(({ at, current }) =>
    at === null || current === null ? [] : [{ at, current }],
  );
  return known.length < steps.length ? null : known.sort((a, b) => a.at.si - b.at.si);
}

/** When a source may run in a case, and for how long. */
export function runsIn(source: PlanSource, caseId: string): Use {
  return (
    source.runs.get(caseId) ?? { hours: exactly('time', DAY), spans: WHOLE_DAY, declared: false, gap: null }
  );
}

/** What a load asks while starting on top of what it asks while running. */
export function startExtra(load: PlanLoad): Uncertain<'power'> | null {
  return load.starting === null || load.running === null ? null : minus(load.starting, load.running);
}
