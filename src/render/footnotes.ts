/** Prefix of the ids that footnotes bring, so that none can meet an id of the page around. */
export const FOOTNOTE_PREFIX = 'prose-';

/** The HTML of a text that comes together with others in one document: its footnotes keep to themselves. */
export function withOwnFootnotes(html: string, at: string): string {
  return html.replaceAll(OF_FOOTNOTES, `$1${at}-$2`);
}

const OF_FOOTNOTES = new RegExp(`( (?:id|href|aria-describedby)="#?)(${FOOTNOTE_PREFIX})`, 'g');
