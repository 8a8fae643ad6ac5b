import type { Random } from './random.js';
import { SENTENCES, THINGS } from './vocabulary.js';

/** An earlier entry that prose can refer to. */
export interface Earlier {
  readonly id: string;
  readonly year: string;
  readonly title: string;
}

/** Prose as people write it after work: a few paragraphs, now and then a list, a table, a link, a note. */
export function proseFrom(random: Random, earlier: readonly Earlier[]): string {
  const blocks = [paragraph(random, 3 + random.below(3)), paragraph(random, 2 + random.below(4))];
  if (random.chance(0.35)) blocks.push(bullets(random));
  if (random.chance(0.1)) blocks.push(`## ${sentence(random).slice(0, 40).trim()}`);
  if (random.chance(0.5)) blocks.push(paragraph(random, 2 + random.below(3)));
  if (random.chance(0.12)) blocks.push(table(random));
  if (random.chance(0.06)) blocks.push('```\nA1 red    12.71\nA2 black  12.69\nA3 shield  0.00\n```');
  if (random.chance(0.2) && earlier.length > 0) blocks.push(reference(random, earlier));
  if (random.chance(0.06))
    blocks.push(`Held together with hope[^1]. ${sentence(random)}\n\n[^1]: ${sentence(random)}`);
  return `${blocks.join('\n\n')}\n`;
}

function sentence(random: Random): string {
  const { SUBJECTS, VERBS, MIDDLES, ENDS } = SENTENCES;
  const more = random.chance(0.6)
    ? `${random.pick(MIDDLES)} the ${random.pick(THINGS)} ${random.pick(VERBS)}`
    : '';
  const marked = random.chance(0.12) ? ` **${(random.next() * 40).toFixed(1)}** turns.` : '';
  return `${random.pick(SUBJECTS)} ${random.pick(VERBS)}${more}.${marked}${random.pick(ENDS)}`;
}

function paragraph(random: Random, sentences: number): string {
  const words = Array.from({ length: sentences }, () => sentence(random))
    .join(' ')
    .split(' ');
  const lines: string[] = [];
  let line = '';
  for (const word of words) {
    if (line.length + word.length > 100) {
      lines.push(line);
      line = word;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  return [...lines, line].join('\n');
}

function bullets(random: Random): string {
  const mark = random.chance(0.3) ? '1.' : '-';
  return Array.from({ length: 3 + random.below(4) }, () => `${mark} ${sentence(random)}`).join('\n');
}

function table(random: Random): string {
  const rows = Array.from({ length: 3 + random.below(5) }, (_, row) => {
    return `| ${row + 1} ${random.pick(THINGS)} | ${(random.next() * 90).toFixed(1)} | \`${random.below(900)}\` |`;
  });
  return ['| place | before | after |', '| :-- | --: | --: |', ...rows].join('\n');
}

function reference(random: Random, earlier: readonly Earlier[]): string {
  const { id, year, title } = random.pick(earlier);
  return `As in [${title}](../${year}/${id}.md), ${sentence(random).toLowerCase()}`;
}
