import { isCurrency } from '../quantity/index.js';
import { BETWEEN, EDGE, lettersOf, replaceRead, WITHIN } from './as-read.js';

/** Words that a text must not have: found as whole words, in any case, however they are joined and however written. */

/** A word, or several, and what is written instead. */
export interface Secret {
  readonly text: string;
  readonly says: string;
}

/** Takes secrets out of a text. */
export type Scrub = (text: string) => string;

/**
 * Makes what takes these secrets out of texts. Longer ones come first, so that a whole name is not taken for one of its
 * words.
 */
export function scrubOf(secrets: readonly Secret[]): Scrub {
  const says = new Map<string, string>();
  for (const { text, says: word } of secrets) {
    const letters = lettersOf(text);
    if (letters !== '' && !says.has(letters)) says.set(letters, word);
  }
  if (says.size === 0) return (text) => text;
  const forms = secrets
    .map(({ text }) => wordsOf(text))
    .filter((words) => words.length > 0)
    .sort((a, b) => b.join('').length - a.join('').length)
    .map((words) => words.map(spaced).join(BETWEEN));
  const found = new RegExp(
    `${EDGE.before}(?<article>(?:the|an?)\\s+)?(?<name>${oneOf(forms)})${EDGE.after}`,
    'giu',
  );
  const twice = new RegExp(`(${[...new Set(says.values())].map(escaped).join('|')})(?:\\s+\\1)+`, 'giu');
  return (text) =>
    replaceRead(text, found, ({ match, read, at }) => {
      const { article = '', name = '' } = match.groups ?? {};
      const word = says.get(lettersOf(name)) ?? 'something';
      // "the seller's list" becomes "someone's list", and not "the someone's list".
      const said = /^(?:an?|the|someone)\b/i.test(word) ? word : article + word;
      return beginsSentence(read, at) ? said.charAt(0).toUpperCase() + said.slice(1) : said;
    })
      // Two words of one name, or two names in a row, are told as one.
      .replace(twice, '$1');
}

/**
 * A pattern of any of these, the first one that fits. Those with a first letter in common stand together, so that at
 * most places of a text a look at one letter tells that none of hundreds of names begins there.
 */
function oneOf(forms: readonly string[]): string {
  const groups = new Map<string, Set<string>>();
  for (const form of forms) {
    const first = /^\\?./su.exec(form)?.[0] ?? '';
    const key = first.toUpperCase().toLowerCase();
    const group = groups.get(key) ?? new Set();
    group.add(form);
    groups.set(key, group);
  }
  return [...groups.values()].map((group) => `(?:${[...group].join('|')})`).join('|');
}

/** A word whose letters may have something between them that leaves it to be read as one. */
function spaced(word: string): string {
  return [...word].map(escaped).join(WITHIN);
}

function wordsOf(text: string): readonly string[] {
  return text.normalize('NFKC').match(/[\p{L}\p{N}\p{M}]+/gu) ?? [];
}

function escaped(text: string): string {
  return text.replaceAll(/[\\^$.*+?()[\]{}|/]/g, '\\$&');
}

function beginsSentence(text: string, offset: number): boolean {
  return /(?:^|[.!?]\s+|\n\s*\n)$/.test(text.slice(Math.max(0, offset - 40), offset));
}

const AMOUNT = '\\d+(?:[.,\u00a0\u202f ]\\d{3}(?!\\d))*(?:[.,](?:\\d{1,3}|[-–])(?!\\d))?';
const CURRENCY = '\\p{Sc}|[A-Z]{3}(?![\\p{L}\\d])|[Ee]uros?(?!\\p{L})';
const GAP = '[\\s\\p{Default_Ignorable_Code_Point}]{0,3}';
/** The currency behind the amount, and before it: one after the other, since any three capitals may stand before. */
const MONEY = [
  new RegExp(`(?<![\\p{L}\\d])(?:[-−–+]\\s?)?${AMOUNT}${GAP}(?<currency>${CURRENCY})`, 'gu'),
  new RegExp(`(?<![\\p{L}\\d])(?<currency>\\p{Sc}|[A-Z]{3}(?!\\p{L}))${GAP}${AMOUNT}`, 'gu'),
];

/** Takes amounts of money out of a text: those with a sign or a code of a currency. */
export function withoutMoney(text: string): string {
  return MONEY.reduce(
    (said, money) =>
      replaceRead(said, money, ({ match }) => {
        const { currency = '' } = match.groups ?? {};
        return /^(?:\p{Sc}|euros?)$/iu.test(currency) || isCurrency(currency) ? 'an amount' : null;
      }),
    text,
  );
}

/** Words that some texts use in small letters, so that they are nobody's name. */
export function commonWords(texts: readonly string[]): ReadonlySet<string> {
  const found = new Set<string>();
  for (const text of texts)
    for (const [word] of text.normalize('NFC').matchAll(/(?<=^|[\s(“‘])\p{Ll}{3,}(?=[\s.,;:!?)’”]|$)/gmu))
      found.add(word);
  return found;
}

/** The words of a name that by themselves can only mean it: those that nobody writes in small letters. */
export function tellingWords(name: string, common: ReadonlySet<string>): readonly string[] {
  const words = wordsOf(name);
  if (words.length < 2) return [];
  return words.filter(
    (word) => /^\p{Lu}\p{L}{2,}$/u.test(word) && !common.has(word.toLowerCase()) && !ADDRESS.has(word),
  );
}

/** Forms of address, and the article of a name. */
const ADDRESS: ReadonlySet<string> = new Set([
  'The',
  'Mrs',
  'Miss',
  'Messrs',
  'Captain',
  'Doctor',
  'Ltd',
  'And',
]);

/** A serial number that is long enough not to be met by chance. */
export function isTelling(serial: string): boolean {
  return serial.trim().length >= 4 && /\d/.test(serial);
}

/** Takes names out of a text that stand there letter by letter, however written, and not as a piece of a longer one. */
export function exactly(names: readonly string[], says: string): Scrub {
  const forms = [...new Set(names.map((name) => name.normalize('NFKC')))]
    .sort((a, b) => b.length - a.length)
    .map(escaped);
  if (forms.length === 0) return (text) => text;
  const found = new RegExp(`(?<![\\p{L}\\p{N}-])(?:${oneOf(forms)})(?![\\p{L}\\p{N}-])`, 'gu');
  return (text) => replaceRead(text, found, () => says);
}
