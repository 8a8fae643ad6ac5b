import type { Comparison, Formula, Node } from './formula.js';

/**
 * Puts other formulas, or other names, in the place of the names of a formula. What is put in keeps its
 * identity wherever it is put, so that a value that comes in by two ways is known to be the same one, and
 * uncertainty is carried on as it must be.
 *
 * @param of what stands for a name: a formula that gives a value, another name, or itself
 */
export function substitute(formula: Formula, of: (name: string) => Formula | string): Formula {
  const names = new Set<string>();
  const known = new Map<string, Node>();
  const put = (name: string): Node => {
    const found = known.get(name);
    if (found !== undefined) return found;
    const node = nodeFor(of(name), names);
    known.set(name, node);
    return node;
  };
  const { body } = formula;
  const changed =
    'all' in body
      ? { all: body.all.map((comparison) => throughComparison(comparison, put)) }
      : { value: through(body.value, put) };
  return Object.freeze({ ...formula, names: Object.freeze([...names]), body: changed });
}

function nodeFor(what: Formula | string, names: Set<string>): Node {
  if (typeof what === 'string') {
    names.add(what);
    return { op: 'name', name: what };
  }
  for (const name of what.names) names.add(name);
  if ('all' in what.body) throw new TypeError('a comparison has no value to put in the place of a name');
  return what.body.value;
}

function throughComparison({ relation, left, right }: Comparison, put: (name: string) => Node): Comparison {
  return Object.freeze({ relation, left: through(left, put), right: through(right, put) });
}

function through(node: Node, put: (name: string) => Node): Node {
  switch (node.op) {
    case 'literal':
      return node;
    case 'name':
      return put(node.name);
    case 'negate':
      return { ...node, of: through(node.of, put) };
    case 'power':
      return { ...node, base: through(node.base, put) };
    case 'call':
      return { ...node, args: node.args.map((arg) => through(arg, put)) };
    case '+':
    case '-':
    case '*':
    case '/':
      return { ...node, left: through(node.left, put), right: through(node.right, put) };
  }
}
