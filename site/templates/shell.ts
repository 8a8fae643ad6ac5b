import { paths } from '../../src/render/links.js';
import type { Section, SiteFrame } from '../../src/render/site-context.js';
import { dayWords } from '../../src/render/words.js';

/**
 * What stands around the contents of every page, as plain text: it is the same on thousands of pages, and a
 * text is put together faster than a tree.
 */

/** Nothing inline, nothing from elsewhere. */
export const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self'",
  "font-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
].join('; ');

const NAVIGATION: readonly (readonly [Section, string, string])[] = [
  ['now', 'Now', paths.now],
  ['findings', 'Findings', paths.findings],
  ['log', 'Log', paths.log],
  ['systems', 'Systems', paths.systems],
  ['specs', 'Specs', paths.specs],
  ['readings', 'Readings', paths.readings],
  ['tests', 'Tests', paths.tests],
  ['parts', 'Parts', paths.parts],
  ['decisions', 'Decisions', paths.decisions],
  ['work', 'Work', paths.work],
  ['upkeep', 'Upkeep', paths.upkeep],
  ['power', 'Power', paths.power],
  ['weights', 'Weights', paths.weights],
  ['hours', 'Hours', paths.hours],
  ['write', 'Write', paths.write],
];

/** What the shell has to know of a page. */
export interface ShellPage {
  readonly path: string;
  readonly title: string;
  readonly section: Section;
  /** What leads to the site's folder: empty, `../`, or for the page that is shown anywhere an absolute path. */
  readonly root: string;
  /** Scripts of the page beside those of all pages, from the site's folder. */
  readonly scripts: readonly string[];
  /** Whether its script may fetch other files of the site; from nowhere else in any case. */
  readonly fetches?: boolean;
}

/** Makes a text safe inside HTML, between tags and in quoted attributes. */
export function escapeHtml(text: string): string {
  return text.replace(/[&<>"']/g, (letter) => `&#${letter.charCodeAt(0)};`);
}

/** Puts the contents of a page into the whole of it. */
export function shell(frame: SiteFrame, page: ShellPage, contents: string): string {
  const title = page.title === frame.subject ? frame.subject : `${page.title} – ${frame.subject}`;
  return `<!doctype html>
<html lang="${escapeHtml(frame.language)}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${POLICY}${page.fetches === true ? "; connect-src 'self'" : ''}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<meta name="referrer" content="no-referrer">
<meta name="description" content="${escapeHtml(`${page.title}, from the record of the work on ${frame.subject}`)}">
<title>${escapeHtml(title)}</title>
<link rel="stylesheet" href="${page.root}assets/site.css">
<link rel="icon" href="${page.root}assets/mark.svg" type="image/svg+xml">
${alternate(frame, page)}${page.scripts.map((script) => `<script src="${page.root}${script}" defer></script>\n`).join('')}</head>
<body>
<a class="skip" href="#contents">Skip to the contents</a>
${header(frame, page)}
<main id="contents" tabindex="-1">
${page.path === paths.now ? copyNote(frame) : ''}${contents}
</main>
${footer(frame, page)}
</body>
</html>
`;
}

/** For whom a copy is and what it lacks, on its first page; every page says it at its foot. */
function copyNote({ copy }: SiteFrame): string {
  return copy === null
    ? ''
    : `<p class="copy-note"><strong>${escapeHtml(copy.for)}</strong> ${escapeHtml(copy.lacks)}</p>\n`;
}

/** The feed, and on the first page the linked data, for programs that look for them. */
function alternate(frame: SiteFrame, page: ShellPage): string {
  if (frame.without.includes('downloads')) return '';
  const title = escapeHtml(`${frame.subject}: log`);
  const feed = `<link rel="alternate" type="application/atom+xml" href="${page.root}${paths.open('diary.atom')}" title="${title}">\n`;
  const data = `<link rel="alternate" type="application/ld+json" href="${page.root}${paths.open('book.jsonld')}">\n`;
  return page.path === paths.now ? feed + data : feed;
}

function header(frame: SiteFrame, page: ShellPage): string {
  const description = frame.description === null ? '' : `<span>${escapeHtml(frame.description)}</span>`;
  const items = NAVIGATION.filter(([section]) => !frame.without.includes(section));
  return `<header class="head">
<div class="head-line"><a class="subject" href="${page.root}${paths.now}">${escapeHtml(frame.subject)}</a>${description}
<p class="as-of">As of <time datetime="${frame.asOf}">${dayWords(frame.asOf)}</time></p></div>
${items.length === 0 ? '' : `<nav aria-label="Main"><ul>${items.map((item) => navigationItem(item, page)).join('')}</ul></nav>\n`}</header>`;
}

function navigationItem([section, text, path]: (typeof NAVIGATION)[number], page: ShellPage): string {
  const here =
    page.path === path ? ' aria-current="page"' : page.section === section ? ' aria-current="true"' : '';
  return `<li><a href="${page.root}${path}"${here}>${text}</a></li>`;
}

function footer(frame: SiteFrame, page: ShellPage): string {
  return `<footer class="foot">
${frame.without.includes('about') ? '' : `<p><a href="${page.root}${paths.about}">About this record</a> <a href="${page.root}${paths.downloads}">Downloads</a> <a href="${page.root}${paths.reference}">Format reference</a> <a href="${page.root}${paths.pack}">The record for paper</a>${frame.without.includes('seal') ? '' : ` <a href="${page.root}${paths.seal}">Check this copy</a>`}</p>\n`}${frame.copy === null ? '' : `<p>${escapeHtml(frame.copy.for)} ${escapeHtml(frame.copy.lacks)}</p>\n`}<p>Computed from the files of the book as they stood on ${dayWords(frame.asOf)}. Nothing here is an approval:
local codes and licensed people come first. Made with Ribband.</p>
</footer>`;
}
