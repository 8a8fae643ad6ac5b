import { ORDERS, type Order, type Sorting } from './order.js';
import { LONGEST, NO_QUERY, type Query, type QueryField } from './query.js';

/** Whose units are shown: as they were written, or all in metric or US units. Null is as the book has it. */
export type Units = 'as-written' | 'metric' | 'us' | null;

/** What is drawn: one point over time, or a second one against it; refs. */
export interface Plot {
  readonly point: string;
  readonly against: string | null;
}

/** All that a page of results shows, as its address says it. */
export interface FindState {
  readonly query: Query;
  readonly sorting: Sorting;
  /** From 1. */
  readonly page: number;
  readonly units: Units;
  readonly plot: Plot | null;
}

/** What there is before anybody has asked for anything. */
export const START: FindState = {
  query: NO_QUERY,
  sorting: { by: 'best', descending: false },
  page: 1,
  units: null,
  plot: null,
};

const FIELDS = Object.keys(NO_QUERY) as QueryField[];

/**
 * A state as the part of an address behind `#`: `#?words=seacock&since=2025`. It begins with a question mark,
 * so that it cannot be taken for a place in the page. Empty for the start.
 */
export function addressOf({ query, sorting, page, units, plot }: FindState): string {
  const parameters = new URLSearchParams();
  for (const field of FIELDS) if (query[field].trim() !== '') parameters.set(field, query[field]);
  if (sorting.by !== 'best') parameters.set('by', (sorting.descending ? '-' : '') + sorting.by);
  if (page > 1) parameters.set('page', String(page));
  if (units !== null) parameters.set('units', units);
  if (plot !== null) parameters.set('plot', plot.point);
  if (plot?.against != null) parameters.set('plot-against', plot.against);
  const text = parameters.toString();
  return text === '' ? '' : `#?${text}`;
}

/** The state that an address names; null where what is behind `#` is a place in the page. What makes no sense is left out. */
export function stateFrom(hash: string): FindState | null {
  if (hash === '' || hash === '#') return START;
  if (!hash.startsWith('#?')) return null;
  const parameters = new URLSearchParams(hash.slice(2));
  const text = (name: string) => (parameters.get(name) ?? '').slice(0, LONGEST);
  const query = Object.fromEntries(FIELDS.map((field) => [field, text(field)])) as Record<QueryField, string>;
  const by = text('by').replace(/^-/, '');
  const isOrder = (name: string): name is Order => (ORDERS as readonly string[]).includes(name);
  const units = text('units');
  const page = Number(text('page'));
  return {
    query,
    sorting: isOrder(by) ? { by, descending: text('by').startsWith('-') } : START.sorting,
    page: Number.isInteger(page) && page > 0 && page < 1e6 ? page : 1,
    units: units === 'as-written' || units === 'metric' || units === 'us' ? units : null,
    plot: text('plot') === '' ? null : { point: text('plot'), against: text('plot-against') || null },
  };
}
