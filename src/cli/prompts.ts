import type { Writable } from 'node:stream';
import { plainLine } from '../quantity/plain-line.js';
import type { Ask, Choice } from './effects.js';
import { askLong } from './long-prompt.js';

/** Questions on a real terminal. The library behind them is loaded when the first is asked. */
export function askAt(output: Writable): Ask {
  return {
    text: async (question, { refuse, initial }) => {
      const { text, isCancel } = await import('@clack/prompts');
      const answer = await text({
        message: plainLine(question),
        output,
        ...(initial === undefined ? {} : { initialValue: initial }),
        validate: (written) => refuse?.(written ?? '') ?? undefined,
      });
      return isCancel(answer) ? null : (answer ?? '');
    },
    long: (question, asking) => askLong(question, asking, output),
    one: async (question, choices) => {
      const { select, isCancel } = await import('@clack/prompts');
      const answer = await select<string>({
        message: plainLine(question),
        options: optionsOf(choices),
        maxItems: 12,
        output,
      });
      return isCancel(answer) ? null : answer;
    },
    several: async (question, choices, required) => {
      const { multiselect, isCancel } = await import('@clack/prompts');
      const options = optionsOf(choices);
      const answer = await multiselect<string>({
        message: plainLine(question),
        options,
        maxItems: 12,
        output,
        required,
      });
      return isCancel(answer) ? null : answer;
    },
  };
}

/** The library shows a hint only where the cursor is; what was read last has to be seen of all. */
function optionsOf(choices: readonly Choice[]) {
  return choices.map(({ value, label, hint }) => ({
    value,
    label: plainLine(hint === undefined ? label : `${label}  (${hint})`),
  }));
}
