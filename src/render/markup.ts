import { type ComponentChildren, Fragment, type VNode } from 'preact';

/**
 * Templates made into HTML. They are written as Preact's, so that the browser can draw the same ones; on a page that
 * is only read nothing of Preact's is at work but the shape of its nodes, and without hooks, classes and contexts
 * the way from a node to its text is short. Most of a large site is tables, so the way's length is the site's time.
 */

/** Elements that have no contents and no end. */
const VOID = new Set([
  ...['area', 'base', 'br', 'col', 'embed', 'hr', 'img', 'input', 'link', 'meta', 'source', 'track', 'wbr'],
]);

/** Attributes that HTML writes otherwise than scripts do. */
const WRITTEN: Readonly<Record<string, string>> = {
  dateTime: 'datetime',
  srcSet: 'srcset',
  tabIndex: 'tabindex',
  colSpan: 'colspan',
  rowSpan: 'rowspan',
};

/** Attributes whose yes or no is said in words. */
const saysFalse = (name: string): boolean =>
  name.startsWith('aria-') || name.startsWith('data-') || name === 'spellcheck' || name === 'draggable';

type Component = (props: object) => ComponentChildren;

/**
 * The HTML of a node and all in it. Texts and attributes are escaped; only `dangerouslySetInnerHTML` is not.
 *
 * @param node of elements and plain functions: no hooks, no classes.
 */
export function htmlOf(node: ComponentChildren): string {
  if (typeof node === 'string') return escaped(node);
  if (node === null || node === undefined || typeof node === 'boolean') return '';
  if (typeof node === 'number') return String(node);
  if (Array.isArray(node)) {
    let html = '';
    for (const one of node) html += htmlOf(one as ComponentChildren);
    return html;
  }
  const { type, props } = node as VNode<Record<string, unknown>>;
  if (typeof type === 'string') return elementOf(type, props);
  if (type === Fragment) return htmlOf(props['children']);
  return htmlOf((type as Component)(props));
}

function elementOf(name: string, props: Readonly<Record<string, unknown>>): string {
  let html = `<${name}`;
  for (const key in props) {
    if (key === 'children' || key === 'dangerouslySetInnerHTML') continue;
    const value = props[key];
    if (value === null || value === undefined) continue;
    if (typeof value === 'boolean') {
      if (saysFalse(key)) html += ` ${key}="${value}"`;
      else if (value) html += ` ${WRITTEN[key] ?? key}`;
    } else if (value === '') html += ` ${WRITTEN[key] ?? key}`;
    else html += ` ${WRITTEN[key] ?? key}="${escaped(String(value))}"`;
  }
  if (VOID.has(name)) return `${html}/>`;
  const given = props['dangerouslySetInnerHTML'] as { readonly __html: string } | undefined;
  return `${html}>${given?.__html ?? htmlOf(props['children'] as ComponentChildren)}</${name}>`;
}

const TO_ESCAPE = /["&<]/;

/** A text with the signs that mean something in HTML written out; `>` and `'` mean nothing where it is put. */
function escaped(text: string): string {
  if (!TO_ESCAPE.test(text)) return text;
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');
}
