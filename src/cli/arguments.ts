import { parseArgs } from 'node:util';
import { nearest } from '../check/nearest.js';
import type { CommandInfo, Given, OptionInfo } from './command.js';
import { Refusal } from './refusal.js';

const HELP: OptionInfo = { name: 'help', value: null, about: 'Show this.' };

/** The options that a command takes, with the one that all take. */
export function optionsOf(command: CommandInfo): readonly OptionInfo[] {
  return [...command.options, HELP];
}

/**
 * Reads what follows a command's name.
 *
 * @throws Refusal for an option that is not known, lacks its value or has one too many.
 */
export function readArguments(command: CommandInfo, args: readonly string[]): Given {
  const options = optionsOf(command);
  const { tokens } = parseArgs({
    args: [...args],
    strict: false,
    allowPositionals: true,
    tokens: true,
    options: {
      ...Object.fromEntries(
        options.map(({ name, value }) => [
          name,
          { type: value === null ? 'boolean' : 'string', multiple: true } as const,
        ]),
      ),
      help: { type: 'boolean', short: 'h' },
    },
  });
  const values = new Map<string, string[]>();
  const operands: string[] = [];
  for (const token of tokens) {
    if (token.kind === 'positional') operands.push(token.value);
    if (token.kind !== 'option') continue;
    const option = known(command, token.name, token.rawName);
    const value = checkedValue(option, token.value, token.inlineValue === true);
    values.set(option.name, [...(values.get(option.name) ?? []), value]);
  }
  if (!values.has('help')) checkCounts(command, operands, values);
  return {
    operands,
    has: (name) => values.has(name),
    value: (name) => values.get(name)?.at(-1) ?? null,
    values: (name) => values.get(name) ?? [],
  };
}

function known(command: CommandInfo, name: string, rawName: string): OptionInfo {
  const options = optionsOf(command);
  const found = options.find((option) => option.name === name);
  if (found !== undefined) return found;
  const near = nearest(
    name,
    options.map((option) => option.name),
  );
  throw new Refusal(
    `\`ribband ${command.name}\` has no option \`${rawName}\`.`,
    near === null ? null : `Did you mean \`--${near}\`?`,
  );
}

function checkedValue(option: OptionInfo, value: string | undefined, inline: boolean): string {
  if (option.value === null) {
    if (value !== undefined) throw new Refusal(`\`--${option.name}\` takes no value.`);
    return '';
  }
  // `--date --close x` is a value that was forgotten, not a date called `--close`; `-` is the standard input,
  // and `-5 °C` a value.
  if (value === undefined || value === '' || (!inline && /^-(?![\d.]|$)/.test(value)))
    throw new Refusal(`\`--${option.name}\` needs a value: \`--${option.name} ${option.value}\`.`);
  if (option.choices !== undefined && !option.choices.includes(value)) {
    const near = nearest(value, option.choices);
    throw new Refusal(
      `\`--${option.name}\` is one of ${option.choices.join(', ')}, not \`${value}\`.`,
      near === null ? null : `Did you mean \`${near}\`?`,
    );
  }
  return value;
}

function checkCounts(
  command: CommandInfo,
  operands: readonly string[],
  values: ReadonlyMap<string, readonly string[]>,
): void {
  const extra = operands[command.maxOperands];
  if (extra !== undefined)
    throw new Refusal(
      `\`ribband ${command.name}\` takes ${command.maxOperands === 1 ? 'one folder' : `at most ${command.maxOperands} words`}; \`${extra}\` is one too many.`,
    );
  const twice = command.options.find(
    (option) => option.many !== true && option.value !== null && (values.get(option.name)?.length ?? 0) > 1,
  );
  if (twice !== undefined) throw new Refusal(`\`--${twice.name}\` is given more than once.`);
}
