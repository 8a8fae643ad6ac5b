/** What somebody most likely means by an amount of money in another form than the one that is due. */
import { currenciesMeant, currencyDecimals } from './currencies.js';

/** A sign, a currency, an amount with marks, a currency; bookkeepers write `180,-` for no cents. */
const LOOSE =
  /^([-−–]?)\s*([^\d\s.,+−–-]{0,8}?)\s*([-−–]?)\s*(\d[\d.,'’\u00a0\u2009\u202f ]*?)([.,]\s?[-−–—]{1,2})?\s*([^\d\s.,][^\d\s,]{0,7})?\s*$/u;

/**
 * The amounts that a text may mean, in the form that is due; none where it cannot be told. More than one where
 * a mark may part thousands or cents, or a sign is that of several currencies.
 *
 * @example moneyMeant('1.180,50 €') // ['1180.50 EUR']
 * @example moneyMeant('1.180 EUR') // ['1180 EUR', '1.18 EUR']
 */
export function moneyMeant(text: string): readonly string[] {
  const match = LOOSE.exec(text.trim());
  if (match === null) return [];
  const [, outer = '', before = '', inner = '', digits = '', noCents, after = ''] = match;
  const sign = outer !== '' || inner !== '' ? '-' : '';
  const codes = currenciesMeant(before === '' ? after : before);
  if (before !== '' && after !== '') return [];
  return codes.flatMap((code) =>
    amountsMeant(digits.trim(), noCents === undefined ? currencyDecimals(code) : 0).map(
      (amount) => `${sign}${amount} ${code}`,
    ),
  );
}

/** The numbers that digits with marks may mean, for a currency with so many decimals. */
function amountsMeant(written: string, decimals: number): readonly string[] {
  const digits = written.replaceAll(/(?<=\d)[\s'’](?=\d{3}(?!\d))/g, '');
  const groups = digits.split(/[.,]/);
  if (groups.some((group) => !/^\d+$/.test(group))) return [];
  const marks = digits.replaceAll(/\d/g, '');
  const last = groups.at(-1) ?? '';
  const isGrouped = (some: readonly string[]) =>
    (some[0] ?? '').length <= 3 && some.slice(1).every((group) => group.length === 3);
  const whole = groups.join('');
  const withCents = `${groups.slice(0, -1).join('')}.${last}`;
  if (marks === '') return [whole];
  if (/^(.)\1+$/.test(marks)) return isGrouped(groups) ? [whole] : [];
  if (marks.length > 1) {
    const isPlain = /^(.)\1*.$/.test(marks) && isGrouped(groups.slice(0, -1)) && last.length <= decimals;
    return isPlain ? [withCents] : [];
  }
  const asCents = last.length <= decimals ? withCents : trimmedTo(withCents, decimals);
  const asThousands = isGrouped(groups) && !digits.startsWith('0') ? whole : null;
  return [asThousands, asCents].filter((amount) => amount !== null);
}

/** A number with noughts taken from its end, until it has no more than so many decimals; null where it cannot. */
function trimmedTo(number: string, decimals: number): string | null {
  const shorter = number.replace(/0+$/, '');
  const cents = shorter.slice(shorter.indexOf('.') + 1);
  return cents.length > decimals ? null : shorter.replace(/\.$/, '');
}
