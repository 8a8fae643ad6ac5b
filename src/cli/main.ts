import { nearest } from '../check/nearest.js';
import { packageVersion } from '../read/package.js';
import { readArguments } from './arguments.js';
import type { Command } from './command.js';
import { COMMANDS } from './commands.js';
import type { Effects } from './effects.js';
import { commandHelp, generalHelp } from './help.js';
import { EXIT, fileSystemRefusal, Refusal, sayRefusal } from './refusal.js';
import { tame } from './tame.js';

/**
 * The command line, as a function.
 *
 * @param argv what was typed after the program's name.
 * @returns the exit code: 0 nothing wrong, 1 problems in the book, 2 wrong use, 70 a fault of the program.
 *   Never throws.
 */
export async function main(argv: readonly string[], effects: Effects): Promise<number> {
  const tamed = tame(effects);
  try {
    return await dispatch(argv, tamed);
  } catch (error) {
    return explain(error, tamed);
  }
}

async function dispatch([first, ...rest]: readonly string[], effects: Effects): Promise<number> {
  if (first === undefined) {
    effects.err(generalHelp(COMMANDS, packageVersion()));
    return EXIT.wrongUse;
  }
  if (first === '--version') {
    effects.out(`${packageVersion()}\n`);
    return EXIT.clean;
  }
  if (first === '--help' || first === '-h' || first === 'help') return help(rest, effects);
  const command = find(first);
  const given = readArguments(command, rest);
  if (given.has('help')) return help([command.name], effects);
  return (await command.load())(given, effects);
}

function help([name]: readonly string[], effects: Effects): number {
  effects.out(name === undefined ? generalHelp(COMMANDS, packageVersion()) : commandHelp(find(name)));
  return EXIT.clean;
}

function find(name: string): Command {
  const found = COMMANDS.find((command) => command.name === name);
  if (found !== undefined) return found;
  const what = name.startsWith('-') ? 'option' : 'command';
  const near = nearest(name, what === 'option' ? ['--help', '--version'] : COMMANDS.map((c) => c.name));
  throw new Refusal(
    `There is no ${what} \`${name}\`.`,
    near === null ? 'See `ribband --help`.' : `Did you mean \`${near}\`?`,
  );
}

function explain(error: unknown, { err, env }: Effects): number {
  const refusal = error instanceof Refusal ? error : fileSystemRefusal(error);
  if (refusal !== null) {
    err(`ribband: ${sayRefusal(refusal)}\n`);
    return EXIT.wrongUse;
  }
  const whole = error instanceof Error ? error : new Error(String(error));
  if ((env['RIBBAND_DEBUG'] ?? '') !== '') err(`${whole.stack}\n`);
  else
    err(
      `ribband: a fault in ribband itself: ${whole.message.split('\n', 1)[0]} (RIBBAND_DEBUG=1 shows where)\n`,
    );
  return EXIT.fault;
}
