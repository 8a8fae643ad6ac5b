import type { CheckedBook, Entry, System } from '../check/model.js';
import type { SpecState } from './model.js';

/**
 * The graph of *rests on*: what falls if a spec falls. Nodes are `sort name`; an edge leads from what is
 * rested on to what rests on it.
 */

/** Sorts of things that can rest on a spec. */
export type DependentSort = 'derived' | 'decision' | 'part' | 'item' | 'case' | 'weights';

/** Something that rests on a spec, directly or through others. */
export interface Dependent {
  readonly sort: DependentSort;
  /** A full ref for a derived value; the id for the others. */
  readonly id: string;
  /** The way from the spec to it, both ends included, by the shortest path. */
  readonly through: readonly string[];
}

/** Things that rest on something, by the name of what they rest on. */
export type RelianceGraph = ReadonlyMap<string, readonly string[]>;

/** `part house-bank`. */
export function node(sort: DependentSort | 'value', id: string): string {
  return `${sort} ${id}`;
}

/** An edge: the second rests on the first. */
export type Edge = readonly [on: string, dependent: string];

/**
 * Makes the graph of a book.
 *
 * @param extra edges that only a plan knows: its cases and what they rest on.
 */
export function relianceGraph(
  book: CheckedBook,
  readPoints: ReadonlySet<string>,
  extra: readonly Edge[],
): RelianceGraph {
  const graph = new Map<string, string[]>();
  const add = ([on, dependent]: Edge) => {
    const list = graph.get(on);
    if (list === undefined) graph.set(on, [dependent]);
    else if (!list.includes(dependent)) list.push(dependent);
  };
  for (const edge of systemEdges(book, readPoints)) add(edge);
  for (const entry of book.entries) for (const edge of entryEdges(entry)) add(edge);
  for (const edge of extra) add(edge);
  return graph;
}

/**
 * The graph as it was at the end of any day of a book: an edge is there from the day of its entry, and that from a spec
 * to its point until the point is read.
 *
 * @param firstRead day on which each point was read first.
 */
export function relianceOver(
  book: Pick<CheckedBook, 'systems' | 'entries'>,
  firstRead: ReadonlyMap<string, string>,
  extra: readonly Edge[],
): (day: string) => Pick<RelianceGraph, 'get'> {
  const graph = new Map<string, { readonly to: string; readonly from: string; readonly until: string }[]>();
  const add = ([on, to]: Edge, from: string, until = '9999') =>
    graph.get(on)?.push({ to, from, until }) ?? graph.set(on, [{ to, from, until }]);
  for (const edge of extra) add(edge, '');
  for (const system of book.systems.values()) {
    for (const edge of derivedEdges(system)) add(edge, '');
    for (const spec of system.specs.values())
      if (spec.point !== null)
        add(claimEdge(spec.ref, spec.point), spec.since ?? '', firstRead.get(spec.point));
  }
  for (const entry of book.entries) for (const edge of entryEdges(entry)) add(edge, entry.date);
  return (day) => ({
    get: (name) =>
      graph.get(name)?.flatMap(({ to, from, until }) => (from <= day && day < until ? [to] : [])),
  });
}

function* systemEdges(book: CheckedBook, readPoints: ReadonlySet<string>): Generator<Edge> {
  for (const system of book.systems.values()) {
    yield* derivedEdges(system);
    // A point that nobody has read yet is known only by what is claimed of it.
    for (const spec of system.specs.values())
      if (spec.point !== null && !readPoints.has(spec.point)) yield claimEdge(spec.ref, spec.point);
  }
}

function* derivedEdges({ derived }: System): Generator<Edge> {
  for (const value of derived.values())
    for (const used of value.uses) yield [node('value', used), node('value', value.ref)];
}

function claimEdge(spec: string, point: string): Edge {
  return [node('value', spec), node('value', point)];
}

function* entryEdges(entry: Entry): Generator<Edge> {
  for (const part of entry.parts)
    for (const ref of part.restsOn) yield [node('value', ref), node('part', part.part)];
  for (const decision of entry.decisions) {
    for (const ref of [...decision.restsOn, ...(decision.holdsFormula?.names ?? [])])
      yield [node('value', ref), node('decision', decision.id)];
  }
  for (const open of entry.opens) {
    for (const ref of open.restsOn) yield [node('value', ref), node('item', open.id)];
    for (const wait of open.waitsOn)
      if (wait.kind !== 'item') yield [node(wait.kind, wait.id), node('item', open.id)];
  }
}

/**
 * Everything that rests on a value, nearest first: the transitive closure, each thing once, with the shortest
 * way to it. Breadth first, linear in the edges that are reached.
 */
export function dependentsOf(
  ref: string,
  graph: Pick<RelianceGraph, 'get'>,
  derived: ReadonlySet<string>,
): readonly Dependent[] {
  const start = node('value', ref);
  const way = new Map<string, readonly string[]>([[start, [ref]]]);
  const found: Dependent[] = [];
  const queue = [start];
  for (let at = 0; at < queue.length; at += 1) {
    const here = queue[at] as string;
    for (const next of graph.get(here) ?? []) {
      if (way.has(next)) continue;
      const [sort, id] = split(next);
      const through = [...(way.get(here) ?? []), id];
      way.set(next, through);
      queue.push(next);
      if (sort !== 'value') found.push({ sort, id, through });
      else if (derived.has(id)) found.push({ sort: 'derived', id, through });
    }
  }
  return found;
}

/** Everything that rests on any of several values, nearest first, each once. */
export function affectedBy(
  refs: readonly string[],
  graph: RelianceGraph,
  derived: ReadonlySet<string>,
): readonly Dependent[] {
  const seen = new Set<string>();
  return refs
    .flatMap((ref) => dependentsOf(ref, graph, derived))
    .filter(({ sort, id }) => {
      const name = node(sort, id);
      if (seen.has(name)) return false;
      seen.add(name);
      return true;
    });
}

function split(name: string): [DependentSort | 'value', string] {
  const blank = name.indexOf(' ');
  return [name.slice(0, blank) as DependentSort | 'value', name.slice(blank + 1)];
}

/** Refs of the specs among the states that are not verified. */
export function unsettled(specs: Iterable<SpecState>): readonly SpecState[] {
  return [...specs].filter((state) => state.standing !== 'verified');
}
