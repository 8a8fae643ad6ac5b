import { printQuantity, type Quantity, type Verdict } from '../../quantity/index.js';
import type { LimitState, Reckoning, Standing } from '../../reckon/model.js';
import type { PowerVerdict } from '../../reckon/power/model.js';
import { changesNothing, type Supposition } from '../../reckon/suppose.js';

/** One thing before and after. */
export interface Turned<T> {
  readonly what: string;
  /** Name in the files of the book. */
  readonly id: string;
  readonly from: T;
  readonly to: T;
}

/** What would change, and nothing else. */
export interface SupposeView {
  readonly nothing: boolean;
  readonly supposed: readonly Turned<string>[];
  readonly standings: readonly Turned<Standing>[];
  readonly values: readonly Turned<string>[];
  readonly decisions: readonly Turned<Verdict>[];
  readonly cases: readonly (Turned<PowerVerdict> & { readonly because: string })[];
  readonly limits: readonly Turned<LimitState>[];
  readonly items: readonly { readonly what: string; readonly id: string }[];
  readonly parts: readonly { readonly what: string; readonly id: string }[];
}

/** Gathers what the page of a supposition shows; `reckoning` is the book as it is. */
export function supposeView(reckoning: Reckoning, supposition: Supposition): SupposeView {
  const { book, specs, timelines, decisions, items, parts, power } = reckoning;
  const show = (value: Quantity | null) =>
    value === null ? 'cannot say' : printQuantity(value, book.display);
  const derived = new Map(
    [...book.systems.values()].flatMap((system) =>
      [...system.derived.values()].map(({ ref, title }) => [ref, title]),
    ),
  );
  const named = (ref: string) =>
    specs.get(ref)?.spec.title ?? timelines.get(ref)?.point.title ?? derived.get(ref) ?? ref;
  const cases = new Map(power?.cases.map(({ id, title }) => [id, title]));
  return {
    nothing: changesNothing(supposition),
    supposed: supposition.supposed.map(({ ref, from, to }) => ({
      what: named(ref),
      id: ref,
      from: show(from),
      to: show(to),
    })),
    standings: supposition.standings.map((turned) => ({ what: named(turned.id), ...turned })),
    values: supposition.values.map(({ id, from, to }) => ({
      what: named(id),
      id,
      from: show(from),
      to: show(to),
    })),
    decisions: supposition.decisions.map((turned) => ({
      what: decisions.get(turned.id)?.decision.question ?? turned.id,
      ...turned,
    })),
    cases: supposition.cases.map((turned) => ({ what: cases.get(turned.id) ?? turned.id, ...turned })),
    limits: supposition.limits.map((turned) => ({ what: named(turned.id), ...turned })),
    items: supposition.items.map((id) => ({ what: items.get(id)?.opened.what ?? id, id })),
    parts: supposition.parts.map((id) => ({ what: parts.get(id)?.what ?? id, id })),
  };
}
