/** Amounts of money: `1480.00 EUR`. */
import { matchAt, scanNumber, skipBlanks } from './number.js';
import { type Failure, fail, quoted, type Span } from './problem.js';

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

/** ISO 4217 codes of currencies in use (list of 2024), from memory; funds and metals left out. */
const CURRENCIES: ReadonlySet<string> = new Set(
  (
    'AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BGN BHD BIF BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF ' +
    'CLP CNY COP CRC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GNF GTQ GYD HKD HNL ' +
    'HTG HUF IDR ILS INR IQD IRR ISK JMD JOD JPY KES KGS KHR KMF KPW KRW KWD KYD KZT LAK LBP LKR LRD LSL LYD MAD ' +
    'MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD OMR PAB PEN PGK PHP PKR PLN PYG ' +
    'QAR RON RSD RUB RWF SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TND TOP TRY TTD ' +
    'TWD TZS UAH UGX USD UYU UZS VED VES VND VUV WST XAF XCD XOF XPF YER ZAR ZMW ZWG'
  ).split(' '),
);
const NO_DECIMALS: ReadonlySet<string> = new Set(
  'BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX VND VUV XAF XOF XPF'.split(' '),
);
const THREE_DECIMALS: ReadonlySet<string> = new Set('BHD IQD JOD KWD LYD OMR TND'.split(' '));

const MAX_LENGTH = 60;
const SIGN = /[-−–+]\s?/y;

/** How many decimals a currency has. */
export function currencyDecimals(currency: string): number {
  if (NO_DECIMALS.has(currency)) return 0;
  return THREE_DECIMALS.has(currency) ? 3 : 2;
}

/** Whether a text is the ISO 4217 code of a currency in use. */
export function isCurrency(text: string): boolean {
  return CURRENCIES.has(text);
}

/** Reads an amount of money: a number, then an ISO 4217 code. Money that comes back is negative. */
export function parseMoney(text: string): MoneyResult {
  const whole = { offset: 0, length: text.length };
  if (text.length > MAX_LENGTH) return fail('too-long', whole, 'This is too long for an amount of money.');
  const start = skipBlanks(text, 0);
  if (start === text.length) return fail('empty', whole, 'An amount of money is missing.');
  const before = /^(?:[\p{Sc}]|[A-Z]{3}(?=\s*[-−\d]))/u.exec(text.slice(start));
  if (before) return currencyFirst(text, start, before[0]);
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

function currencyFirst(text: string, start: number, before: string): Failure {
  const amount = text.slice(start + before.length).trim();
  const code = isCurrency(before) ? before : 'EUR';
  return fail(
    'bad-money',
    { offset: start, length: before.length },
    'The currency goes after the amount, as a code.',
    {
      hint: `Write it as \`${amount} ${code}\`.`,
      choices: isCurrency(before) ? [`${amount} ${before}`] : [],
    },
  );
}

function checkCurrency(currency: string, span: Span): Failure | undefined {
  if (isCurrency(currency)) return undefined;
  if (currency === '') {
    const hint = 'Write its code after the amount, such as `1480.00 EUR`.';
    return fail('bad-money', span, 'The amount has no currency.', { hint });
  }
  const upper = currency.toUpperCase();
  return fail('bad-money', span, `${quoted(currency)} is not the code of a currency in use.`, {
    hint: 'Currencies are written by their ISO 4217 code in capitals, such as EUR, GBP or USD.',
    choices: isCurrency(upper) ? [upper] : [],
  });
}
