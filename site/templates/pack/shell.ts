import type { PackView } from '../../../src/render/pack/view.js';
import { dayWords } from '../../../src/render/words.js';
import { escapeHtml, POLICY } from '../shell.js';

/** The whole document of the pack: it has no navigation, since it is read as a book. */
export function packShell(view: PackView, language: string, contents: string): string {
  const title = `${view.subject}: record of condition and work, ${dayWords(view.asOf)}`;
  return `<!doctype html>
<html lang="${escapeHtml(language)}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${POLICY}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="referrer" content="no-referrer">
<meta name="description" content="${escapeHtml(`The record of ${view.subject} for somebody who has not kept it`)}">
<title>${escapeHtml(title)}</title>
<link rel="stylesheet" href="../assets/pack.css">
<link rel="stylesheet" href="heads.css">
<link rel="icon" href="../assets/mark.svg" type="image/svg+xml">
</head>
<body>
<main>
${contents}
</main>
</body>
</html>
`;
}
