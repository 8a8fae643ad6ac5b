import {
  atMost,
  bestFit,
  exactly,
  type Fit,
  figureOf,
  product,
  quotient,
  sumOf,
  timesNumber,
  type Uncertain,
  worstFit,
} from '../uncertain.js';
import { acceptedAt } from './charge.js';
import { DAY, type Span } from './day.js';
import {
  carriesAlways,
  chargingOf,
  type DayOfCharging,
  type Filling,
  fastestFill,
  type Known,
  knownStore,
  usableOf,
} from './filling.js';
import type { Filler, PowerVerdict, Reason, StoreCase } from './model.js';
import type { PlanCase, PlanLoad, PlanSource, PlanStore } from './plan.js';
import { energyOfAll, profileOf, type Working } from './profile.js';
import { andList, reason, type Telling, told, worstVerdict } from './words.js';

/** One store in one case: what is taken out, what comes back, how long it lasts. */

/** What a store has to do in a case. */
export interface Keep {
  readonly store: PlanStore;
  readonly one: PlanCase;
  /** Loads that draw on it, with what they take from it, losses on the way included. */
  readonly drawn: readonly Working[];
  /** Loads that draw on it and of which a value is missing. */
  readonly unknown: readonly PlanLoad[];
  /** Sources that are there and charge it, in the order of the plan. */
  readonly fillings: readonly Filling[];
  /** Sources that would charge it, but of which a value is missing. */
  readonly unrated: readonly PlanSource[];
}

/** A store's day, all values known. */
interface StoreDay {
  readonly keep: Keep;
  readonly used: Uncertain<'charge'>;
  readonly usable: Uncertain<'charge'>;
  readonly day: DayOfCharging;
  /** The source that gives at every moment what is drawn, and whether it does. */
  readonly carrier: { readonly source: PlanSource; readonly fit: Fit } | null;
  readonly known: Known;
}

export interface StoreOutcome {
  readonly result: StoreCase;
  readonly reasons: readonly Reason[];
  /** Seconds that each source charges this store, by id. */
  readonly seconds: ReadonlyMap<string, Uncertain<'time'>>;
}

/** A store in a case, with the reasons for its verdict. */
export function storeCase(keep: Keep, pieces: readonly Span[], telling: Telling): StoreOutcome {
  const { store, drawn, one } = keep;
  const { values } = telling;
  const known = knownStore(store);
  const day = known && dayOf(keep, known, pieces);
  const reasons = reasonsOf(keep, day, telling);
  const short = day !== null && day.day.short.si > 1 ? day.day.short : null;
  const carried = day?.carrier?.fit === 'works';
  const idle = day === null || day.used.si === 0;
  const lasting = (a: Uncertain<'charge'>, b: Uncertain<'charge'>) => figureOf(lasts(a, b), 'd', values);
  const result: StoreCase = {
    id: store.id,
    title: store.title,
    system: store.system,
    verdict: worstVerdict(reasons.map((found) => found.verdict)),
    capacity: store.capacity && figureOf(store.capacity, 'Ah', values),
    usable: day && figureOf(day.usable, 'Ah', values),
    profile: profileOf(drawn, pieces, false, values),
    energy: figureOf(energyOfAll(drawn), 'Wh', values),
    used: day && figureOf(day.used, 'Ah', values),
    alone: idle ? null : lasting(day.usable, day.used),
    fillers: day === null || carried ? [] : fillersOf(day, one, telling),
    carried,
    short: short === null || carried ? null : figureOf(short, 'Ah', values),
    lasts: day === null || short === null || carried ? null : lasting(day.usable, short),
  };
  const seconds = new Map(
    day === null || carried
      ? []
      : keep.fillings.map(({ source }, n) => [source.id, day.day.seconds[n] as Uncertain<'time'>] as const),
  );
  return { result, reasons, seconds };
}

/** Days that so much charge lasts, as a time in seconds. */
function lasts(usable: Uncertain<'charge'>, aDay: Uncertain<'charge'>): Uncertain<'time'> {
  return timesNumber(quotient('time', usable, aDay), DAY);
}

function dayOf(keep: Keep, known: Known, pieces: readonly Span[]): StoreDay | null {
  const { drawn, fillings, one } = keep;
  // What accepts nothing at the level to which it is to be charged never gets there; a reason says so.
  if (neverFull(known, one)) return null;
  const used = quotient('charge', energyOfAll(drawn), known.voltage);
  const fits = fillings.map((filling) => ({
    source: filling.source,
    fit: carriesAlways(filling, pieces, drawn),
  }));
  const best = bestFit(fits.map(({ fit }) => fit));
  return {
    keep,
    known,
    used,
    usable: usableOf(known, one.chargeTo),
    day: chargingOf(known, used, one.chargeTo, fillings),
    carrier: best === 'fails' ? null : (fits.find(({ fit }) => fit === best) ?? null),
  };
}

function neverFull(known: Known, one: PlanCase): boolean {
  const table = known.acceptance.map(({ at, current }): [number, number] => [at.si, current.si]);
  return acceptedAt({ capacity: 1, efficiency: 1, table }, one.chargeTo.si) <= 0;
}

/** A source of which nothing is known could only help: what works without it works, and no more can be said. */
function reasonsOf(keep: Keep, day: StoreDay | null, telling: Telling): readonly Reason[] {
  const gaps = gapReasons(keep, telling);
  const told = day === null ? [] : dayReasons(day, telling);
  if (keep.unrated.length === 0 || told.every(({ verdict }) => verdict === 'works'))
    return [...gaps, ...told];
  return [...gaps, ...unratedReasons(keep, telling)];
}

function unratedReasons({ store, unrated }: Keep, telling: Telling): readonly Reason[] {
  const about = { sort: 'store', id: store.id } as const;
  return unrated.map((source) => {
    const text = `What ${source.title} has left to charge ${store.title} is not known.`;
    return reason('cannot-say', about, text, [source], telling);
  });
}

function gapReasons({ store, one, unknown }: Keep, telling: Telling): readonly Reason[] {
  const about = { sort: 'store', id: store.id } as const;
  const unsaid = (text: string, from: { readonly rests: Iterable<string> }) =>
    reason('cannot-say', about, text, [from], telling);
  const known = knownStore(store);
  const level = told(one.chargeTo, '%', telling);
  return [
    ...store.gaps.map((gap) => unsaid(gap, store)),
    ...(known !== null && neverFull(known, one)
      ? [
          unsaid(
            `${store.title} takes no current any more at ${level}, so it never gets there: give a lower charge-to.`,
            store,
          ),
        ]
      : []),
    ...unknown.map((load) => unsaid(`What ${load.title} takes from ${store.title} is not known.`, load)),
  ];
}

/** Whether a store keeps up or lasts as long as is asked, in sentences. */
function dayReasons(day: StoreDay, telling: Telling): readonly Reason[] {
  const { keep, used } = day;
  const { store, one, drawn, fillings } = keep;
  if (used.si === 0) return [];
  const about = { sort: 'store', id: store.id } as const;
  const from = [
    store,
    ...drawn.map(({ load }) => load),
    ...fillings.map(({ source }) => source),
    used,
    day.day.short,
  ];
  const say = (verdict: PowerVerdict, text: string) => reason(verdict, about, text, from, telling);
  const keepsUp = keepsUpFit(day);
  const lasting = lastingFit(day, one.days);
  const verdict = bestFit([keepsUp, lasting]);
  if (verdict === keepsUp && keepsUp !== 'fails') return [say(verdict, keepingUp(day, telling))];
  return [say(verdict, runningDown(day, telling))];
}

/** Whether what is taken out in a day comes back in a day. */
function keepsUpFit(day: StoreDay): Fit {
  const { keep, used, usable, known } = day;
  if (keep.fillings.length === 0) return 'fails';
  const daily = [
    day.day.fit,
    atMost(fastestFill(known, used, keep.one.chargeTo), exactly('time', DAY)),
    ...roomFit(keep, used, usable),
  ];
  return bestFit([worstFit(daily), day.carrier?.fit ?? 'fails']);
}

/** Whether what it holds lasts for the days asked; without days, for one where nothing charges it. */
function lastingFit({ keep, used, usable, day }: StoreDay, days: Uncertain<'time'> | null): Fit {
  const none = keep.fillings.length === 0;
  if (days === null && !none) return 'fails';
  const missing = none ? used : day.short;
  if (missing.si <= 0) return 'fails';
  // Held against charge rather than time: the quotient is bent, and its first-order interval with it.
  const needed = quotient('ratio', days ?? exactly('time', DAY), exactly('time', DAY));
  return worstFit([atMost(product('charge', missing, needed), usable), ...roomFit(keep, used, usable)]);
}

/** Sources that cannot run whenever they are wanted have to find room for what was used since. */
function roomFit(
  { fillings, one }: Keep,
  used: Uncertain<'charge'>,
  usable: Uncertain<'charge'>,
): readonly Fit[] {
  const limited = fillings.length > 0 && fillings.every(({ source }) => source.runs.has(one.id));
  return limited ? [atMost(used, usable)] : [];
}

function keepingUp({ keep, used, day, carrier }: StoreDay, telling: Telling): string {
  const { store, fillings } = keep;
  const doubt = (fit: Fit) => (fit === 'undecided' ? ' The uncertainty reaches across the limit.' : '');
  if (carrier !== null)
    return `${carrier.source.title} gives at every moment what is drawn from ${store.title}.${doubt(carrier.fit)}`;
  const work = fillings.flatMap(({ source }, n) => {
    const seconds = day.seconds[n] as Uncertain<'time'>;
    return seconds.si > 1 ? [`${source.title} in ${told(seconds, 'h', telling)}`] : [];
  });
  const often =
    day.times > 1.001
      ? ` That is more than may be taken out at once: it has to be charged ${Math.ceil(day.times)} times a day.`
      : '';
  return `A day takes ${told(used, 'Ah', telling)} out of ${store.title}; it is put back by ${andList(work)}.${often}${doubt(day.fit)}`;
}

function runningDown({ keep, used, usable, day }: StoreDay, telling: Telling): string {
  const { store, one, fillings } = keep;
  const taken = `A day takes ${told(used, 'Ah', telling)} out of ${store.title}`;
  const asked = one.days ?? (fillings.length === 0 ? exactly('time', DAY) : null);
  const until = (missing: Uncertain<'charge'>) =>
    `it lasts ${told(lasts(usable, missing), 'd', telling)}${asked === null ? '' : `, and ${told(asked, 'd', telling)} is asked`}`;
  if (fillings.length === 0) return `${taken} and nothing charges it: ${until(used)}.`;
  const back = sumOf('charge', day.puts);
  const missing = day.short.si > 0 ? day.short : used;
  const room = roomFit(keep, used, usable).every((fit) => fit !== 'fails');
  const short =
    day.short.si > 0 && room
      ? `and ${told(back, 'Ah', telling)} comes back: ${until(missing)}`
      : `which is more than may be taken out before it can be charged again`;
  return `${taken}, ${short}.`;
}

function fillersOf({ keep, known, used, day }: StoreDay, one: PlanCase, telling: Telling): readonly Filler[] {
  const { values } = telling;
  return keep.fillings.map((filling, n): Filler => {
    const alone = chargingOf(known, used, one.chargeTo, [filling]);
    return {
      source: filling.source.id,
      hours: figureOf(day.seconds[n] as Uncertain<'time'>, 'h', values),
      puts: figureOf(day.puts[n] as Uncertain<'charge'>, 'Ah', values),
      alone: alone.short.si > 1 ? null : figureOf(alone.seconds[0] as Uncertain<'time'>, 'h', values),
    };
  });
}
