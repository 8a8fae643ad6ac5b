import type { ExportDocument } from '../../schemas/export.js';
import { fromSi, type Kind, type Quantity } from '../quantity/index.js';
import { quantityRow } from './export-values.js';
import type { DecisionState, Reckoning } from './model.js';
import type { PowerCase, SourceCase, StoreCase } from './power/model.js';
import type { Trend } from './trend-model.js';
import type { Figure, Rest } from './uncertain.js';
import type { UpkeepState } from './upkeep.js';
import type { LedgerLine, WeightsReckoning } from './weights/model.js';

/** The parts of the export that no file of the book says: what is computed from all of it. */

type Computed = Pick<
  ExportDocument,
  'findings' | 'exposures' | 'derived' | 'trends' | 'upkeep' | 'work' | 'power' | 'weights'
>;

/** All that is computed from a whole book, as rows of the export. */
export function computedRows(reckoning: Reckoning, allTrends: ReadonlyMap<string, Trend>): Computed {
  return {
    findings: reckoning.findings.map(({ grade, system, grounds }) => ({
      grade,
      system,
      grounds: grounds.map(({ about, raisedBy, fittedSince, ...ground }) => ({
        ...ground,
        ...about,
        raisedBy: [...raisedBy],
        fittedSince: (fittedSince?.parts ?? []).map(({ part, date }) => ({ part, date })),
      })),
    })),
    exposures: reckoning.exposures.map(({ dependents, money, ...exposure }) => ({
      ...exposure,
      dependents: dependents.map(({ sort, id, through }) => ({ sort, id, through: [...through] })),
      money: money.map(({ currency, amount }) => ({ currency, amount })),
    })),
    derived: derivedRows(reckoning),
    trends: [...allTrends].map(([point, trend]) => trendRow(point, trend)),
    upkeep: [...reckoning.upkeep.values()].map(upkeepRow),
    work: workRow(reckoning),
    power: (reckoning.power?.cases ?? []).map(caseRow),
    weights: reckoning.weights === null ? null : weightsRow(reckoning.weights),
  };
}

/** Whether a decision still holds, as a row of the export. */
export function holdingRow({ holding }: DecisionState): ExportDocument['decisions'][number]['holding'] {
  if (holding === null) return null;
  const { verdict, turned, missing } = holding;
  return {
    verdict,
    turned: turned === null ? null : { date: turned.date, entry: turned.entry, ref: turned.ref },
    missing: [...missing],
  };
}

function derivedRows({ book, values }: Reckoning): Computed['derived'] {
  return [...book.systems.values()].flatMap((system) =>
    [...system.derived.values()].map(({ ref, title, from, unit, uses }) => {
      const value = values.of(ref);
      const below = (value?.restsOn ?? uses).filter((name) => name !== ref);
      return {
        id: ref,
        title,
        from,
        value: value === undefined ? null : quantityRow(fromSi(value.kind, value, unit)),
        restsOn: below.map((name) => ({ ref: name, standing: values.standing(name) })),
        date: value?.date ?? null,
      };
    }),
  );
}

function trendRow(point: string, trend: Trend): Computed['trends'][number] {
  const { status, direction, scale, days, rate, test, crossings, used, sentence } = trend;
  return {
    point,
    status,
    direction,
    scale,
    days,
    perMonth: maybe(rate?.perMonth),
    perMonthLow: maybe(rate?.low),
    perMonthHigh: maybe(rate?.high),
    p: test?.p ?? null,
    crossings: crossings.map((crossing) => ({ ...crossing, limit: quantityRow(crossing.limit) })),
    flagged: used
      .filter(({ flagged }) => flagged)
      .map(({ point: { reading } }) => ({ date: reading.date, entry: reading.entry })),
    sentence,
  };
}

function upkeepRow(state: UpkeepState): Computed['upkeep'][number] {
  const { upkeep, done, from, byCalendar, byHours } = state;
  return {
    id: upkeep.ref,
    system: upkeep.system,
    what: upkeep.what,
    every: upkeep.everyWritten,
    safety: upkeep.safety,
    done: done.map(({ date, entry, hours, late }) => ({ date, entry, hours, late })),
    from: from === null ? null : { date: from.date, why: from.why },
    byDate: byCalendar === null ? null : { on: byCalendar.on, inDays: byCalendar.inDays },
    byHours:
      byHours === null
        ? null
        : {
            atReading: byHours.atReading,
            left: byHours.left,
            earliest: byHours.expected?.earliest ?? null,
            usual: byHours.expected?.usual ?? null,
            latest: byHours.expected?.latest ?? null,
            because: byHours.because,
          },
    overdueByDate: state.overdueByDate,
    overdueByHours: state.overdueByHours,
    dueOn: state.dueOn,
    because: state.because,
  };
}

function workRow({ work }: Reckoning): Computed['work'] {
  return {
    pace: work.pace === null ? null : { ...work.pace },
    leadTimes: work.leadTimes.map((lead) => ({ ...lead })),
    arrivals: work.arrivals.map((arrival) => ({ ...arrival })),
    goals: work.goals.map((goal) => ({
      ...goal,
      forecast: goal.forecast === null ? null : { ...goal.forecast },
      chain: [...goal.chain],
      steps: goal.steps.map((step) => ({ ...step })),
      unsized: [...goal.unsized],
      unpromised: [...goal.unpromised],
    })),
  };
}

function caseRow(one: PowerCase): Computed['power'][number] {
  return {
    id: one.id,
    title: one.title,
    verdict: one.verdict,
    days: figureRow(one.days),
    energy: quantityRow(one.energy.quantity),
    fuel: figureRow(one.fuel),
    reasons: one.reasons.map(({ verdict, about, text, restsOn }) => ({
      verdict,
      sort: about.sort,
      id: about.id,
      text,
      restsOn: restRows(restsOn),
    })),
    sources: one.sources.map(sourceRow),
    stores: one.stores.map(storeRow),
    assumes: [...one.assumes],
    restsOn: restRows(one.restsOn),
  };
}

function sourceRow(source: SourceCase): Computed['power'][number]['sources'][number] {
  return {
    id: source.id,
    title: source.title,
    absent: source.absent,
    verdict: source.verdict,
    rating: figureRow(source.rating),
    apparentRating: figureRow(source.apparentRating),
    shortTime: figureRow(source.shortTime),
    energy: quantityRow(source.energy.quantity),
    hours: figureRow(source.hours),
    fuel: figureRow(source.fuel),
    moments: source.moments.map(({ from, to, verdict, mayRun, shed, active, apparent }) => ({
      from,
      to,
      verdict,
      mayRun: [...mayRun],
      shed: [...shed],
      active: quantityRow(active.quantity),
      apparent: quantityRow(apparent.quantity),
    })),
    largestSets: source.together.sets.map(({ loads, verdict, active }) => ({
      loads: [...loads],
      verdict,
      active: quantityRow(active.quantity),
    })),
    sets: source.together.count,
  };
}

function storeRow(store: StoreCase): Computed['power'][number]['stores'][number] {
  return {
    id: store.id,
    title: store.title,
    verdict: store.verdict,
    capacity: figureRow(store.capacity),
    usable: figureRow(store.usable),
    used: figureRow(store.used),
    alone: figureRow(store.alone),
    fillers: store.fillers.map(({ source, hours, puts }) => ({
      source,
      hours: quantityRow(hours.quantity),
      puts: quantityRow(puts.quantity),
    })),
    short: figureRow(store.short),
    lasts: figureRow(store.lasts),
  };
}

function weightsRow(weights: WeightsReckoning): NonNullable<Computed['weights']> {
  const { effect, centre } = weights;
  return {
    title: weights.title,
    origin: weights.origin,
    lines: weights.lines.map(lineRow),
    notWeighed: weights.notWeighed.map(({ part, move, date, entry, missing }) => ({
      part,
      move,
      date,
      entry,
      missing: [...missing],
    })),
    massChange: quantityRow(weights.massChange.quantity),
    displacement: figureRow(weights.displacement),
    forward: figureRow(centre.forward),
    starboard: figureRow(centre.starboard),
    up: figureRow(centre.up),
    status: effect.status,
    floating:
      effect.status !== 'given'
        ? null
        : {
            sinkage: quantityRow(effect.sinkage.quantity),
            trim: quantityRow(effect.trim.quantity),
            trimChange: quantityRow(effect.trimChange.quantity),
            draughtFwd: quantityRow(effect.draughtFwd.quantity),
            draughtAft: quantityRow(effect.draughtAft.quantity),
            heel: figureRow(effect.heel),
            gm: figureRow(effect.gm),
          },
    reasons: effect.status === 'given' ? [] : [...effect.reasons],
    remarks: [...weights.remarks],
    restsOn: restRows(weights.restsOn),
  };
}

function lineRow(line: LedgerLine): NonNullable<Computed['weights']>['lines'][number] {
  const [forward, starboard, up] = line.at;
  return {
    sort: line.sort,
    id: line.id,
    title: line.title,
    date: line.date,
    entry: line.entry,
    mass: quantityRow(line.mass.quantity),
    forward: quantityRow(forward.quantity),
    starboard: quantityRow(starboard.quantity),
    up: quantityRow(up.quantity),
    counts: line.counts,
  };
}

function figureRow(figure: Figure<Kind> | null) {
  return figure === null ? null : quantityRow(figure.quantity);
}

function restRows(restsOn: readonly Rest[]) {
  return restsOn.map(({ ref, standing }) => ({ ref, standing }));
}

function maybe(quantity: Quantity | null | undefined) {
  return quantity == null ? null : quantityRow(quantity);
}
