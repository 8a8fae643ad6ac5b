import { join } from 'node:path';
import { reportText, summaryLine } from '../check/report/text.js';
import { packageVersion } from '../read/package.js';
import { findBook, seenFrom } from './book-root.js';
import { paintFor } from './colour.js';
import type { Given, Run } from './command.js';
import { todayOf } from './day.js';
import type { Effects } from './effects.js';
import { checkFolder, type Told, tellFolder } from './pipeline.js';
import { asSeenFrom } from './problems.js';
import { hasErrors } from './reckon-book.js';
import { EXIT } from './refusal.js';

/** `ribband check`: tells what is wrong in a book, and mends what is safe to mend where asked to. */
export const check: Run = async (given, effects) => {
  const root = findBook(given.operands[0], effects);
  const today = todayOf(effects);
  const checked = given.has('fix') ? await mend(root, today, given, effects) : await tellFolder(root, today);
  await report(checked, root, given, effects);
  return hasErrors(checked.diagnostics) ? EXIT.problems : EXIT.clean;
};

/** Mends what is safe to mend and says what it was: where other programs read the output, on the error stream. */
async function mend(root: string, today: string, given: Given, effects: Effects): Promise<Told> {
  const { mendBook } = await import('./mend.js');
  const { lines, renamed, ordered, checked } = await mendBook(root, () => checkFolder(root, today));
  if (given.has('quiet')) return checked;
  const tell = (given.value('format') ?? 'text') === 'text' ? effects.out : effects.err;
  const seen = (file: string) => seenFrom(effects.cwd, join(root, file));
  for (const { file, line, now } of lines) tell(`Mended ${seen(file)}:${line}: ${now}\n`);
  for (const { from, to } of renamed) tell(`Renamed ${seen(from)}: now ${seen(to)}\n`);
  for (const file of ordered) tell(`Put the fields of ${seen(file)} in order\n`);
  return checked;
}

async function report({ diagnostics, folder }: Told, root: string, given: Given, effects: Effects) {
  const seen = asSeenFrom(effects.cwd, root, diagnostics);
  const format = given.value('format') ?? 'text';
  if (format !== 'text') {
    const { reportAnnotations, reportJson, reportSarif } = await import('../check/report/machine.js');
    if (format === 'json') effects.out(reportJson(seen));
    else if (format === 'sarif') effects.out(reportSarif(seen, packageVersion()));
    else effects.out(reportAnnotations(seen));
    return;
  }
  if (seen.length > 0) effects.out(reportText(seen, paintFor(effects.outIsTerminal, effects.env)));
  if (given.has('quiet')) return;
  effects.out(
    `${seen.length > 0 ? '\n' : ''}${summaryLine(seen, folder.files.length + folder.series.length)}\n`,
  );
}
