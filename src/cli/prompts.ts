import type { Writable } from 'node:stream';
import type { Ask } from './effects.js';

/** Questions on a real terminal. The library behind them is loaded when the first is asked. */
export function askAt(output: Writable): Ask {
  return {
    text: async (question, refuse) => {
      const { text, isCancel } = await import('@clack/prompts');
      const answer = await text({
        message: question,
        output,
        validate: (written) => refuse(written ?? '') ?? undefined,
      });
      return isCancel(answer) ? null : answer;
    },
    several: async (question, choices, required) => {
      const { multiselect, isCancel } = await import('@clack/prompts');
      const answer = await multiselect<string>({
        message: question,
        options: choices.map(({ value, label, hint }) => ({
          value,
          label,
          ...(hint === undefined ? {} : { hint }),
        })),
        maxItems: 12,
        output,
        required,
      });
      return isCancel(answer) ? null : answer;
    },
  };
}
