import type { Element, ElementContent, Root } from 'hast';

/** A published picture, with its addresses relative to the page that shows it. */
export interface ShownPhoto {
  readonly src: string;
  readonly srcset: string;
  readonly width: number;
  readonly height: number;
}

/** A reading that the prose tells, as it is shown in its place. */
export interface ShownReading {
  /** What stands in the prose. */
  readonly written: string;
  readonly text: string;
  /** Address of its point, or null for a reading of no point. */
  readonly href: string | null;
  /** Name of the point. */
  readonly title: string;
}

/** What prose may refer to, seen from the page that it is put into. */
export interface BodyContext {
  /** Differs wherever one of the answers below may differ: part of the key of anything kept. */
  readonly key: string;
  /** Level of the highest heading in the prose: 2 or 3. */
  readonly headingLevel: number;
  /** Address for a link as written, or null where it leads nowhere that a page may link to. */
  readonly resolveLink: (href: string) => string | null;
  /** The published picture for an address as written, or null where there is none. */
  readonly resolvePhoto: (src: string) => ShownPhoto | null;
  /** The readings that the prose tells, in their order in it; empty where it can tell none. */
  readonly readings: readonly ShownReading[];
}

/** The `sizes` of a picture inside the measure of the prose. */
const PROSE_SIZES = '(min-width: 48rem) 42rem, 100vw';

type Parent = Root | Element;

/**
 * Fits a tree of prose into a page of the site, in place: headings go below those of the page without a gap,
 * links and pictures are resolved, wide tables can be scrolled, boxes of task lists become marks.
 */
export function fitToSite(tree: Root, context: BodyContext): void {
  visit(tree, { context, openHeadings: [] });
}

interface Walk {
  readonly context: BodyContext;
  /** Levels as written of the headings that the current place is under. */
  readonly openHeadings: number[];
}

function visit(parent: Parent, walk: Walk): void {
  for (let index = 0; index < parent.children.length; index++) {
    const node = parent.children[index];
    if (node?.type !== 'element') continue;
    const replacement = fitElement(node, walk);
    if (!Array.isArray(replacement)) continue;
    parent.children.splice(index, 1, ...replacement);
    index += replacement.length - 1;
  }
}

/** Changes an element in place and gives it back, or gives back what goes in its place. */
function fitElement(node: Element, walk: Walk): Element | ElementContent[] {
  switch (node.tagName) {
    case 'a':
      return fitLink(node, walk);
    case 'img':
      return [picture(node, walk.context)];
    case 'input':
      return [taskBox(node)];
    case 'p':
      return fitParagraph(node, walk);
    case 'table':
      visit(node, walk);
      return [scrollable(node)];
    case 'td':
    case 'th':
      alignByClass(node);
      break;
    case 'section':
      fitFootnotes(node, walk);
      return node;
    case 'ul':
    case 'li':
      delete node.properties['className'];
      break;
    default:
      if (/^h[1-6]$/.test(node.tagName)) fitHeading(node, walk);
  }
  visit(node, walk);
  return node;
}

/** Levels as written may begin anywhere and leave gaps; those of the page do neither. */
function fitHeading(node: Element, { context, openHeadings }: Walk): void {
  const written = Number(node.tagName[1]);
  while (openHeadings.length > 0 && (openHeadings.at(-1) as number) >= written) openHeadings.pop();
  openHeadings.push(written);
  node.tagName = `h${Math.min(6, context.headingLevel + openHeadings.length - 1)}`;
}

function fitFootnotes(node: Element, walk: Walk): void {
  node.properties = { className: ['footnotes'] };
  for (const child of node.children) {
    if (child.type !== 'element') continue;
    if (child.tagName === 'h2') {
      child.tagName = `h${walk.context.headingLevel}`;
      child.properties['className'] = ['quiet'];
    } else visit(child, walk);
  }
}

function fitLink(node: Element, walk: Walk): Element | ElementContent[] {
  if (node.properties['dataReading'] !== undefined) {
    const { href, title } = node.properties;
    node.properties = { className: ['reading'], href, title };
    return node;
  }
  visit(node, walk);
  // A link cannot stand in a link.
  for (const child of node.children) if (child.type === 'element' && child.tagName === 'a') asSpan(child);
  const { id, href, ariaDescribedBy, ariaLabel } = node.properties;
  const isFootnote = ariaDescribedBy !== undefined || node.properties['dataFootnoteBackref'] !== undefined;
  if (isFootnote) {
    node.properties = { id, href, ariaDescribedBy, ariaLabel };
    return node;
  }
  const target = typeof href === 'string' ? walk.context.resolveLink(href) : null;
  if (target === null) return node.children;
  node.properties['href'] = target;
  if (/^https?:/.test(target)) node.properties['rel'] = ['noreferrer'];
  return node;
}

function asSpan(link: Element): void {
  link.tagName = 'span';
  link.properties = { className: ['reading'] };
}

function picture(node: Element, context: BodyContext): Element {
  const { src, alt } = node.properties;
  const text = typeof alt === 'string' ? alt : '';
  const photo = typeof src === 'string' ? context.resolvePhoto(src) : null;
  if (photo === null) {
    const note = `[picture not shown${text === '' ? '' : `: ${text}`}]`;
    return element('span', { className: ['missing'] }, [{ type: 'text', value: note }]);
  }
  const { width, height } = photo;
  const shown = { src: photo.src, srcSet: photo.srcset, sizes: PROSE_SIZES, width, height, alt: text };
  return element('img', { ...shown, loading: 'lazy', decoding: 'async' }, []);
}

/** A paragraph that is nothing but a picture becomes a figure; the picture's title is its caption. */
function fitParagraph(node: Element, walk: Walk): Element | ElementContent[] {
  const only = node.children.length === 1 ? node.children[0] : undefined;
  const title = only?.type === 'element' && only.tagName === 'img' ? only.properties['title'] : undefined;
  visit(node, walk);
  const shown = node.children[0];
  if (only === undefined || shown?.type !== 'element' || shown.tagName !== 'img') return node;
  node.tagName = 'figure';
  if (typeof title === 'string') {
    node.children.push(element('figcaption', {}, [{ type: 'text', value: title }]));
  }
  return node;
}

function taskBox(node: Element): Element {
  const done = node.properties['checked'] === true;
  const properties = { className: ['box'], role: 'img', ariaLabel: done ? 'done' : 'not done' };
  return element('span', properties, [{ type: 'text', value: done ? '☑' : '☐' }]);
}

function scrollable(table: Element): Element {
  return element('div', { className: ['scroll'], role: 'region', tabIndex: 0, ariaLabel: 'Table' }, [table]);
}

function alignByClass(node: Element): void {
  const align = node.properties['align'];
  node.properties =
    align === 'right' || align === 'center' ? { className: [align === 'right' ? 'end' : 'center'] } : {};
}

function element(tagName: string, properties: Element['properties'], children: ElementContent[]): Element {
  return { type: 'element', tagName, properties, children };
}
