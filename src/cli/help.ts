import { optionsOf } from './arguments.js';
import type { CommandInfo, OptionInfo } from './command.js';

/** Help texts, made from the table of commands. */

const WIDTH = 80;

/** Help for all of the program. */
export function generalHelp(commands: readonly CommandInfo[], version: string): string {
  const rows = commands.map(({ name, operands, summary }): Row => [`${name} ${operands}`.trimEnd(), summary]);
  return `ribband ${version}: a checked logbook for a boat and other work of your hands

Usage: ribband COMMAND [...]

Commands:
${columns(rows)}
Options:
${columns([
  ['-h, --help', 'Show this, or the help of a command.'],
  ['--version', 'Show the version.'],
])}
\`ribband help COMMAND\` tells more of each. Start with \`ribband init log\`.

Exit codes: 0 nothing wrong, 1 problems in the book, 2 wrong use,
70 a fault of ribband itself.
`;
}

/** Help for one command. */
export function commandHelp(command: CommandInfo): string {
  const about = command.about.map((paragraph) => wrap(paragraph, WIDTH).join('\n')).join('\n\n');
  const examples = command.examples.map(({ run, does }) => `  ${run}\n      ${does}\n`).join('');
  return `${usage(command)}
${about}

Options:
${columns(optionsOf(command).map((option): Row => [optionWord(option), option.about]))}
Examples:
${examples}`;
}

/** How a command is called, in a line or two. */
export function usage(command: CommandInfo): string {
  const options = command.options.map(
    (option) => `[${optionWord(option).replaceAll(' ', '\u00a0')}]${option.many === true ? '...' : ''}`,
  );
  const operands = command.operands === '' ? [] : [command.operands];
  const whole = ['ribband', command.name, ...operands, ...options].join(' ');
  return beside('Usage: ', wrap(whole, WIDTH - 7)).replaceAll('\u00a0', ' ');
}

function optionWord({ name, value }: OptionInfo): string {
  if (name === 'help') return '-h, --help';
  return value === null ? `--${name}` : `--${name} ${value}`;
}

type Row = readonly [left: string, right: string];

function columns(rows: readonly Row[]): string {
  const width = Math.max(...rows.map(([left]) => left.length)) + 4;
  return rows.map(([left, right]) => beside(`  ${left}`.padEnd(width), wrap(right, WIDTH - width))).join('');
}

/** Lines to the right of a label. */
function beside(label: string, lines: readonly string[]): string {
  return lines.map((line, index) => `${index === 0 ? label : ' '.repeat(label.length)}${line}\n`).join('');
}

function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const last = lines.at(-1);
    if (last === undefined || last.length + 1 + word.length > width) lines.push(word);
    else lines[lines.length - 1] = `${last} ${word}`;
  }
  return lines;
}
