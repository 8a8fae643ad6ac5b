import type { Definition, Image, Link, Resource } from 'mdast';
import { visit } from 'unist-util-visit';
import { sameHeading, sectionsIn, treeOf } from '../read/headings.js';
import type { WrittenReading } from '../read/inline-reading.js';

/**
 * Changes the prose of a file, as text: what is not touched stays as it was written, letter by letter.
 */

interface Edit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** The prose without what stands under some headings. */
export function withoutSections(body: string, headings: readonly string[]): string {
  if (headings.length === 0) return body;
  const hidden = sectionsIn(body).filter(({ heading }) => headings.some((one) => sameHeading(one, heading)));
  return apply(
    body,
    hidden.map(({ start, end }) => ({ start, end, text: '' })),
  );
}

/** The prose without the pictures that `stays` does not want, given by their address as written. */
export function withoutPictures(body: string, stays: (url: string) => boolean): string {
  if (!body.includes('![')) return body;
  const edits: Edit[] = [];
  const tree = treeOf(body);
  const addresses = new Map<string, Definition>();
  visit(tree, 'definition', (node) => {
    if (!addresses.has(node.identifier)) addresses.set(node.identifier, node);
  });
  visit(tree, (node) => {
    const url =
      node.type === 'image'
        ? node.url
        : node.type === 'imageReference'
          ? (addresses.get(node.identifier)?.url ?? null)
          : null;
    if (url !== null && !stays(url)) edits.push({ ...stretchOf(node), text: '' });
  });
  for (const node of addresses.values())
    if (isPicture(node.url) && !stays(node.url)) edits.push({ ...stretchOf(node), text: '' });
  return apply(body, edits);
}

function isPicture(url: string): boolean {
  return /\.(?:jpe?g|png|webp)$/i.test(url);
}

/** The addresses of the pictures that a prose shows, as written. */
export function picturesIn(body: string): readonly string[] {
  if (!body.includes('![')) return [];
  const found: string[] = [];
  visit(treeOf(body), (node) => {
    if (node.type === 'image') found.push(node.url);
    else if (node.type === 'definition' && isPicture(node.url)) found.push(node.url);
  });
  return found;
}

/** The prose without some of the readings that it tells, by their number in it. */
export function withoutReadings(body: string, gone: ReadonlySet<number>): string {
  if (gone.size === 0) return body;
  const edits: Edit[] = [];
  let index = 0;
  visit(treeOf(body), 'inlineReading', (node) => {
    if (gone.has(index)) edits.push({ ...stretchOf(node), text: '…' });
    index += 1;
  });
  return apply(body, edits);
}

/** What becomes of the pieces of a prose. */
export interface Rewriting {
  readonly words: (text: string) => string;
  /** An attribute of a reading, by its name. */
  readonly attribute: (name: string, value: string) => string;
  /** A new address for a link or a picture; null for a link that leads nowhere any more. */
  readonly address: (url: string) => string | null;
}

/** The prose with its words, its addresses and the names in its readings changed. */
export function rewritten(body: string, how: Rewriting): string {
  if (body.trim() === '') return body;
  const edits: Edit[] = [];
  const lost = new Set<string>();
  const tree = treeOf(body);
  visit(tree, 'definition', (node) => {
    const url = how.address(node.url);
    if (url === null) lost.add(node.identifier);
    const text =
      url === null ? '' : `[${how.words(node.label ?? node.identifier)}]: ${resource({ ...node, url }, how)}`;
    edits.push({ ...stretchOf(node), text });
  });
  visit(tree, (node) => {
    if (node.type === 'inlineReading') edits.push({ ...stretchOf(node), text: reading(node.written, how) });
    else if (node.type === 'image') edits.push({ ...stretchOf(node), text: picture(node, how) });
    else if (node.type === 'link') edits.push(...link(node, body, how));
    else if (node.type === 'linkReference' && lost.has(node.identifier)) edits.push(...unwrapped(node));
  });
  return apply(body, edits, how.words);
}

function reading({ value, attributes }: WrittenReading, { attribute }: Rewriting): string {
  const pairs = attributes.map(({ name, value: written }) => {
    const text = attribute(name.text, written.text);
    return `${name.text}=${text.includes('"') ? `'${text}'` : `"${text}"`}`;
  });
  return `:reading[${value.text}]{${pairs.join(' ')}}`;
}

function picture({ url, alt, title }: Image, how: Rewriting): string {
  const text = how.words(alt ?? '').replaceAll(/[[\]\\]/g, '\\$&');
  return `![${text}](${resource({ url: how.address(url) ?? url, title: title ?? null }, how)})`;
}

function resource({ url, title }: Resource, { words }: Rewriting): string {
  const address = /[\s()<>]/.test(url) ? `<${url.replaceAll(/[<>\n]/g, encodeURIComponent)}>` : url;
  return title == null ? address : `${address} "${words(title).replaceAll(/["\\]/g, '\\$&')}"`;
}

/** The marks around the text of a link; the text itself is prose like any other. */
function link(node: Link, body: string, how: Rewriting): readonly Edit[] {
  const { start, end } = stretchOf(node);
  const [first, last] = [node.children[0], node.children.at(-1)];
  // An address that stands for itself is text.
  if (body[start] !== '[' || first === undefined || last === undefined) return [];
  const url = how.address(node.url);
  if (url === null) return unwrapped(node);
  const behind = stretchOf(last).end;
  return [{ start: behind, end, text: `](${resource({ url, title: node.title ?? null }, how)})` }];
}

function unwrapped(node: { readonly children: readonly object[] }): readonly Edit[] {
  const { start, end } = stretchOf(node);
  const [first, last] = [node.children[0], node.children.at(-1)];
  if (first === undefined || last === undefined) return [{ start, end, text: '' }];
  return [
    { start, end: stretchOf(first).start, text: '' },
    { start: stretchOf(last).end, end, text: '' },
  ];
}

interface Placed {
  readonly position?: {
    readonly start: { readonly offset: number };
    readonly end: { readonly offset: number };
  };
}

/** Every node of a tree that was parsed has a place; a tree put together by hand has none. */
function stretchOf(node: object): { readonly start: number; readonly end: number } {
  const { position } = node as Placed;
  return { start: position?.start.offset ?? 0, end: position?.end.offset ?? 0 };
}

/** The text with its edits made, and what lies between them changed; of two that meet, the one that begins first. */
function apply(
  body: string,
  edits: readonly Edit[],
  between: (text: string) => string = (text) => text,
): string {
  const inOrder = [...edits].sort((a, b) => a.start - b.start || b.end - a.end);
  let at = 0;
  let text = '';
  for (const edit of inOrder) {
    if (edit.start < at) continue;
    text += between(body.slice(at, edit.start)) + edit.text;
    at = edit.end;
  }
  return text + between(body.slice(at));
}
