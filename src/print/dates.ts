/**
 * The same PDF with the day of the record in place of the moment at which it was printed, so that the same book
 * printed twice by one browser gives the same file. The texts are as long as before: nothing in the file moves.
 *
 * @param day `YYYY-MM-DD`.
 */
export function withDay(pdf: Uint8Array, day: string): Uint8Array {
  const stamp = `${day.replaceAll('-', '')}000000+00'00'`;
  const text = Buffer.from(pdf).toString('latin1');
  const dated = text.replace(
    /(\/(?:CreationDate|ModDate) \(D:)(\d{14}[+-]\d{2}'\d{2}')(\))/g,
    (_, open: string, __: string, close: string) => `${open}${stamp}${close}`,
  );
  return Buffer.from(dated, 'latin1');
}
