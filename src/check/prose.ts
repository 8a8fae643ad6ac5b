import type { Definition, Image, ImageReference, Link, LinkReference, Root } from 'mdast';
import remarkParse from 'remark-parse';
import { unified } from 'unified';
import { visit } from 'unist-util-visit';
import type { Attachment } from '../read/folder.js';
import * as m from './messages.js';
import { nearest } from './nearest.js';
import type { ParsedFile } from './parse.js';
import type { PlacedProblem, Said } from './problem.js';
import { leadsOut, pageNamedBy } from './prose-links.js';
import { checkPhotoPath, type Pictures, photoFromProse, picturesIn } from './rules/photos.js';

const parser = unified().use(remarkParse);

/** What the prose of a book may name. */
export interface ProseNames {
  readonly attachments: readonly Attachment[];
  /** Names of entries and systems: their files' names without `.md`. */
  readonly pages: ReadonlySet<string>;
}

/**
 * Pictures in the prose of an entry or a system (inside the book, there, and with words that say what they show), and
 * links, which have to lead to an entry, a system, or out of the book.
 */
export function checkProse(file: ParsedFile, { attachments, pages }: ProseNames): readonly PlacedProblem[] {
  const there = picturesIn(attachments);
  const start = file.source.text.length - file.body.length;
  const tree: Root = parser.parse(file.body);
  const addresses = addressesIn(tree);
  const at = (node: Shown['node'] | Led['node'], said: Said): PlacedProblem => {
    const offset = start + (node.position?.start.offset ?? 0);
    const length = (node.position?.end.offset ?? 0) - (node.position?.start.offset ?? 0);
    return { ...said, file: file.source.path, offset, length };
  };
  return [
    ...imagesOf(tree, addresses).flatMap(({ url, alt, node }) =>
      checkImage(url, alt, there).map((said) => at(node, said)),
    ),
    ...linksOf(tree, addresses).flatMap(({ url, node }) =>
      checkLink(url, pages).map((said) => at(node, said)),
    ),
  ];
}

interface Shown {
  readonly url: string;
  readonly alt: string;
  readonly node: Image | ImageReference;
}

interface Led {
  readonly url: string;
  readonly node: Link | LinkReference;
}

/** Addresses that stand by themselves (`[name]: address`), the first of each name. */
function addressesIn(tree: Root): ReadonlyMap<string, string> {
  const addresses = new Map<string, string>();
  visit(tree, 'definition', ({ identifier, url }: Definition) => {
    if (!addresses.has(identifier)) addresses.set(identifier, url);
  });
  return addresses;
}

/** Pictures with their address beside them (`![…](…)`), and those with it elsewhere (`![…][name]`). */
function imagesOf(tree: Root, addresses: ReadonlyMap<string, string>): readonly Shown[] {
  const shown: Shown[] = [];
  visit(tree, (node) => {
    if (node.type === 'image') shown.push({ url: node.url, alt: node.alt ?? '', node });
    else if (node.type === 'imageReference')
      shown.push({ url: addresses.get(node.identifier) ?? '', alt: node.alt ?? '', node });
  });
  return shown;
}

/** Links, likewise. */
function linksOf(tree: Root, addresses: ReadonlyMap<string, string>): readonly Led[] {
  const led: Led[] = [];
  visit(tree, (node) => {
    if (node.type === 'link') led.push({ url: node.url, node });
    // A footnote of one word looks like one.
    else if (node.type === 'linkReference' && !node.identifier.startsWith('^'))
      led.push({ url: addresses.get(node.identifier) ?? '', node });
  });
  return led;
}

function checkImage(url: string, alt: string, there: Pictures): readonly Said[] {
  if (/^[a-z][a-z0-9+.-]*:|^\/\//i.test(url)) return [m.photoRemote(url)];
  const path = checkPhotoPath(photoFromProse(url), there);
  return [...(path === null ? [] : [path]), ...(alt.trim() === '' ? [m.photoAltMissing(url)] : [])];
}

function checkLink(url: string, pages: ReadonlySet<string>): readonly Said[] {
  if (leadsOut(url)) return [];
  const name = pageNamedBy(url);
  if (name !== null && pages.has(name)) return [];
  return [m.linkNowhere(url, name === null ? null : nearest(name, pages))];
}
