import type { Remarks } from './checks.js';
import type { WriteData } from './data.js';
import type { Form } from './form.js';

/** What all parts of the form are given, and what they do with their rows. */

export interface SectionProps {
  readonly form: Form;
  readonly data: WriteData;
  readonly remarks: Remarks;
  /** Changes some fields; by a function where the form may have changed meanwhile. */
  readonly change: (fields: Partial<Form> | ((before: Form) => Partial<Form>)) => void;
  /** Takes a row out; it can be put back until another one is taken out. */
  readonly takeOut: (taking: Taking) => void;
}

/** A row that is taken out: its title, and the form without it and with it again. */
export interface Taking {
  readonly title: string;
  readonly out: (form: Form) => Partial<Form>;
  readonly back: (form: Form) => Partial<Form>;
}

/** The same list with one row changed. */
export function changed<T extends { readonly id: number }>(
  rows: readonly T[],
  id: number,
  fields: Partial<T>,
): readonly T[] {
  return rows.map((row) => (row.id === id ? { ...row, ...fields } : row));
}

export function without<T extends { readonly id: number }>(rows: readonly T[], id: number): readonly T[] {
  return rows.filter((row) => row.id !== id);
}

/** The same list with a row that was in it again in its place. */
export function withAgain<T extends { readonly id: number }>(
  rows: readonly T[],
  row: T,
  before: readonly T[],
): readonly T[] {
  if (rows.some(({ id }) => id === row.id)) return rows;
  const at = before.findIndex(({ id }) => id === row.id);
  return [...rows.slice(0, at), row, ...rows.slice(at)];
}
