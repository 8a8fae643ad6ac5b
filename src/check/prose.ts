import type { Image, Root } from 'mdast';
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
  const problems: PlacedProblem[] = [];
  visit(tree, 'image', (image) => {
    const offset = start + (image.position?.start.offset ?? 0);
    const length = (image.position?.end.offset ?? 0) - (image.position?.start.offset ?? 0);
    for (const said of checkImage(image, there))
      problems.push({ ...said, file: file.source.path, offset, length });
  });
  return problems;
}

function checkImage(image: Image, there: ReadonlySet<string>): readonly Said[] {
  if (/^[a-z][a-z0-9+.-]*:|^\/\//i.test(image.url)) return [m.photoRemote(image.url)];
  const path = checkPhotoPath(photoFromProse(image.url), there);
  return [
    ...(path === null ? [] : [path]),
    ...((image.alt ?? '').trim() === '' ? [m.photoAltMissing(image.url)] : []),
  ];
}
