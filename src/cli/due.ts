import { parseInterval } from '../quantity/index.js';
import { addInterval } from '../reckon/calendar.js';
import { type Due, dueList } from '../reckon/due.js';
import { findBook } from './book-root.js';
import { paintFor } from './colour.js';
import type { Given, Run } from './command.js';
import { reckonedBook } from './reckoned.js';
import { EXIT, Refusal } from './refusal.js';

const UNIT = /^(?:days?|weeks?|months?|years?)$/;

/** `ribband due`: what is overdue and what comes due. Ends with 1 where something is overdue. */
export const due: Run = async (given, effects) => {
  const { operands, within } = readWithin(given);
  const reckoned = await reckonedBook(findBook(operands[0], effects), given, effects);
  if (reckoned === null) return EXIT.problems;
  const until = within === null ? null : addInterval(reckoned.asOf, within);
  const list = dueList(reckoned, until);
  if (given.value('as') === 'json')
    effects.out(`${JSON.stringify({ version: 1, asOf: reckoned.asOf, until, due: list }, null, 2)}\n`);
  else effects.out(asText(list, paintFor(effects.outIsTerminal, effects.env)));
  return list.some((one) => one.overdue) ? EXIT.problems : EXIT.clean;
};

/** `--within 60 days` comes as two words from a shell; the second is then no folder. */
function readWithin(given: Given) {
  const written = given.value('within');
  const unit =
    written !== null && /^\d+$/.test(written)
      ? given.operands.find((operand) => UNIT.test(operand))
      : undefined;
  const operands = given.operands.filter((operand) => operand !== unit);
  if (written === null) return { operands, within: null };
  const result = parseInterval(unit === undefined ? written : `${written} ${unit}`);
  if (!result.ok) throw new Refusal(`\`--within\` is a time such as \`60 days\`, not \`${written}\`.`);
  return { operands, within: result.interval };
}

function asText(list: readonly Due[], paint: ReturnType<typeof paintFor>): string {
  if (list.length === 0) return 'Nothing is due.\n';
  const width = Math.max(...list.map((one) => whenInWords(one).length));
  return list
    .map((one) => {
      const when = whenInWords(one).padEnd(width);
      const head = `${paint(one.overdue ? 'error' : 'strong', when)}  ${one.what}${one.safety ? paint('warning', ' (safety)') : ''}`;
      return `${head}\n${' '.repeat(width)}  ${paint('faint', `${one.sort} ${one.id}. ${one.because}`)}\n`;
    })
    .join('');
}

function whenInWords({ on, inDays, overdue }: Due): string {
  if (on === null || inDays === null) return overdue ? 'overdue by hours' : '';
  // Hours that are overrun have no day of their own.
  if (overdue && inDays >= 0) return 'overdue by hours';
  const days = Math.abs(inDays);
  const span = days === 0 ? 'today' : `${days} ${days === 1 ? 'day' : 'days'}`;
  return `${on}  ${overdue ? `${span} over` : days === 0 ? span : `in ${span}`}`;
}
