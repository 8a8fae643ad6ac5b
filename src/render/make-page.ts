import { h, type VNode } from 'preact';
import { shell } from '../../site/templates/shell.js';
import { htmlOf } from './markup.js';
import { once } from './once.js';
import type { Page } from './page.js';
import type { ProseView } from './prose-context.js';
import type { Section, Site } from './site-context.js';

/** What a template is given: the view, and the HTML of the page's prose (empty where it has none). */
export interface TemplateProps<View> {
  readonly view: View;
  readonly html: string;
}

/** A template: a function from what is to be shown to the contents of a page. */
export type Template<View> = (props: TemplateProps<View>) => VNode;

/** What every page says of itself. */
interface PageFacts<View> {
  readonly path: string;
  readonly title: string;
  readonly section: Section;
  readonly template: Template<View>;
  /** Makes the HTML of the page's prose. */
  readonly html?: (view: View) => string;
  /** The same prose, not yet made, without the rest of the view. */
  readonly prose?: () => ProseView;
  readonly scripts?: readonly string[];
  /** Whether its script may fetch other files of the site. */
  readonly fetches?: boolean;
  /** Way to the site's folder, where the depth of the path does not give it. */
  readonly root?: string;
}

/** A page whose key is made from all that it shows. */
export interface PageParts<View> extends PageFacts<View> {
  /** Gathers everything that the page shows, as plain data; asked once, when somebody wants to know. */
  readonly view: () => View;
}

/** A page that is gathered only when it is rendered, since something shorter stands for what it shows. */
export interface LatePageParts<View> extends PageFacts<View> {
  readonly gather: () => View;
  /** Differs wherever what is gathered may differ. */
  readonly standsFor: () => readonly unknown[];
}

/** Makes a page: its key and its HTML when they are asked for. */
export function makePage<View>(site: Site, parts: PageParts<View>): Page {
  const gather = once(parts.view);
  return makeLatePage(site, { ...parts, gather, standsFor: () => [gather()] });
}

/** Makes a page whose key does not need what it shows. */
export function makeLatePage<View>(site: Site, parts: LatePageParts<View>): Page {
  const { path, title, section, template, scripts = [], fetches = false } = parts;
  const root = parts.root ?? (path.includes('/') ? '../' : '');
  const key = once(() => site.keyOf(path, root, title, section, template.name, ...parts.standsFor()));
  return {
    path,
    ...(parts.prose === undefined ? {} : { prose: parts.prose }),
    get key() {
      return key();
    },
    render: () => {
      const view = parts.gather();
      const contents = htmlOf(h(template, { view, html: parts.html?.(view) ?? '' }));
      return shell(site.frame, { path, title, section, root, scripts, fetches }, contents);
    },
  };
}
