/** What is told of something in a few lines, for hovering and beside a completion. */
export interface Card {
  readonly title: string;
  /** The name by which the book knows it, or null. */
  readonly name: string | null;
  readonly lines: readonly string[];
}

/** A card as Markdown, or as plain text for an editor that shows no other. What the book says stays text. */
export function printCard({ title, name, lines }: Card, markdown: boolean): string {
  if (!markdown) return [name === null ? title : `${title} (${name})`, ...lines].join('\n');
  const head = `**${escaped(title)}**${name === null ? '' : ` \`${name.replaceAll('`', '')}\``}`;
  return [head, ...lines.map(escaped)].join('\n\n');
}

/** Signs that mean something in Markdown. */
const SIGNS = /[\\`*_{}[\]<>#|~!&]/g;

function escaped(text: string): string {
  return text.replaceAll(/\s+/g, ' ').trim().replaceAll(SIGNS, '\\$&');
}
