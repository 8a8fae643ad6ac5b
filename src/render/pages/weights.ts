import { Weights } from '../../../site/templates/weights.js';
import { type Kind, printQuantity, type Quantity } from '../../quantity/index.js';
import type { Figure } from '../../reckon/uncertain.js';
import type { LedgerLine, LineSort, WeightsReckoning } from '../../reckon/weights/model.js';
import { type HullChart, hullChart, marksOf } from '../charts/hull.js';
import { type Link, paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import type { Site } from '../site-context.js';
import { count, dayWords, MOVE_WORD } from '../words.js';
import type { RestView } from './power.js';

/** One line of the ledger. */
export interface LedgerRow {
  /** Number of its mark in the drawing; null where it has none. */
  readonly mark: number | null;
  readonly what: Link;
  readonly system: Link | null;
  readonly sort: string;
  readonly date: string | null;
  readonly entry: Link | null;
  readonly mass: string;
  readonly forward: string;
  readonly side: string;
  readonly up: string;
  readonly note: string | null;
}

/** The weights: what changed, what that does, and every line of the ledger. */
export interface WeightsView {
  readonly title: string;
  readonly origin: string;
  readonly caution: { readonly text: string; readonly source: string };
  /** `199 kg heavier than on 1 Jun 2024`. */
  readonly change: string;
  readonly floated: { readonly on: string; readonly source: string | null } | null;
  readonly facts: readonly (readonly [string, string])[];
  /** Why no draught, trim or heel is given. */
  readonly reasons: readonly string[];
  readonly outside: boolean;
  readonly restsOn: readonly RestView[];
  readonly chart: HullChart | null;
  readonly counted: readonly LedgerRow[];
  readonly before: readonly LedgerRow[];
  readonly notWeighed: readonly {
    readonly part: Link;
    readonly move: string;
    readonly date: string;
    readonly entry: Link;
    readonly missing: string;
  }[];
  readonly remarks: readonly string[];
}

/** Makes the page of weights, where the book has a plan of them. */
export function weightsPages(site: Site): Page[] {
  const { weights } = site.reckoning;
  if (weights === null) return [];
  const view = () => weightsView(site, weights);
  const parts = {
    path: paths.weights,
    title: weights.title,
    section: 'weights',
    template: Weights,
    view,
  } as const;
  return [makePage(site, parts)];
}

/** What the page, and the pack, say of the weights. */
export function weightsView(site: Site, weights: WeightsReckoning): WeightsView {
  const links = site.top;
  const { floated, effect } = weights;
  const { marks, numberOf } = marksOf(weights);
  const row = (line: LedgerLine) => ledgerRow(site, line, numberOf.get(line) ?? null);
  return {
    title: weights.title,
    origin: weights.origin,
    caution: weights.caution,
    change: changeWords(site, weights),
    floated: floated === null ? null : { on: floated.on, source: floated.source },
    facts: factsOf(site, weights),
    reasons: effect.status === 'given' ? [] : effect.reasons,
    outside: effect.status === 'outside-limits',
    restsOn: weights.restsOn.map(({ ref, standing }) => ({ what: links.anything(ref), standing })),
    chart: hullChart(weights, marks),
    counted: weights.lines.filter(({ counts }) => counts).map(row),
    before: weights.lines.filter(({ counts }) => !counts).map(row),
    notWeighed: weights.notWeighed.map(({ part, move, date, entry, missing }) => ({
      part: links.part(part),
      move,
      date,
      entry: links.entry(entry),
      missing: missing.join(' and '),
    })),
    remarks: weights.remarks,
  };
}

function changeWords({ display }: Site, { massChange, floated, notWeighed }: WeightsReckoning): string {
  const { si } = massChange.quantity;
  const since = floated === null ? '' : ` than on ${dayWords(floated.on)}`;
  const left = notWeighed.length === 0 ? [] : [`${count(notWeighed.length, 'move')} of parts left out`];
  const caveats = [...left, ...(massChange.quantity.uncertainty === null ? ['± not known'] : [])];
  const behind = caveats.length === 0 ? '' : ` (${caveats.join('; ')})`;
  if (si === 0) return `As heavy as${since.replace(' than', '')}${behind}.`;
  return `${printQuantity(unsigned(massChange.quantity), display)} ${si > 0 ? 'heavier' : 'lighter'}${since}${behind}.`;
}

function factsOf(site: Site, weights: WeightsReckoning): [string, string][] {
  const { displacement, centre, effect } = weights;
  const show = (figure: Figure<Kind>) => printQuantity(figure.quantity, site.display);
  const facts: [string, string | null][] = [
    ['Displacement', displacement && show(displacement)],
    ['Centre of gravity, forward', centre.forward && show(centre.forward)],
    ['To the side', centre.starboard && sided(site, centre.starboard)],
    ['Up', centre.up && show(centre.up)],
  ];
  if (effect.status === 'given') {
    const change = (figure: Figure<'length'>) =>
      `${printQuantity(unsigned(figure.quantity), site.display)} ${figure.quantity.si < 0 ? 'shallower' : 'deeper'}`;
    facts.unshift(
      ['Draught aft', `${show(effect.draughtAft)}, ${change(effect.draughtAftChange)}`],
      ['Draught forward', `${show(effect.draughtFwd)}, ${change(effect.draughtFwdChange)}`],
      ['Trim', trimWords(site, effect.trim)],
      ['Change of trim', trimWords(site, effect.trimChange)],
      [
        'Heel',
        effect.heel === null ? 'cannot say: no metacentric height on record' : sided(site, effect.heel),
      ],
      ['Metacentric height', effect.gm === null ? null : show(effect.gm)],
    );
  }
  return facts.filter((fact): fact is [string, string] => fact[1] !== null);
}

function trimWords({ display }: Site, { quantity }: Figure<'length'>): string {
  return `${printQuantity(unsigned(quantity), display)} by the ${quantity.si < 0 ? 'bow' : 'stern'}`;
}

/** What is positive to starboard, in words. */
function sided({ display }: Site, { quantity }: Figure<Kind>): string {
  if (quantity.si === 0) return 'on the centreline';
  return `${printQuantity(unsigned(quantity), display)} to ${quantity.si < 0 ? 'port' : 'starboard'}`;
}

function unsigned(quantity: Quantity): Quantity {
  return { ...quantity, value: Math.abs(quantity.value), si: Math.abs(quantity.si) };
}

const SORT_WORD: Readonly<Record<LineSort, string>> = {
  plan: 'in the plan',
  fitted: MOVE_WORD.fitted,
  removed: MOVE_WORD.removed,
  'moved-from': 'moved from here',
  'moved-to': 'moved to here',
};

function ledgerRow(site: Site, line: LedgerLine, mark: number | null): LedgerRow {
  const links = site.top;
  const [forward, starboard, up] = line.at;
  const show = (figure: Figure<Kind>) => printQuantity(figure.quantity, site.display);
  return {
    mark,
    what: line.sort === 'plan' ? { text: line.title, href: null } : links.part(line.id),
    system: line.system === null ? null : links.system(line.system),
    sort: SORT_WORD[line.sort],
    date: line.date,
    entry: line.entry === null ? null : links.entry(line.entry),
    mass: show(line.mass),
    forward: show(forward),
    side: sided(site, starboard),
    up: show(up),
    note: line.note,
  };
}
