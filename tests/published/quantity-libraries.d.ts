/** What the tests use of two libraries that come without types. */

declare module 'js-quantities' {
  interface Quantity {
    readonly scalar: number;
    toBase(): Quantity;
  }
  export default function Qty(text: string): Quantity;
}

declare module '@lhncbc/ucum-lhc' {
  interface Conversion {
    readonly status: 'succeeded' | 'failed' | 'error';
    readonly toVal: number | null;
  }
  interface Utils {
    convertUnitTo(from: string, value: number, to: string): Conversion;
    validateUnitString(code: string): { readonly status: 'valid' | 'invalid' | 'error' };
  }
  const ucum: { readonly UcumLhcUtils: { getInstance(): Utils } };
  export default ucum;
}
