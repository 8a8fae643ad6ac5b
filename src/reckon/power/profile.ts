import { exactly, figureOf, product, sumOf, timesNumber, type Uncertain } from '../uncertain.js';
import type { Values } from '../values.js';
import { lengthOf, lies, type Span } from './day.js';
import type { DayProfile } from './model.js';
import type { PlanLoad, Use } from './plan.js';

/** A load at work in one case. `active` and `apparent` are what it asks of whatever is looked at. */
export interface Working {
  readonly load: PlanLoad;
  readonly use: Use;
  readonly active: Uncertain<'power'>;
  readonly apparent: Uncertain<'apparent-power'>;
}

/** A load of one case of which something is not known, and sentences on what. */
export interface Unknown {
  readonly load: PlanLoad;
  readonly use: Use;
  readonly gaps: readonly string[];
}

/** Share of its windows in which a load runs, as a number: 1 where it runs all through them. */
export function share({ hours, spans }: Use): number {
  return Math.min(1, hours.si / lengthOf(spans));
}

/** What a load takes in a day: its power for its hours, wherever in the day they lie. */
export function energyOf({ active, use }: Pick<Working, 'active' | 'use'>): Uncertain<'energy'> {
  return product('energy', active, use.hours);
}

/** The sum of what several loads take in a day. */
export function energyOfAll(working: readonly Working[]): Uncertain<'energy'> {
  return sumOf('energy', working.map(energyOf));
}

/** Mean active power over the windows of a load. */
function meanActive({ active, use }: Working): Uncertain<'power'> {
  return timesNumber(product('power', active, use.hours), 1 / lengthOf(use.spans));
}

function meanApparent({ apparent, use }: Working): Uncertain<'apparent-power'> {
  return timesNumber(product('apparent-power', apparent, use.hours), 1 / lengthOf(use.spans));
}

/** The mean active power of several loads in one piece of the day. */
export function meanIn(piece: Span, working: readonly Working[]): Uncertain<'power'> {
  return sumOf('power', working.filter(({ use }) => lies(piece, use.spans)).map(meanActive));
}

/**
 * The profile of several loads over the day.
 *
 * @param spans pieces of the day in which nothing changes.
 * @param alternating whether volt-amperes mean anything there.
 */
export function profileOf(
  working: readonly Working[],
  spans: readonly Span[],
  alternating: boolean,
  values: Values,
): DayProfile {
  const bands = working.map((one) => {
    const [watts, voltAmperes] = [meanActive(one).si, meanApparent(one).si];
    const here = (amount: number) => spans.map((piece) => (lies(piece, one.use.spans) ? amount : 0));
    return {
      load: one.load.id,
      title: one.load.title,
      watts: here(watts),
      voltAmperes: alternating ? here(voltAmperes) : [],
    };
  });
  const apparentIn = (piece: Span) =>
    sumOf('apparent-power', working.filter(({ use }) => lies(piece, use.spans)).map(meanApparent));
  return {
    spans,
    bands,
    active: spans.map((piece) => figureOf(meanIn(piece, working), 'W', values)),
    apparent: alternating ? spans.map((piece) => figureOf(apparentIn(piece), 'VA', values)) : [],
  };
}

/** Nothing, as a power. */
export const NO_POWER = exactly('power', 0);
