/**
 * Circles in a graph of names.
 *
 * @param next the names that a name leads to.
 * @returns each circle once, as its names with the first one repeated at the end; empty if there is none.
 *   Every knot of names that lead to each other gives at least one circle. No recursion, so that a chain of
 *   ten thousand names is no trouble.
 */
export function findLoop(
  names: readonly string[],
  next: (name: string) => readonly string[],
): readonly (readonly string[])[] {
  const state = new Map<string, 'open' | 'done'>();
  const loops: string[][] = [];
  for (const start of names) {
    if (state.has(start)) continue;
    const trail: { readonly name: string; readonly rest: string[] }[] = [];
    const enter = (name: string) => {
      state.set(name, 'open');
      trail.push({ name, rest: [...next(name)].reverse() });
    };
    enter(start);
    while (trail.length > 0) {
      const top = trail[trail.length - 1] as (typeof trail)[number];
      const to = top.rest.pop();
      if (to === undefined) {
        state.set(top.name, 'done');
        trail.pop();
      } else if (state.get(to) === 'open') {
        const from = trail.findIndex((step) => step.name === to);
        loops.push([...trail.slice(from).map((step) => step.name), to]);
      } else if (!state.has(to)) {
        enter(to);
      }
    }
  }
  return loops;
}
