import { OWNER } from '../audience/policy.js';
import { addDays } from '../reckon/calendar.js';
import { type Changes, changesBetween, type FindingsMoved, findingsMoved } from '../reckon/changes.js';
import type { Reckoning } from '../reckon/model.js';
import { reckon } from '../reckon/reckon.js';
import { linksFrom } from '../render/links.js';
import { type ChangeCell, type ChangesView, changesView } from '../render/pages/changes.js';
import { withSeals } from '../render/pages/changes-sealed.js';
import { OUTCOME_WORD } from '../render/words.js';
import { parseMemory } from '../write/cache.js';
import { findBook } from './book-root.js';
import { type ComparedUnderSeal, compareUnderSeal, sealsAsJson, sealsGiven } from './changes-sealed.js';
import { paintFor } from './colour.js';
import type { Given, Run } from './command.js';
import { audienceGiven, seenBy } from './copy.js';
import { dayGiven, todayOf } from './day.js';
import type { Effects } from './effects.js';
import { cacheOf, checkFolder } from './pipeline.js';
import { asSeenFrom, problemsText } from './problems.js';
import { EXIT, Refusal } from './refusal.js';
import { writeLonePage } from './write-lone-page.js';

/** `ribband changes`: what has become of a book from one day to another, both with what was done on them, or since a seal. */
export const changesCommand: Run = async (given, effects) => {
  const today = todayOf(effects);
  const root = findBook(given.operands[0], effects);
  const seals = sealsGiven(given, root, effects);
  const audience = audienceGiven(given);
  if (seals !== null && audience !== OWNER)
    throw new Refusal(
      'A seal names all files of the book, those too that others may not see.',
      `Leave out \`--for\`, or compare two days for ${audience} by \`--from\` and \`--to\`.`,
    );
  const days = seals === null ? daysGiven(given, today, effects) : null;
  const { book, folder, diagnostics, reckoning } = await checkFolder(root, today);
  if (book === null || reckoning === null) {
    effects.err(problemsText(asSeenFrom(effects.cwd, root, diagnostics), effects));
    return EXIT.problems;
  }
  const memory = () => parseMemory(cacheOf(root));
  const told =
    seals !== null
      ? sinceSeal(compareUnderSeal(seals, folder, reckoning, linksHere))
      : betweenDays(
          days ?? daysGiven(given, today, effects),
          (await seenBy(audience, { folder, book, reckoning }, today, memory)).reckoning,
        );
  const out = given.value('out');
  if (out !== null)
    await writeLonePage(
      out,
      root,
      async () => (await import('../render/changes-site.js')).changesFiles(told.after, told.view),
      effects,
    );
  effects.out(
    given.value('as') === 'json'
      ? asJson(told)
      : asText(told.view, paintFor(effects.outIsTerminal, effects.env)),
  );
  return EXIT.clean;
};

/** First and last day. */
interface Days {
  readonly from: string;
  readonly to: string;
}

function daysGiven(given: Given, today: string, effects: Effects): Days {
  const to = dayGiven(given, 'to', effects) ?? today;
  const from = dayGiven(given, 'from', effects) ?? `${to.slice(0, 4)}-01-01`;
  if (from > to) throw new Refusal(`\`--from\` ${from} is after \`--to\` ${to}.`);
  return { from, to };
}

/** What changed, in the terms of the book and in words. */
interface Told {
  readonly after: Reckoning;
  readonly from: string;
  readonly changes: Changes;
  readonly findings: FindingsMoved;
  readonly seals: unknown;
  readonly view: ChangesView;
}

const linksHere = (reckoning: Reckoning) => linksFrom('', reckoning);

function betweenDays({ from, to }: Days, now: Reckoning): Told {
  const after = to === now.asOf ? now : reckon(now.book, to);
  const before = reckon(now.book, addDays(from, -1));
  const changes = changesBetween(before, after);
  const findings = findingsMoved(before, after);
  const view = changesView(after, linksHere(after), changes, findings);
  return { after, from, changes, findings, seals: null, view };
}

function sinceSeal({ after, changes, findings, compared }: ComparedUnderSeal): Told {
  const view = withSeals(changesView(after, linksHere(after), changes, findings), compared);
  return { after, from: compared.from.made, changes, findings, seals: sealsAsJson(compared), view };
}

function asJson({ from, changes, findings, seals }: Told): string {
  const { entries, standings, tests, limits, parts, opened, decided, undone, ...rest } = changes;
  const document = {
    version: 1,
    ...rest,
    from,
    ...(seals === null ? {} : { seals }),
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

function asText(
  { title, sealed, sentences, groups, doubts }: ChangesView,
  paint: ReturnType<typeof paintFor>,
): string {
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
  const unproven =
    doubts.length === 0
      ? ''
      : `\n${paint('strong', 'What this does not prove')}\n${doubts.map((doubt) => `  ${doubt}\n`).join('')}`;
  return `${paint('strong', title)}\n${[...sealed, ...sentences].map((sentence) => `${sentence}\n`).join('')}${tables.join('')}${unproven}`;
}

function cellWords(cell: ChangeCell): string {
  if ('standing' in cell) return `[${cell.standing}]`;
  if ('outcome' in cell) return `[${OUTCOME_WORD[cell.outcome]}]`;
  if ('limit' in cell) return `[${cell.limit.replaceAll('-', ' ')}]`;
  return cell.text;
}
