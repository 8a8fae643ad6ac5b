/**
 * Formulas over points and specs: plain arithmetic and comparisons, with units, read into a tree and checked
 * for kind. Nothing of a formula is ever run as code.
 *
 * Grammar, loosest first:
 *
 *     formula    = comparison { "and" comparison } | sum
 *     comparison = sum ( relation sum { relation sum } | "between" sum "and" sum )
 *     relation   = "<" | "<=" | ">" | ">=" | "="
 *     sum        = product { ( "+" | "-" ) product }
 *     product    = unary { ( "*" | "/" ) unary }
 *     unary      = "-" unary | power
 *     power      = primary [ "^" whole-number ]
 *     primary    = literal | name | function "(" sum { "," sum } ")" | "(" sum ")"
 *
 * The functions are those of `functions.ts`.
 *
 * Names have hyphens in them (`rest-voltage`, `house-dc.capacity`), so a minus after a name has a blank
 * before it.
 */
import { distance } from 'fastest-levenshtein';
import { aKind, type Kind } from '../kinds.js';
import { matchAt, skipBlanks } from '../number.js';
import { type Failure, fail, type QuantityProblemCode, quoted, type Span } from '../problem.js';
import {
  BARE_NUMBER,
  commonType,
  powerType,
  productType,
  rootType,
  scalable,
  settle,
  sumType,
  type Type,
  type Typed,
  typeInWords,
  typeOf,
} from './algebra.js';
import type { TradeFunction } from './function-model.js';
import { FUNCTION_NAMES, isBasicFunction, nearestFunctions, tradeFunction } from './functions.js';
import { readLiteral } from './literal.js';

/** How two values are held against each other. */
export type Relation = '<' | '<=' | '>' | '>=' | '=';

/** A part of a formula that has a value. */
export type Node =
  | { readonly op: 'literal'; readonly value: number; readonly uncertainty: number }
  | { readonly op: 'name'; readonly name: string }
  | { readonly op: '-' | '+' | '*' | '/'; readonly left: Node; readonly right: Node }
  | { readonly op: 'negate'; readonly of: Node }
  | { readonly op: 'power'; readonly base: Node; readonly exponent: number }
  | { readonly op: 'call'; readonly name: string; readonly args: readonly Node[] };

/** One comparison; a formula that is true or false is all of its comparisons together. */
export interface Comparison {
  readonly relation: Relation;
  readonly left: Node;
  readonly right: Node;
}

/** What a formula gives: a quantity of a kind, or true or false. */
export type FormulaKind = Kind | 'truth';

/** A formula that was read and checked. Immutable. */
export interface Formula {
  readonly written: string;
  readonly kind: FormulaKind;
  /** The names it uses, each once, in the order of their first use. */
  readonly names: readonly string[];
  readonly body: { readonly value: Node } | { readonly all: readonly Comparison[] };
}

/** What became of a text. */
export type FormulaResult = { readonly ok: true; readonly formula: Formula } | Failure;

/** Longest formula, in UTF-16 units. */
export const MAX_LENGTH = 500;
const MAX_DEPTH = 32;
const SPLIT = 'Give a part of it a name of its own under `derived`, and use that name.';

/** A part with its type, while reading. */
interface Part {
  readonly node: Node;
  readonly type: Type;
  readonly span: Span;
}

/** How far a formula is read. */
interface Reader {
  readonly text: string;
  readonly kindOf: (name: string) => Kind | undefined;
  readonly known: readonly string[];
  readonly names: Set<string>;
  at: number;
  depth: number;
}

/** Carries a problem out of the recursion; caught in `parseFormula` and never seen outside. */
class Stopped extends Error {
  readonly failure: Failure;
  constructor(failure: Failure) {
    super(failure.problem.message);
    this.failure = failure;
  }
}

/**
 * Reads a formula and checks it for kind.
 *
 * @param text    the formula
 * @param kindOf  the kind of a point, spec or reading by its name; `undefined` for an unknown name
 * @param due     what it must give, if that is fixed; it also settles products that have several names
 * @param known   names to suggest for an unknown one
 */
export function parseFormula(
  text: string,
  kindOf: (name: string) => Kind | undefined,
  due?: FormulaKind,
  known: readonly string[] = [],
): FormulaResult {
  const whole = { offset: 0, length: text.length };
  if (text.length > MAX_LENGTH)
    return fail('too-long', whole, `A formula has at most ${MAX_LENGTH} characters.`, { hint: SPLIT });
  if (text.trim() === '') return fail('empty', whole, 'A formula is missing.');
  const reader: Reader = { text, kindOf, known, names: new Set(), at: 0, depth: 0 };
  try {
    return Object.freeze({ ok: true, formula: readWhole(reader, due) });
  } catch (problem) {
    if (problem instanceof Stopped) return problem.failure;
    throw problem;
  }
}

function stop(
  code: QuantityProblemCode,
  span: Span,
  message: string,
  hint?: string,
  choices?: string[],
): never {
  throw new Stopped(
    fail(code, span, message, {
      ...(hint === undefined ? {} : { hint }),
      ...(choices === undefined ? {} : { choices }),
    }),
  );
}

function readWhole(reader: Reader, due: FormulaKind | undefined): Formula {
  const { text } = reader;
  const first = readSum(reader);
  const comparisons = readComparisons(reader, first);
  expectEnd(reader);
  const names = Object.freeze([...reader.names]);
  if (comparisons.length > 0) {
    if (due !== undefined && due !== 'truth') {
      stop('wrong-kind', first.span, 'This is a comparison, and a formula that gives a value is due.');
    }
    return Object.freeze({ written: text, kind: 'truth', names, body: { all: Object.freeze(comparisons) } });
  }
  if (due === 'truth') {
    const hint = 'Compare it with a limit, such as `capacity >= 320 Ah`.';
    stop('wrong-kind', first.span, 'This gives a value, and a comparison is due.', hint);
  }
  const settled = settle(first.type, due);
  if (!settled.ok) return stop('wrong-kind', first.span, settled.why, undefined, [...first.type.kinds]);
  return Object.freeze({ written: text, kind: settled.kind, names, body: { value: first.node } });
}

function expectEnd(reader: Reader): void {
  const at = skipBlanks(reader.text, reader.at);
  if (at >= reader.text.length) return;
  const word = /^(?:[\p{L}\d.-]+|\S)/u.exec(reader.text.slice(at))?.[0] ?? '';
  const hint = HINTS.get(word) ?? 'Between two values stands a sign, such as `*` or `>=`.';
  stop('bad-formula', { offset: at, length: word.length }, `${quoted(word)} is not expected here.`, hint);
}

const HINTS: ReadonlyMap<string, string> = new Map([
  ['==', 'Write one `=`.'],
  ['!', 'There is no “not”; turn the comparison round.'],
  ['or', 'There is no “or”; write two formulas.'],
  ['(', 'To multiply write `*`.'],
  ['x', 'To multiply write `*`.'],
  ['X', 'To multiply write `*`.'],
  [',', 'Write a decimal point, not a comma.'],
  ['%', 'Per cent goes right after a number.'],
]);

const RELATION = /\s*(<=|>=|=(?!=)|<|>|≤|≥)\s*/y;
const BETWEEN = /\s*between(?![\p{L}\d.-])\s*/uy;
const AND = /\s*and(?![\p{L}\d.-])\s*/uy;

/** Reads what follows the first value, if it is a comparison. */
function readComparisons(reader: Reader, first: Part): Comparison[] {
  const all: Comparison[] = [];
  let left = first;
  for (;;) {
    const before = all.length;
    if (take(reader, BETWEEN)) readBetween(reader, left, all);
    else readChain(reader, left, all);
    if (all.length === before) {
      if (before > 0) stop('bad-formula', left.span, 'After “and” a comparison is due.');
      return all;
    }
    if (!take(reader, AND)) return all;
    left = readSum(reader);
  }
}

function readBetween(reader: Reader, left: Part, all: Comparison[]): void {
  const low = readSum(reader);
  if (!take(reader, AND)) {
    stop(
      'bad-formula',
      { offset: reader.at, length: 1 },
      '“between” needs two limits with “and” between them.',
    );
  }
  const high = readSum(reader);
  all.push(compare('>=', left, low), compare('<=', left, high));
}

function readChain(reader: Reader, first: Part, all: Comparison[]): void {
  let left = first;
  for (let sign = take(reader, RELATION); sign; sign = take(reader, RELATION)) {
    const relation = sign.replace('≤', '<=').replace('≥', '>=') as Relation;
    const right = readSum(reader);
    all.push(compare(relation, left, right));
    left = right;
  }
}

function compare(relation: Relation, left: Part, right: Part): Comparison {
  need(commonType(left.type, right.type), spanOf(left, right));
  return Object.freeze({ relation, left: left.node, right: right.node });
}

/** Takes a token if it is next; gives its text without blanks. */
function take(reader: Reader, pattern: RegExp): string | undefined {
  const match = matchAt(pattern, reader.text, reader.at);
  if (!match) return undefined;
  reader.at += match[0].length;
  return match[0].trim();
}

function need(typed: Typed, span: Span): Type {
  return typed.ok ? typed.type : stop('wrong-kind', span, typed.why);
}

function spanOf(left: Part, right: Part): Span {
  return { offset: left.span.offset, length: right.span.offset + right.span.length - left.span.offset };
}

const PLUS_OR_MINUS = /\s*(?:[-−+](?!\/-))\s*/y;
const TIMES_OR_OVER = /\s*(?:\*(?!\*)|·|×|÷|\/)\s*/y;

function readSum(reader: Reader): Part {
  let left = readProduct(reader);
  for (let sign = take(reader, PLUS_OR_MINUS); sign; sign = take(reader, PLUS_OR_MINUS)) {
    const right = readProduct(reader);
    const span = spanOf(left, right);
    const type = need(sumType(left.type, right.type, sign !== '+'), span);
    left = { node: { op: sign === '+' ? '+' : '-', left: left.node, right: right.node }, type, span };
  }
  return left;
}

function readProduct(reader: Reader): Part {
  let left = readUnary(reader);
  for (let sign = take(reader, TIMES_OR_OVER); sign; sign = take(reader, TIMES_OR_OVER)) {
    const right = readUnary(reader);
    const divide = sign === '/' || sign === '÷';
    const span = spanOf(left, right);
    const type = need(productType(left.type, right.type, divide), span);
    left = { node: { op: divide ? '/' : '*', left: left.node, right: right.node }, type, span };
  }
  return left;
}

function deeper<T>(reader: Reader, read: () => T): T {
  if (++reader.depth > MAX_DEPTH) {
    stop(
      'bad-formula',
      { offset: reader.at, length: 1 },
      `A formula is at most ${MAX_DEPTH} brackets and signs deep.`,
      SPLIT,
    );
  }
  const result = read();
  reader.depth--;
  return result;
}

const MINUS = /\s*[-−]\s*/y;

function readUnary(reader: Reader): Part {
  const start = skipBlanks(reader.text, reader.at);
  if (take(reader, MINUS) === undefined) return readPower(reader);
  const negative = readLiteralPart(reader, start, true);
  // -5 °C is a place on the scale, not the negative of 5 °C: the sign belongs to the literal.
  if (negative?.type.kinds.includes('temperature') && negative.type.kinds.length === 1) return negative;
  const of = deeper(reader, () => readUnary(reader));
  const span = { offset: start, length: of.span.offset + of.span.length - start };
  return { node: { op: 'negate', of: of.node }, type: need(scalable(of.type), span), span };
}

/** Reads a literal here, if one begins here; with `tentative` only a temperature is taken. */
function readLiteralPart(reader: Reader, start: number, tentative: boolean): Part | undefined {
  const { text } = reader;
  const at = skipBlanks(text, reader.at);
  if (!/[\d.¼-¾⅐-⅞]/.test(text[at] ?? '')) return undefined;
  const literal = readLiteral(text, at, tentative, (name) => reader.kindOf(name) !== undefined);
  if (!literal.ok) throw new Stopped(literal);
  const [kind, ...others] = literal.kinds ?? [];
  if (tentative && (kind !== 'temperature' || others.length > 0)) return undefined;
  reader.at = literal.end;
  const type = kind === undefined ? BARE_NUMBER : typeOf(kind, ...others);
  const node: Node = { op: 'literal', value: literal.value, uncertainty: literal.uncertainty };
  return { node, type, span: { offset: start, length: literal.end - start } };
}

const POWER = /\s*(?:\^|\*\*)\s*/y;
const EXPONENT = /[-−]?\d(?![\d.])/y;

function readPower(reader: Reader): Part {
  const base = readPrimary(reader);
  if (take(reader, POWER) === undefined) return base;
  const text = take(reader, EXPONENT);
  if (text === undefined) {
    const span = { offset: reader.at, length: 1 };
    return stop('bad-formula', span, 'A power is a whole number of one digit; for a root write sqrt(…).');
  }
  const exponent = Number(text.replace('−', '-'));
  const span = { offset: base.span.offset, length: reader.at - base.span.offset };
  const type = need(powerType(base.type, exponent), span);
  return { node: { op: 'power', base: base.node, exponent }, type, span };
}

/** What a value looks like. */
const VALUE =
  'A value is a name such as `rest-voltage`, a number with its unit such as `320 Ah`, or a sum in brackets.';

const OPEN = /\s*\(\s*/y;
const CLOSE = /\s*\)/y;
const COMMA = /\s*,\s*/y;
const NAME = /[\p{L}\d]+(?:-[\p{L}\d]+)*(?:\.[\p{L}\d]+(?:-[\p{L}\d]+)*)*/uy;

function readPrimary(reader: Reader): Part {
  const start = skipBlanks(reader.text, reader.at);
  reader.at = start;
  if (take(reader, OPEN) !== undefined) return readBracket(reader, start);
  const name = matchAt(NAME, reader.text, start)?.[0];
  // A name may begin with a digit; a literal is what is not a name of the book.
  if (name !== undefined && (/^\p{L}/u.test(name) || reader.kindOf(name) !== undefined)) {
    return readNamed(reader, name, start);
  }
  const literal = readLiteralPart(reader, start, false);
  if (literal) return literal;
  // A whole letter, also where it is two units long.
  const found = /^./su.exec(reader.text.slice(start, start + 2))?.[0] ?? '';
  const message = found === '' ? 'The formula ends too early.' : `A value is due here, not ${quoted(found)}.`;
  return stop('bad-formula', { offset: start, length: found.length }, message, VALUE);
}

function readBracket(reader: Reader, start: number): Part {
  const inner = deeper(reader, () => readSum(reader));
  close(reader, start);
  return { ...inner, span: { offset: start, length: reader.at - start } };
}

function close(reader: Reader, start: number): void {
  if (take(reader, CLOSE) !== undefined) return;
  stop(
    'bad-formula',
    { offset: start, length: 1 },
    'This bracket is not closed, or holds more than one value.',
    'Write `)` where it ends.',
  );
}

function readNamed(reader: Reader, name: string, start: number): Part {
  const span = { offset: start, length: name.length };
  reader.at = start + name.length;
  if (take(reader, OPEN) !== undefined) return readCall(reader, name, span);
  const kind = reader.kindOf(name);
  if (kind === undefined) return unknownName(reader, name, span);
  reader.names.add(name);
  return { node: { op: 'name', name }, type: typeOf(kind), span };
}

function unknownName(reader: Reader, name: string, span: Span): never {
  const pieces = name.split('-');
  const minus = pieces.some((_, i) => reader.kindOf(pieces.slice(0, i).join('-')) !== undefined);
  const choices = reader.known
    .map((known) => ({ known, off: distance(known, name) }))
    .filter(({ known, off }) => off <= Math.max(1, Math.min(3, known.length / 3)))
    .sort((a, b) => a.off - b.off)
    .slice(0, 3)
    .map(({ known }) => known);
  const meant =
    choices.length > 0
      ? `Did you mean ${choices[0]}?`
      : 'Names are those of points, specs and derived values, such as `rest-voltage` or `house-dc.capacity`.';
  const hint = minus ? 'For a minus put blanks around it.' : meant;
  return stop('unknown-name', span, `${quoted(name)} is not a value of this book.`, hint, choices);
}

function readCall(reader: Reader, name: string, span: Span): Part {
  const trade = tradeFunction(name);
  if (trade === undefined && !isBasicFunction(name)) unknownFunction(name, span);
  const args = deeper(reader, () => readArguments(reader));
  close(reader, span.offset + span.length);
  const whole = { offset: span.offset, length: reader.at - span.offset };
  const type = trade === undefined ? basicType(name, args, whole) : tradeType(trade, args, whole);
  return { node: { op: 'call', name, args: args.map((part) => part.node) }, type, span: whole };
}

function unknownFunction(name: string, span: Span): never {
  const near = nearestFunctions(name);
  const meant = near[0] === undefined ? `There are ${FUNCTION_NAMES.join(', ')}` : `Did you mean ${near[0]}`;
  const hint = near[0] === undefined ? `${meant}; to multiply write \`*\`.` : `${meant}?`;
  return stop('bad-formula', span, `There is no function ${quoted(name)}.`, hint, [
    ...(near.length > 0 ? near : FUNCTION_NAMES),
  ]);
}

/** What min, max, mean, abs or sqrt of some values is. */
function basicType(name: string, args: readonly Part[], whole: Span): Type {
  const single = name === 'abs' || name === 'sqrt';
  if (single && args.length > 1) stop('bad-formula', whole, `${name} takes one value.`);
  const type = args.map((part) => part.type).reduce((a, b) => need(commonType(a, b), whole));
  if (!single) return type;
  return need(name === 'sqrt' ? rootType(type) : scalable(type), whole);
}

/** What a trade function gives, once its arguments are those that it takes. */
function tradeType(trade: TradeFunction, args: readonly Part[], whole: Span): Type {
  const { name, arguments: due, gives } = trade;
  if (args.length !== due.length) {
    const call = `${name}(${due.map((one) => one.name).join(', ')})`;
    const message = `${name} takes ${due.length === 1 ? 'one value' : `${due.length} values`}, not ${args.length}.`;
    stop('bad-formula', whole, message, `Write \`${call}\`, such as \`${trade.example}\`.`);
  }
  for (const [index, argument] of due.entries()) {
    const { type, node, span } = args[index] as Part;
    need(asArgument(type, argument.kind, `the ${argument.name} of ${name}`), span);
    if (node.op !== 'literal' || argument.domain.holds(node.value)) continue;
    stop('bad-formula', span, outsideDomain(name, argument.name, argument.domain.words));
  }
  return typeOf(gives);
}

/** Why a function has no value for an argument. */
export function outsideDomain(name: string, argument: string, words: string): string {
  return `For ${name} the ${argument} has to be ${words}.`;
}

function asArgument(type: Type, kind: Kind, called: string): Typed {
  const common = commonType(type, typeOf(kind));
  if (common.ok) return common;
  return { ok: false, why: `As ${called} ${aKind(kind)} is due, and this is ${typeInWords(type)}.` };
}

function readArguments(reader: Reader): Part[] {
  const args = [readSum(reader)];
  while (take(reader, COMMA) !== undefined) args.push(readSum(reader));
  return args;
}
