/** Amounts of money: `1480.00 EUR`. */
import { currencyDecimals, isCurrency } from './currencies.js';
import { moneyMeant } from './money-meant.js';
import { matchAt, scanNumber, skipBlanks } from './number.js';
import { type Failure, fail, orList, quoted, type Span } from './problem.js';

/** An amount in a currency. Never added to one in another. */
export interface Money {
  readonly written: string;
  /** In the currency's main unit; at most as many decimals as it has. */
  readonly amount: number;
  /** ISO 4217 code. */
  readonly currency: string;
}

/** What became of a text. */
export type MoneyResult = { readonly ok: true; readonly money: Money } | Failure;

const MAX_LENGTH = 60;
const SIGN = /[-−–+]\s?/y;

/** Reads an amount of money: a number, then an ISO 4217 code. Money that comes back is negative. */
export function parseMoney(text: string): MoneyResult {
  const whole = { offset: 0, length: text.length };
  if (text.length > MAX_LENGTH) return fail('too-long', whole, 'This is too long for an amount of money.');
  const result = readMoney(text);
  if (result.ok) return result;
  const { problem } = result;
  const meant = moneyMeant(text);
  if (meant.length === 0) return result;
  const isSure = meant.length > 1 || !problem.message.startsWith('Money in');
  const ending = meant.length > 2 ? ', whichever it is' : isSure ? '' : ', if that is what is meant';
  return fail(problem.code, problem, aboutMarks(text, meant) ?? problem.message, {
    hint: `Write ${orList(meant.map((one) => `\`${one}\``))}${ending}.`,
    choices: meant,
  });
}

/** What to say where marks between digits are the matter; nothing for all else. */
function aboutMarks(text: string, meant: readonly string[]): string | undefined {
  const number = /\d[\d.,'’]*\d/.exec(text)?.[0] ?? '';
  const isOneCurrency = new Set(meant.map((one) => one.slice(-3))).size === 1;
  if (meant.length === 2 && isOneCurrency)
    return `\`${number}\` can be read with a mark between thousands and with one before the cents.`;
  if (/\d[.,]\s?[-−–—]/.test(text)) return 'A dash stands in the place of the cents.';
  const isGrouped =
    /^\d{1,3}(?:[.,'’]\d{3})+(?:[.,]\d{1,3}|)$/.test(number) && /[.,'’].*[.,'’]|['’]/.test(number);
  return isGrouped ? 'Between thousands no marks are written, and before the cents a full stop.' : undefined;
}

function readMoney(text: string): MoneyResult {
  const start = skipBlanks(text, 0);
  if (start === text.length)
    return fail('empty', { offset: 0, length: text.length }, 'An amount of money is missing.');
  const before = /^(?:[A-Z]{0,2}\p{Sc}|[A-Z]{3}(?=\s*[-−\d]))/u.exec(text.slice(start));
  if (before)
    return fail(
      'bad-money',
      { offset: start, length: before[0].length },
      'The currency goes after the amount, as a code.',
      { hint: 'Write it such as `1480.00 EUR`.' },
    );
  const sign = matchAt(SIGN, text, start);
  const number = scanNumber(text, start + (sign?.[0].length ?? 0));
  if (!number.ok) return number;
  const at = skipBlanks(text, number.end);
  const currency = text.slice(at).trim();
  const spot =
    currency === '' ? { offset: start, length: number.end - start } : { offset: at, length: currency.length };
  const wrong = checkCurrency(currency, spot);
  if (wrong) return wrong;
  if (number.form === 'fraction' || number.resolution < 10 ** -currencyDecimals(currency) * 0.999) {
    const message = `Money in ${currency} has at most ${currencyDecimals(currency)} decimals.`;
    return fail('bad-money', { offset: start, length: number.end - start }, message);
  }
  const amount =
    sign !== null && !sign[0].startsWith('+') && number.value !== 0 ? -number.value : number.value;
  return Object.freeze({ ok: true, money: Object.freeze({ written: text, amount, currency }) });
}

function checkCurrency(currency: string, span: Span): Failure | undefined {
  if (isCurrency(currency)) return undefined;
  if (currency === '') {
    const hint = 'Write its code after the amount, such as `1480.00 EUR`.';
    return fail('bad-money', span, 'The amount has no currency.', { hint });
  }
  return fail('bad-money', span, `${quoted(currency)} is not the code of a currency in use.`, {
    hint: 'Currencies are written by their ISO 4217 code in capitals, such as EUR, GBP or USD.',
  });
}
