import { nearest } from '../check/nearest.js';
import { parseQuantity, printQuantity, type Quantity } from '../quantity/index.js';
import { orList } from '../quantity/problem.js';
import type { Reckoning } from '../reckon/model.js';
import { changesNothing, type Supposition, suppose } from '../reckon/suppose.js';
import { findBook } from './book-root.js';
import { paintFor } from './colour.js';
import type { Given, Run } from './command.js';
import { reckonedBook } from './reckoned.js';
import { EXIT, Refusal } from './refusal.js';
import { writeLonePage } from './write-lone-page.js';

/** `ribband suppose`: what would change with other values. The book is not touched. */
export const supposeCommand: Run = async (given, effects) => {
  const pairs = given.operands.filter((operand) => operand.includes('='));
  const [folder, ...more] = given.operands.filter((operand) => !operand.includes('='));
  if (pairs.length === 0 || more.length > 0)
    throw new Refusal('Name what is supposed, such as `house-dc.bank-capacity="318 Ah"`.');
  const root = findBook(folder, effects);
  const reckoned = await reckonedBook(root, given, effects);
  if (reckoned === null) return EXIT.problems;
  const supposed = new Map(pairs.map((pair) => readPair(pair, reckoned)));
  const supposition = suppose(reckoned.book, reckoned.asOf, supposed, reckoned);
  const out = given.value('out');
  if (out !== null)
    await writeLonePage(
      out,
      root,
      async () => (await import('../render/suppose-site.js')).supposeFiles(reckoned, supposition),
      effects,
    );
  effects.out(
    given.value('as') === 'json'
      ? asJson(supposition, reckoned.asOf)
      : asText(supposition, reckoned, given, paintFor(effects.outIsTerminal, effects.env)),
  );
  return EXIT.clean;
};

/** `house-dc.bank-capacity=318 Ah`: a spec that states a number, or a point, and a value of its kind. */
function readPair(pair: string, { book, specs }: Reckoning): readonly [string, Quantity] {
  const at = pair.indexOf('=');
  const ref = pair.slice(0, at).trim();
  const written = pair.slice(at + 1).trim();
  const points = new Map(
    [...book.systems.values()].flatMap((system) =>
      [...system.points.values()].map((point) => [point.ref, point] as const),
    ),
  );
  const claim = specs.get(ref)?.spec.claim;
  if (claim?.type === 'text')
    throw new Refusal(`\`${ref}\` states a text, and only numbers can be supposed.`);
  const kind = claim?.quantity.kind ?? points.get(ref)?.kind;
  if (kind === undefined) {
    const known = [...specs.keys(), ...points.keys()];
    // The name alone, without its system, is most likely one of these.
    const named = known.filter((other) => other.endsWith(`.${ref}`));
    const near = named.length > 0 ? named : [nearest(ref, known)].filter((name) => name !== null);
    throw new Refusal(
      `There is no spec or point called \`${ref}\`.`,
      near.length === 0 ? null : `Did you mean ${orList(near.map((name) => `\`${name}\``))}?`,
    );
  }
  const result = parseQuantity(written, kind);
  if (result.ok) return [ref, result.quantity];
  throw new Refusal(`\`${ref}\`: ${result.problem.message}`, result.problem.hint ?? null);
}

function asJson(supposition: Supposition, asOf: string): string {
  return `${JSON.stringify({ version: 1, asOf, ...supposition }, null, 2)}\n`;
}

function asText(
  supposition: Supposition,
  { book, items, parts, decisions, specs }: Reckoning,
  _given: Given,
  paint: ReturnType<typeof paintFor>,
): string {
  const show = (value: Quantity | null) => (value === null ? 'unknown' : printQuantity(value, book.display));
  const group = (title: string, lines: readonly string[]) =>
    lines.length === 0 ? '' : `${paint('strong', title)}\n${lines.map((line) => `  ${line}\n`).join('')}\n`;
  const supposed = group(
    'Supposed',
    supposition.supposed.map(({ ref, from, to }) => `${ref}: ${show(to)} instead of ${show(from)}`),
  );
  if (changesNothing(supposition)) return `${supposed}Nothing else changes.\n`;
  return [
    supposed,
    group(
      'Standings',
      supposition.standings.map(
        ({ id, from, to }) => `${id}: ${from} → ${to}  ${specs.get(id)?.spec.title ?? ''}`,
      ),
    ),
    group(
      'Values',
      supposition.values.map(({ id, from, to }) => `${id}: ${show(from)} → ${show(to)}`),
    ),
    group(
      'Decisions',
      supposition.decisions.map(
        ({ id, from, to }) =>
          `${id}: ${VERDICTS[from]} → ${VERDICTS[to]}  ${decisions.get(id)?.decision.question ?? ''}`,
      ),
    ),
    group(
      'Power',
      supposition.cases.map(
        ({ id, from, to, because }) => `${id}: ${CASE_VERDICTS[from]} → ${CASE_VERDICTS[to]}  ${because}`,
      ),
    ),
    group(
      'Limits',
      supposition.limits.map(({ id, from, to }) => `${id}: ${from} → ${to}`),
    ),
    group(
      'Open work that rests on it',
      supposition.items.map((id) => `${id}: ${items.get(id)?.opened.what ?? ''}`),
    ),
    group(
      'Parts that rest on it',
      supposition.parts.map((id) => `${id}: ${parts.get(id)?.what ?? id}`),
    ),
  ].join('');
}

const CASE_VERDICTS = {
  works: 'works',
  fails: 'fails',
  undecided: 'undecided',
  'cannot-say': 'cannot say',
} as const;

const VERDICTS = {
  holds: 'holds',
  fails: 'does not hold',
  undecided: 'undecided',
  unknown: 'cannot say',
} as const;
