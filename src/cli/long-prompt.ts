import type { Writable } from 'node:stream';
import { styleText } from 'node:util';
import type { LongAsking } from './effects.js';

/**
 * A question for several lines on a real terminal. Enter begins a line, so that blank lines can be typed and pasted;
 * Tab and Enter end it. Unlike the ready-made one it hands out what stands there while it is typed: whoever stops
 * in the middle loses nothing.
 */
export async function askLong(
  question: string,
  { initial, keep }: LongAsking,
  output: Writable,
): Promise<string | null> {
  const { MultiLinePrompt, isCancel, wrapTextWithPrefix } = await import('@clack/core');
  const { S_BAR, S_BAR_END, symbol } = await import('@clack/prompts');
  const prompt = new MultiLinePrompt({
    output,
    initialValue: initial,
    showSubmit: true,
    render() {
      const isOpen = this.state === 'initial' || this.state === 'active';
      const text = isOpen ? this.userInputWithCursor : styleText('dim', this.userInput);
      const bar = styleText(isOpen ? 'cyan' : 'gray', S_BAR);
      const head = `${styleText('gray', S_BAR)}\n${symbol(this.state)}  ${question}\n`;
      const body = wrapTextWithPrefix(output, text, `${bar}  `);
      if (!isOpen) return `${head}${body}`;
      const end = styleText(this.focused === 'submit' ? 'cyan' : 'dim', '[ done ]');
      return `${head}${body}\n${styleText('cyan', S_BAR_END)}  ${end}\n`;
    },
  });
  let kept = initial;
  prompt.on('userInput', (text) => {
    // A terminal that is closed gives no warning; but a file for each key would be slow.
    if (!text.endsWith('\n') && Math.abs(text.length - kept.length) < LETTERS_BETWEEN) return;
    kept = text;
    keep(text);
  });
  const answer = await prompt.prompt();
  if (!isCancel(answer)) return answer ?? '';
  keep(prompt.userInput);
  return null;
}

/** So many letters may be typed before they are kept. */
const LETTERS_BETWEEN = 40;
