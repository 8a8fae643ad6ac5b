import type { Effects } from './effects.js';
import { askAt } from './prompts.js';

/** The effects of a program in a real process. */
export function realEffects(): Effects {
  const { stdin, stdout, stderr } = process;
  return {
    out: (text) => void stdout.write(text),
    err: (text) => void stderr.write(text),
    outIsTerminal: stdout.isTTY === true,
    outWidth: () => stdout.columns,
    errIsTerminal: stderr.isTTY === true,
    env: process.env,
    cwd: process.cwd(),
    today: () => localDay(new Date()),
    input: async () => (await stdin.setEncoding('utf8').toArray()).join(''),
    // Asked on the standard error, so that `$EDITOR "$(ribband new)"` works.
    ask: stdin.isTTY === true && stderr.isTTY === true ? askAt(stderr) : null,
    interrupted: () =>
      new Promise((resolve) => {
        process.once('SIGINT', () => resolve());
        process.once('SIGTERM', () => resolve());
      }),
  };
}

/** The calendar day where the user is, not in Greenwich. */
function localDay(now: Date): string {
  const two = (number: number) => String(number).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
