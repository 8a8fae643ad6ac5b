import { h, type VNode } from 'preact';
import { renderToString } from 'preact-render-to-string';
import { shell } from '../../site/templates/shell.js';
import type { Page } from './page.js';
import type { Section, Site } from './site-context.js';

/** What a template is given: the view, and the HTML of the page's prose (empty where it has none). */
export interface TemplateProps<View> {
  readonly view: View;
  readonly html: string;
}

/** A template: a function from what is to be shown to the contents of a page. */
export type Template<View> = (props: TemplateProps<View>) => VNode;

/** What a page is made of. */
export interface PageParts<View> {
  readonly path: string;
  readonly title: string;
  readonly section: Section;
  readonly template: Template<View>;
  /** Everything that the page shows, as plain data: its key is made from this. */
  readonly view: View;
  /** Makes the HTML of the prose from what the view says of it. */
  readonly html?: () => string;
  readonly scripts?: readonly string[];
  /** Way to the site's folder, where the depth of the path does not give it. */
  readonly root?: string;
}

/** Makes a page: its key at once, its HTML when it is asked for. */
export function makePage<View>(site: Site, parts: PageParts<View>): Page {
  const { path, title, section, template, view, html, scripts = [] } = parts;
  const root = parts.root ?? (path.includes('/') ? '../' : '');
  return {
    path,
    key: site.keyOf(path, root, title, section, template.name, view),
    render: () => {
      const contents = renderToString(h(template, { view, html: html?.() ?? '' }));
      return shell(site.frame, { path, title, section, root, scripts }, contents);
    },
  };
}
