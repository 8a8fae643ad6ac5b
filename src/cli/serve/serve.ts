import { findBook } from '../book-root.js';
import type { Run } from '../command.js';
import { dayGiven, todayOf } from '../day.js';
import type { Effects } from '../effects.js';
import { openLiveSite } from '../live-site.js';
import { asSeenFrom, problemsText } from '../problems.js';
import { EXIT, Refusal } from '../refusal.js';
import { type Shown, startServer } from './server.js';
import { watchBook } from './watch.js';

/** `ribband serve`: shows the site of a book on this machine while somebody writes, until Ctrl-C. */
export const serve: Run = async (given, effects) => {
  const root = findBook(given.operands[0], effects);
  const port = readPort(given.value('port'));
  todayOf(effects);
  const site = await openLiveSite({ root, today: () => todayOf(effects), asOf: dayGiven(given, 'as-of') });
  const shown: Shown = { ...site, diagnostics: () => asSeenFrom(effects.cwd, root, site.diagnostics()) };
  const server = await startServer({ shown, port, fault: (error) => tellFault(error, effects) });
  const tell = teller(shown, effects);
  const refresh = async () => {
    if (!(await site.refresh())) return;
    server.tellChanged();
    tell();
  };
  const watching = watchBook(root, refresh, (error) => tellFault(error, effects));
  await watching.ready;
  // What was saved while the folder was being walked would otherwise be missed.
  await refresh();
  effects.out(`http://localhost:${server.port}/\n`);
  effects.err('Saved files show at once. Ctrl-C ends it.\n');
  tell();
  await effects.interrupted();
  await watching.close();
  await server.close();
  return EXIT.clean;
};

/** Tells the problems whenever they are others than before, and when there are none left. */
function teller({ diagnostics }: Shown, effects: Effects): () => void {
  let before = '';
  return () => {
    const text = problemsText(diagnostics(), effects);
    if (text === before) return;
    before = text;
    effects.err(text === '' ? '\nAll is well again.\n' : `\n${text}`);
  };
}

function tellFault(error: unknown, { err, env }: Effects): void {
  const whole = error instanceof Error ? error : new Error(String(error));
  const debug = (env['RIBBAND_DEBUG'] ?? '') !== '';
  err(`ribband: a fault in ribband itself: ${debug ? whole.stack : whole.message}\n`);
}

function readPort(written: string | null): number | null {
  if (written === null) return null;
  const port = Number(written);
  if (!/^\d{1,5}$/.test(written) || port > 65_535)
    throw new Refusal(`\`--port\` is a number up to 65535, not \`${written}\`.`);
  return port;
}
