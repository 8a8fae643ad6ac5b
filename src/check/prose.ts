import type { Definition, Image, ImageReference, Root } from 'mdast';
import remarkParse from 'remark-parse';
import { unified } from 'unified';
import { visit } from 'unist-util-visit';
import type { Attachment } from '../read/folder.js';
import * as m from './messages.js';
import type { ParsedFile } from './parse.js';
import type { PlacedProblem, Said } from './problem.js';
import { checkPhotoPath, photoFromProse } from './rules/photos.js';

const parser = unified().use(remarkParse);

/** Pictures in the prose of an entry or a system: inside the book, there, and with words that say what they show. */
export function checkProse(file: ParsedFile, attachments: readonly Attachment[]): readonly PlacedProblem[] {
  const there = new Set(attachments.map((attachment) => attachment.path));
  const start = file.source.text.length - file.body.length;
  const tree: Root = parser.parse(file.body);
  return imagesOf(tree).flatMap(({ url, alt, node }) => {
    const offset = start + (node.position?.start.offset ?? 0);
    const length = (node.position?.end.offset ?? 0) - (node.position?.start.offset ?? 0);
    return checkImage(url, alt, there).map((said) => ({ ...said, file: file.source.path, offset, length }));
  });
}

interface Shown {
  readonly url: string;
  readonly alt: string;
  readonly node: Image | ImageReference;
}

/** Pictures with their address beside them (`![…](…)`), and those with it elsewhere (`![…][name]`). */
function imagesOf(tree: Root): readonly Shown[] {
  const addresses = new Map<string, string>();
  visit(tree, 'definition', ({ identifier, url }: Definition) => {
    if (!addresses.has(identifier)) addresses.set(identifier, url);
  });
  const shown: Shown[] = [];
  visit(tree, (node) => {
    if (node.type === 'image') shown.push({ url: node.url, alt: node.alt ?? '', node });
    else if (node.type === 'imageReference')
      shown.push({ url: addresses.get(node.identifier) ?? '', alt: node.alt ?? '', node });
  });
  return shown;
}

function checkImage(url: string, alt: string, there: ReadonlySet<string>): readonly Said[] {
  if (/^[a-z][a-z0-9+.-]*:|^\/\//i.test(url)) return [m.photoRemote(url)];
  const path = checkPhotoPath(photoFromProse(url), there);
  return [...(path === null ? [] : [path]), ...(alt.trim() === '' ? [m.photoAltMissing(url)] : [])];
}
