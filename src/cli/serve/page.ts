import { escapeHtml } from '../../../site/templates/shell.js';
import type { Diagnostic } from '../../check/diagnostic.js';
import { countWords } from '../../check/report/text.js';
import { SCRIPT_PATH, STYLE_PATH } from './live-assets.js';

/** What the server puts into the pages it shows: the script that loads them again, and the book's problems. */

/** What the server knows while it shows a page. */
export interface Moment {
  readonly diagnostics: readonly Diagnostic[];
  /** Stands for the state that the page shows; the page loads again when the server is at another. */
  readonly state: string;
  /** Whether there has been a good state of the book, whose pages can be shown. */
  readonly hasPages: boolean;
}

/**
 * A page of the site as shown while somebody writes.
 *
 * @param takesAt for the writing page, where it may send an entry to. That page does not load again by itself:
 *   somebody is typing in it.
 */
export function livePage(html: string, moment: Moment, takesAt: string | null = null): string {
  const style = `<link rel="stylesheet" href="/${STYLE_PATH}">\n`;
  const meta = takesAt === null ? '' : `<meta name="ribband-takes-entries" content="/${takesAt}">\n`;
  const script =
    takesAt !== null
      ? ''
      : `<script src="/${SCRIPT_PATH}" data-state="${escapeHtml(moment.state)}"></script>\n`;
  const listening = html.replace(POLICY, (whole, start: string, policy: string) =>
    policy.includes('connect-src') ? whole : `${start}${policy}; connect-src 'self'"`,
  );
  const styled = insert(listening, listening.indexOf('</head>'), style + meta);
  const body = /<body[^>]*>/.exec(styled);
  const told = body === null ? styled : insert(styled, body.index + body[0].length, panel(moment));
  return insert(told, told.lastIndexOf('</body>'), script);
}

const POLICY = /(<meta http-equiv="Content-Security-Policy" content=")([^"]*)"/;

function insert(text: string, at: number, what: string): string {
  return at < 0 ? text : text.slice(0, at) + what + text.slice(at);
}

/** A page for when there is none of the site to show: what is wrong, plainly. */
export function plainPage(title: string, text: string): string {
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'self'; style-src 'self'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${escapeHtml(title)}</title>
</head>
<body class="ribband-plain">
<h1>${escapeHtml(title)}</h1>
<p>${escapeHtml(text)}</p>
</body>
</html>
`;
}

function panel({ diagnostics, hasPages }: Moment): string {
  if (diagnostics.length === 0) return '';
  const errors = diagnostics.some((diagnostic) => diagnostic.severity === 'error');
  const rest = errors && hasPages ? ' The pages are those of the last time all was well.' : '';
  return `
<aside class="ribband-live${errors ? '' : ' warnings'}" aria-label="Problems in the book">
<details${errors ? ' open' : ''}><summary>${escapeHtml(countWords(diagnostics))} in the book.${rest}</summary>
<ol>
${diagnostics.map(problem).join('\n')}
</ol>
</details>
</aside>`;
}

function problem({ file, span, code, severity, message, hint, excerpt, fix }: Diagnostic): string {
  const shown = excerpt.trim() === '' ? '' : `<pre>${marked(excerpt, span)}</pre>`;
  const hinted = hint === null ? '' : `<p>Hint: ${prose(hint)}</p>`;
  const mended = fix === null ? '' : `<p>${prose(`\`ribband check --fix\`: ${fix.title}.`)}</p>`;
  return `<li><p class="where">${escapeHtml(`${file}:${span.line}:${span.column}`)} <code>${severity} ${escapeHtml(code)}</code></p>
<p>${prose(message)}</p>${shown}${hinted}${mended}</li>`;
}

/** A sentence with the names in it set apart. */
function prose(text: string): string {
  return escapeHtml(text).replace(/`([^`]+)`/g, '<code>$1</code>');
}

/** The line with the stretch marked; of a very long one the part around it. */
function marked(excerpt: string, span: Diagnostic['span']): string {
  const start = span.column - 1;
  const end = span.endLine === span.line ? span.endColumn - 1 : excerpt.length;
  const from = start > 100 ? start - 60 : 0;
  const to = Math.min(excerpt.length, Math.max(end, from + 160), from + 400);
  const piece = (a: number, b: number) => escapeHtml(excerpt.slice(a, Math.min(b, to)));
  return `${from > 0 ? '… ' : ''}${piece(from, start)}<mark>${piece(start, end)}</mark>${piece(end, to)}${to < excerpt.length ? ' …' : ''}`;
}
