import { atMost, type Fit, figureOf, product, type Uncertain } from '../uncertain.js';
import { lies, type Span, spansInWords } from './day.js';
import { outsideRuns } from './filling.js';
import type { Moment, PowerVerdict, Reason, SourceCase } from './model.js';
import type { PlanLoad, PlanSource, Use } from './plan.js';
import { energyOfAll, profileOf, type Unknown, type Working } from './profile.js';
import { askedBy, getsItsHours, momentOf, type Rated, ratedOf, togetherOf } from './sources.js';
import { andList, reason, type Telling, told, worstVerdict } from './words.js';

/** One source in one case: its verdict and the sentences for it. */

/** What a source has to do in a case. */
export interface Duty {
  readonly source: PlanSource;
  readonly absent: boolean;
  /** Its loads in this case, all values known. */
  readonly working: readonly Working[];
  /** Its loads in this case of which a value is missing. */
  readonly unknown: readonly Unknown[];
  /** When it may run, and for how long. */
  readonly runs: Use;
  /** Seconds a day that its own loads keep it running. */
  readonly own: Uncertain<'time'>;
  /** Sentences on what of its running cannot be. */
  readonly gaps: readonly string[];
  /** Hours that it runs a day, in seconds; null for one that draws on a store or does nothing. */
  readonly seconds: Uncertain<'time'> | null;
}

/** A source in a case, with the reasons for its verdict. */
export function sourceCase(
  duty: Duty,
  pieces: readonly Span[],
  telling: Telling,
): { readonly result: SourceCase; readonly reasons: readonly Reason[] } {
  const { source, absent, working, unknown, seconds } = duty;
  const { values } = telling;
  const rated = absent ? null : ratedOf(source);
  const unknownIn = (piece: Span) =>
    unknown.filter(({ use }) => lies(piece, use.spans)).map(({ load }) => load.id);
  const moments = absent
    ? []
    : pieces.map((piece) => momentOf(piece, rated, working, unknownIn(piece), values));
  const reasons = reasonsOf(duty, rated, moments, pieces, telling);
  const verdict = worstVerdict(reasons.map((one) => one.verdict));
  const { active, apparent, shortTime } = source;
  const result: SourceCase = {
    id: source.id,
    title: source.title,
    system: source.system,
    absent,
    verdict,
    rating: active && figureOf(active, 'W', values),
    fullRating: source.full && figureOf(source.full, 'W', values),
    apparentRating: apparent === 'unlimited' || apparent === null ? null : figureOf(apparent, 'VA', values),
    shortTime: shortTime && figureOf(shortTime, 'W', values),
    profile: profileOf(working, pieces, true, values),
    moments,
    together: togetherOf(
      rated,
      working,
      unknown.map(({ load }) => load.id),
      values,
    ),
    energy: figureOf(energyOfAll(working), 'Wh', values),
    hours: seconds && figureOf(seconds, 'h', values),
    fuel: fuelFigure(duty, telling),
  };
  return { result, reasons };
}

/** Fuel that a source burns in a day; null where it burns none or it is not known. */
export function fuelOf({ source, seconds }: Duty): Uncertain<'volume'> | null {
  return seconds === null || source.fuel === null ? null : product('volume', source.fuel, seconds);
}

function fuelFigure(duty: Duty, { values }: Telling): SourceCase['fuel'] {
  const fuel = fuelOf(duty);
  return fuel && figureOf(fuel, 'L', values);
}

function reasonsOf(
  duty: Duty,
  rated: Rated | null,
  moments: readonly Moment[],
  pieces: readonly Span[],
  telling: Telling,
): readonly Reason[] {
  const { source, absent, working, unknown } = duty;
  if (absent) return absentReasons(duty, telling);
  const about = { sort: 'source', id: source.id } as const;
  const loads = [...restsOfLoads(working), ...unknown.map(({ load }) => load)];
  if (loads.length === 0) return [];
  const gaps = [...source.gaps, ...duty.gaps, ...unknown.flatMap(({ gaps: why }) => why)];
  const unsaid = gaps.map((gap) => reason('cannot-say', about, gap, [source, ...loads], telling));
  if (rated === null) return unsaid;
  const bad = byOutcome(
    moments.filter(({ verdict, shed }) => verdict === 'fails' || verdict === 'undecided' || shed.length > 0),
  );
  const cut = working.filter(({ load }) => moments.some(({ shed }) => shed.includes(load.id)));
  const wrong = [
    ...bad.map((same) => momentReason(same, duty, rated, telling)),
    ...cut.flatMap((one) => hoursReason(one, duty, rated, pieces, telling)),
    ...runReasons(duty, telling),
  ];
  if (wrong.length + unsaid.length > 0) return [...unsaid, ...wrong];
  const text = `${source.title} carries all that may run on it, at every moment of the day.`;
  return [reason('works', about, text, [source, ...loads], telling)];
}

/** Loads that are to run when or for longer than their source may. */
function runReasons({ source, working, runs, own }: Duty, telling: Telling): readonly Reason[] {
  const outside = working.flatMap(({ load, use }) => {
    if (outsideRuns(use.spans, runs.spans) <= 0) return [];
    const text = `${load.title} runs ${spansInWords(use.spans)}, and ${source.title} only ${spansInWords(runs.spans)}.`;
    return [reason('fails', { sort: 'load', id: load.id }, text, [load, source], telling)];
  });
  const fit = atMost(own, runs.hours);
  if (fit === 'works') return outside;
  const text = `Its loads keep ${source.title} running ${told(own, 'h', telling)} a day, and it may run ${told(runs.hours, 'h', telling)}.`;
  const about = { sort: 'source', id: source.id } as const;
  return [...outside, reason(fit, about, text, [source, ...restsOfLoads(working)], telling)];
}

function absentReasons({ source, working, unknown }: Duty, telling: Telling): readonly Reason[] {
  return [...working, ...unknown].map(({ load }) =>
    reason(
      'fails',
      { sort: 'load', id: load.id },
      `${load.title} is fed by ${source.title}, which is not there in this case.`,
      [load],
      telling,
    ),
  );
}

function restsOfLoads(working: readonly Working[]): readonly PlanLoad[] {
  return working.map(({ load }) => load);
}

/** Moments with the same loads and the same outcome, together. */
function byOutcome(moments: readonly Moment[]): readonly (readonly Moment[])[] {
  const groups = new Map<string, Moment[]>();
  for (const moment of moments) {
    const key = JSON.stringify([moment.verdict, moment.mayRun, moment.shed]);
    groups.set(key, [...(groups.get(key) ?? []), moment]);
  }
  return [...groups.values()];
}

/** Why a source does not carry its loads at some moments, or which of them have to be off for it to. */
function momentReason(same: readonly Moment[], duty: Duty, rated: Rated, telling: Telling): Reason {
  const { source, working } = duty;
  const { mayRun, shed, verdict } = same[0] as Moment;
  const about = { sort: 'source', id: source.id } as const;
  const when = spansInWords(same);
  const all = working.filter(({ load }) => mayRun.includes(load.id));
  const kept = all.filter(({ load }) => !shed.includes(load.id));
  const names = (set: readonly Working[]) => andList(set.map(({ load }) => load.title));
  const from = [source, ...restsOfLoads(all)];
  const works = verdict === 'works' || (verdict === 'cannot-say' && shed.length > 0);
  if (works) {
    const off = names(shed.flatMap((id) => all.find(({ load }) => load.id === id) ?? []));
    const text = `${off} may have to be off ${when}: with all running, ${excess(all, rated, telling)}.`;
    return reason('works', about, text, from, telling);
  }
  const beside = shed.length === 0 ? '' : ', even with all off that may be';
  const doubt = verdict === 'undecided' ? ' The uncertainty reaches across the limit.' : '';
  const run = kept.length === 1 ? 'runs' : 'run together';
  const text = `When ${names(kept)} ${run} ${when}${beside}, ${excess(kept, rated, telling)}.${doubt}`;
  return reason(verdict, about, text, from, telling);
}

/** ` (90 % of 2580 W)`, where the plan counts on less than the whole rating. */
function derated({ source: { full }, active }: Rated, telling: Telling): string {
  if (full === null || full.si === active.si) return '';
  return ` (${Math.round((100 * active.si) / full.si)} % of ${told(full, 'W', telling)})`;
}

/** What is asked against what is given, for each limit that is not kept. */
function excess(set: readonly Working[], rated: Rated, telling: Telling): string {
  const { source, active, apparent, shortTime } = rated;
  const asked = askedBy(set);
  const lines: string[] = [];
  const say = (fit: Fit, text: () => string) => {
    if (fit !== 'works') lines.push(text());
  };
  say(
    atMost(asked.active, active),
    () =>
      `${told(asked.active, 'W', telling)} is asked of ${told(active, 'W', telling)}${derated(rated, telling)}`,
  );
  if (apparent !== 'unlimited')
    say(
      atMost(asked.apparent, apparent),
      () => `${told(asked.apparent, 'VA', telling)} is asked of ${told(apparent, 'VA', telling)}`,
    );
  const start = asked.start;
  if (start !== null) {
    const title = set.find(({ load }) => load.id === start.load)?.load.title ?? start.load;
    const limit = source.shortTimeStated ? 'for a short time' : 'without derating';
    say(
      atMost(start.active, shortTime),
      () =>
        `${told(start.active, 'W', telling)} is asked while ${title} starts, of ${told(shortTime, 'W', telling)} ${limit}`,
    );
  }
  return `${andList(lines)} that ${source.title} gives`;
}

function hoursReason(
  one: Working,
  { source, working }: Duty,
  rated: Rated,
  pieces: readonly Span[],
  telling: Telling,
): readonly Reason[] {
  const fit: PowerVerdict = getsItsHours(one, rated, working, pieces);
  if (fit === 'works') return [];
  const verb = fit === 'fails' ? 'does not get' : 'may not get';
  const text = `${one.load.title} ${verb} its ${told(one.use.hours, 'h', telling)} a day from ${source.title}: others that run all the time come first.`;
  return [reason(fit, { sort: 'load', id: one.load.id }, text, [source, ...restsOfLoads(working)], telling)];
}
