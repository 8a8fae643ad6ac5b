import { readFileSync } from 'node:fs';
import { join } from 'node:path';

/** A block of code in the README. */
export interface Block {
  readonly language: string;
  readonly text: string;
}

export const README = readFileSync(join(import.meta.dirname, '../../README.md'), 'utf8');

/** The blocks of one section, in their order. */
export function blocksOf(heading: string): readonly Block[] {
  const [, rest = ''] = README.split(`\n## ${heading}\n`);
  const section = rest.split('\n## ')[0] ?? '';
  return [...section.matchAll(/^```(\w+)\n([\s\S]*?)^```$/gm)].map(([, language = '', text = '']) => ({
    language,
    text,
  }));
}
