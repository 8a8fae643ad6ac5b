import { NO_CACHE } from '../write/cache.js';
import type { Run } from './command.js';
import { todayOf } from './day.js';
import { lastingMemory } from './lasting-memory.js';
import { checkAndReckon } from './reckon-book.js';
import { Refusal } from './refusal.js';

/** `ribband language-server`: answers an editor over its standard input and output until the editor ends it. */
export const languageServer: Run = async (_given, effects) => {
  if (effects.outIsTerminal)
    throw new Refusal(
      'The language server talks to an editor, and not to a person.',
      'Let your editor start it; how to set that up stands in README.md.',
    );
  const { createConnection } = await import('vscode-languageserver/node');
  const { serveEditor } = await import('../editor/server.js');
  serveEditor(createConnection(process.stdin, process.stdout), {
    check: checkAndReckon,
    // Nothing is written into a book for its being looked at.
    memory: () => lastingMemory(NO_CACHE),
    today: () => todayOf(effects),
  });
  // The connection ends the process, with 0 after a proper goodbye.
  return new Promise(() => undefined);
};
