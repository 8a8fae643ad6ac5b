import type { Claim, Condition, Provenance, TestRun, Uncertainty } from '../../check/model.js';
import { printQuantity } from '../../quantity/index.js';
import { uncertaintyIn } from '../../reckon/export-values.js';
import type { Column } from '../table.js';

/** Cells that more than one table has. */

/** A value in its parts: number, unit, uncertainty, and a text where it is one. */
export function valueColumns<Row>(
  of: (row: Row) => { readonly value: Claim; readonly uncertainty: Uncertainty } | null,
): readonly Column<Row>[] {
  const quantity = (row: Row) => {
    const value = of(row)?.value;
    return value?.type === 'quantity' ? value.quantity : null;
  };
  return [
    {
      name: 'value',
      type: 'number',
      about: 'The number that was read, in the unit beside it.',
      of: (row) => quantity(row)?.value ?? null,
    },
    {
      name: 'unit',
      type: 'text',
      about: 'The unit of the value; `1` for a plain number.',
      of: (row) => quantity(row)?.unit ?? null,
    },
    {
      name: 'uncertainty',
      type: 'number',
      about: 'Half-width within which the value can be trusted, in its unit; empty where it is not known.',
      of: (row) => {
        const read = of(row);
        return read?.value.type === 'quantity' ? uncertaintyIn(read.value.quantity, read.uncertainty) : null;
      },
    },
    {
      name: 'printed',
      type: 'text',
      about: 'The value as it is printed, or the text that was read.',
      of: (row) => {
        const value = of(row)?.value;
        return value === undefined ? null : claimWords(value);
      },
    },
  ];
}

/** How something was taken: conditions, basis, instrument, person, photo, remark. */
export function takenColumns<Row>(
  of: (row: Row) => Provenance & Pick<TestRun, 'entry'> & { readonly basis: string },
): readonly Column<Row>[] {
  return [
    {
      name: 'conditions',
      type: 'text',
      about: 'Conditions under which it was taken, such as `ambient 19 °C`, set apart by semicolons.',
      of: (row) => conditionWords(of(row).under),
    },
    {
      name: 'basis',
      type: 'text',
      about: 'How it is known: marked, measured or witnessed.',
      of: (row) => of(row).basis,
    },
    { name: 'with', type: 'text', about: 'Instrument, by its short name.', of: (row) => of(row).with },
    { name: 'by', type: 'text', about: 'Person, by their short name.', of: (row) => of(row).by },
    { name: 'photo', type: 'text', about: 'Photo that shows it, by its path.', of: (row) => of(row).see },
    { name: 'note', type: 'text', about: 'A remark.', of: (row) => of(row).note },
    { name: 'entry', type: 'text', about: 'The entry that says so.', of: (row) => of(row).entry },
  ];
}

function claimWords(claim: Claim): string {
  return claim.type === 'text' ? claim.text : printQuantity(claim.quantity);
}

function conditionWords(under: readonly Condition[]): string | null {
  if (under.length === 0) return null;
  return under.map(({ name, value }) => `${name.replaceAll('-', ' ')} ${claimWords(value)}`).join('; ');
}
