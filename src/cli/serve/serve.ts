import { existsSync } from 'node:fs';
import { isIP } from 'node:net';
import { join } from 'node:path';
import { OWNER } from '../../audience/policy.js';
import { findBook } from '../book-root.js';
import type { Run } from '../command.js';
import { audienceGiven } from '../copy.js';
import { dayGiven, todayOf } from '../day.js';
import type { Effects } from '../effects.js';
import { openLiveSite } from '../live-site.js';
import { asSeenFrom, problemsText } from '../problems.js';
import { EXIT, fileSystemRefusal, Refusal, sayRefusal } from '../refusal.js';
import { takeEntry } from '../take-entry.js';
import { newWord, type TakeIn } from './entries.js';
import { onceEach } from './once.js';
import { type Shown, startServer } from './server.js';
import { watchBook } from './watch.js';

/** `ribband serve`: shows the site of a book on this machine while somebody writes, until Ctrl-C. */
export const serve: Run = async (given, effects) => {
  const root = findBook(given.operands[0], effects);
  const port = readPort(given.value('port'));
  const address = readAddress(given.value('host'));
  todayOf(effects);
  const audience = audienceGiven(given);
  const site = await openLiveSite({
    root,
    today: () => todayOf(effects),
    asOf: dayGiven(given, 'as-of', effects),
    audience,
  });
  const diagnostics = () => asSeenFrom(effects.cwd, root, site.diagnostics());
  // Problems quote the owner's own files: nobody else is shown them on a page.
  const shown: Shown = { ...site, diagnostics: audience === OWNER ? diagnostics : () => [] };
  const fault = faultTeller(effects);
  const word = newWord();
  const takeIn = onceEach(oneAfterTheOther(root, effects), (path) => existsSync(join(root, path)));
  const server = await startServer({ shown, port, address, word, takeIn, fault });
  const tell = teller(diagnostics, effects);
  const refresh = async () => {
    if (!(await site.refresh())) return;
    server.tellChanged();
    tell();
  };
  const watching = watchBook(root, refresh, fault);
  await watching.ready;
  const base = `http://${hostOf(address)}:${server.port}/`;
  effects.out(`${base}\n`);
  effects.err('Saved files show at once. Ctrl-C ends it.\n');
  if (audience === OWNER)
    effects.err(
      `To write an entry there${address === null ? '' : ', on a phone as well as here'}: ${base}write.html#word=${word}\n`,
    );
  if (address !== null)
    effects.err('Everybody in that network can read the book now, and what is sent is not enciphered.\n');
  tell();
  await effects.interrupted();
  await watching.close();
  await server.close();
  return EXIT.clean;
};

/** Tells the problems whenever they are others than before, and when there are none left. */
function teller(diagnostics: Shown['diagnostics'], effects: Effects): () => void {
  let before = '';
  return () => {
    const text = problemsText(diagnostics(), effects);
    if (text === before) return;
    before = text;
    effects.err(text === '' ? '\nAll is well again.\n' : `\n${text}`);
  };
}

/**
 * Tells faults that do not end the server, each once: a system that lets no more files be watched says so for
 * every file.
 */
function faultTeller({ err, env }: Effects): (error: unknown) => void {
  let before = '';
  return (error) => {
    const whole = error instanceof Error ? error : new Error(String(error));
    const refusal = error instanceof Refusal ? error : fileSystemRefusal(error);
    const limit = isLimitOfWatching(whole);
    // These carry the path of the file, and are all the same to whoever reads them.
    const now = limit ? 'limit' : whole.message;
    if (now === before) return;
    before = now;
    const text = limit
      ? 'this system does not let so many files be watched; saved files may not show until the next start.'
      : refusal !== null
        ? sayRefusal(refusal)
        : `a fault in ribband itself: ${(env['RIBBAND_DEBUG'] ?? '') === '' ? whole.message : whole.stack}`;
    err(`ribband: ${text}\n`);
  };
}

/** A full disk has the same code as a system that lets no more files be watched. */
function isLimitOfWatching(error: Error): boolean {
  if (!('code' in error) || !('syscall' in error)) return false;
  return (error.code === 'ENOSPC' || error.code === 'EMFILE') && error.syscall === 'watch';
}

/** Entries are taken one after the other, so that no two of them take the same name. */
function oneAfterTheOther(root: string, effects: Effects): TakeIn {
  let before: Promise<unknown> = Promise.resolve();
  return (draft, pictures) => {
    const taking = before.then(() => takeEntry({ root, today: todayOf(effects), draft, pictures }));
    before = taking.catch(() => undefined);
    return taking;
  };
}

/** One address of this machine; not a name, which anybody can lead anywhere, and not all addresses at once. */
function readAddress(written: string | null): string | null {
  if (written === null || written === 'localhost' || written === '127.0.0.1') return null;
  if (isIP(written) === 0 || written === '0.0.0.0' || /^[0:]+$/.test(written))
    throw new Refusal(
      `\`--host\` is one address of this machine, such as \`192.168.1.20\`, not \`${written}\`.`,
      'Your network settings show it.',
    );
  return written.toLowerCase();
}

function hostOf(address: string | null): string {
  if (address === null) return 'localhost';
  return address.includes(':') ? `[${address}]` : address;
}

function readPort(written: string | null): number | null {
  if (written === null) return null;
  const port = Number(written);
  if (!/^\d{1,5}$/.test(written) || port > 65_535)
    throw new Refusal(`\`--port\` is a number up to 65535, not \`${written}\`.`);
  return port;
}
