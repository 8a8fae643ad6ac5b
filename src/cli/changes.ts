import { addDays } from '../reckon/calendar.js';
import { type Changes, changesBetween, type FindingsMoved, findingsMoved } from '../reckon/changes.js';
import { reckon } from '../reckon/reckon.js';
import { linksFrom } from '../render/links.js';
import { type ChangeCell, type ChangesView, changesView } from '../render/pages/changes.js';
import { OUTCOME_WORD } from '../render/words.js';
import { parseMemory } from '../write/cache.js';
import { findBook } from './book-root.js';
import { paintFor } from './colour.js';
import type { Run } from './command.js';
import { audienceGiven, seenBy } from './copy.js';
import { dayGiven, todayOf } from './day.js';
import { cacheOf, checkFolder } from './pipeline.js';
import { asSeenFrom, problemsText } from './problems.js';
import { EXIT, Refusal } from './refusal.js';

/** `ribband changes`: what has become of a book from one day to another, both with what was done on them. */
export const changesCommand: Run = async (given, effects) => {
  const today = todayOf(effects);
  const to = dayGiven(given, 'to') ?? today;
  const from = dayGiven(given, 'from') ?? `${to.slice(0, 4)}-01-01`;
  if (from > to) throw new Refusal(`\`--from\` ${from} is after \`--to\` ${to}.`);
  const root = findBook(given.operands[0], effects);
  const { book, folder, diagnostics, reckoning } = await checkFolder(root, today);
  if (book === null || reckoning === null) {
    effects.err(problemsText(asSeenFrom(effects.cwd, root, diagnostics), effects));
    return EXIT.problems;
  }
  const memory = () => parseMemory(cacheOf(root));
  const seen = await seenBy(audienceGiven(given), { folder, book, reckoning }, today, memory);
  const now = seen.reckoning;
  const after = to === today ? now : reckon(now.book, to);
  const before = reckon(now.book, addDays(from, -1));
  const changes = changesBetween(before, after);
  const findings = findingsMoved(before, after);
  effects.out(
    given.value('as') === 'json'
      ? asJson(from, changes, findings)
      : asText(
          changesView(after, linksFrom('', after), changes, findings),
          paintFor(effects.outIsTerminal, effects.env),
        ),
  );
  return EXIT.clean;
};

function asJson(from: string, changes: Changes, findings: FindingsMoved): string {
  const { entries, standings, tests, limits, parts, opened, decided, undone, ...rest } = changes;
  const document = {
    version: 1,
    ...rest,
    from,
    entries: entries.map(({ id }) => id),
    standings: standings.map(({ by, ...moved }) => ({ ...moved, by: by?.entry ?? null })),
    tests: tests.map(({ last, ...moved }) => ({ ...moved, date: last.run.date, entry: last.run.entry })),
    limits: limits.map(({ last: { reading }, ...moved }) => ({
      ...moved,
      value: reading.quantity.written,
      date: reading.date,
      entry: reading.entry,
    })),
    parts: parts.map(({ part, move, date, cost, entry }) => ({
      part,
      move,
      date,
      cost: cost === null ? null : { amount: cost.amount, currency: cost.currency },
      entry,
    })),
    opened: opened.map(({ id, date, entry }) => ({ id, date, entry })),
    decided: decided.map(({ id, date, chose, entry }) => ({ id, date, chose, entry })),
    undone: undone.map(({ id, by }) => ({ id, by: by.id, date: by.date, entry: by.entry })),
    findings: {
      opened: findings.opened.map(({ grade, grounds: [{ about, says }] }) => ({ grade, about, says })),
      settled: findings.settled.map(({ grade, grounds: [{ about, says }] }) => ({ grade, about, says })),
    },
  };
  return `${JSON.stringify(document, null, 2)}\n`;
}

function asText({ title, sentences, groups }: ChangesView, paint: ReturnType<typeof paintFor>): string {
  const tables = groups.map(({ heading, rows }) => {
    const lines = rows.map(
      (cells) =>
        `  ${cells
          .map(cellWords)
          .filter((word) => word !== '')
          .join('  ')}\n`,
    );
    return `\n${paint('strong', heading)}\n${lines.join('')}`;
  });
  return `${paint('strong', title)}\n${sentences.map((sentence) => `${sentence}\n`).join('')}${tables.join('')}`;
}

function cellWords(cell: ChangeCell): string {
  if ('standing' in cell) return `[${cell.standing}]`;
  if ('outcome' in cell) return `[${OUTCOME_WORD[cell.outcome]}]`;
  if ('limit' in cell) return `[${cell.limit.replaceAll('-', ' ')}]`;
  return cell.text;
}
