/** Currencies by their ISO 4217 codes, and the signs that people write for them. */

/** ISO 4217 codes of currencies in use, by the list of 2024 as remembered; funds and metals left out. */
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

/** How many decimals a currency has. */
export function currencyDecimals(currency: string): number {
  if (NO_DECIMALS.has(currency)) return 0;
  return THREE_DECIMALS.has(currency) ? 3 : 2;
}

/** Whether a text is the ISO 4217 code of a currency in use. */
export function isCurrency(text: string): boolean {
  return CURRENCIES.has(text);
}

/** Signs of currencies with the codes that they may stand for, likeliest first. */
const SIGNS: ReadonlyMap<string, readonly string[]> = new Map([
  ['€', ['EUR']],
  ['£', ['GBP']],
  ['$', ['USD', 'CAD', 'AUD', 'NZD']],
  ['US$', ['USD']],
  ['C$', ['CAD']],
  ['CA$', ['CAD']],
  ['A$', ['AUD']],
  ['AU$', ['AUD']],
  ['NZ$', ['NZD']],
  ['¥', ['JPY', 'CNY']],
  ['₹', ['INR']],
  ['₺', ['TRY']],
  ['₩', ['KRW']],
  ['₪', ['ILS']],
  ['₴', ['UAH']],
  ['₱', ['PHP']],
  ['kr', ['DKK', 'NOK', 'SEK', 'ISK']],
  ['zł', ['PLN']],
  ['Kč', ['CZK']],
  ['euro', ['EUR']],
  ['euros', ['EUR']],
  ['pounds', ['GBP']],
  ['dollars', ['USD', 'CAD', 'AUD', 'NZD']],
]);

/** The codes that a currency as written may stand for; none where it is not known. */
export function currenciesMeant(written: string): readonly string[] {
  if (isCurrency(written)) return [written];
  const upper = written.toUpperCase();
  return isCurrency(upper)
    ? [upper]
    : (SIGNS.get(written) ?? SIGNS.get(written.toLowerCase().replace(/\.$/, '')) ?? []);
}
