/** What somebody looks for: words, and limits that all have to hold. Everything as it was typed; empty is no limit. */
export interface Query {
  readonly words: string;
  readonly sort: string;
  readonly system: string;
  readonly point: string;
  readonly quantity: string;
  readonly below: string;
  readonly above: string;
  readonly between: string;
  readonly since: string;
  readonly until: string;
  readonly under: string;
  readonly standing: string;
  readonly outcome: string;
  readonly entry: string;
}

/** As much of each as is looked for, in UTF-16 units. */
export const LONGEST = 400;

export type QueryField = keyof Query;

/** A query that everything answers to. */
export const NO_QUERY: Query = {
  words: '',
  sort: '',
  system: '',
  point: '',
  quantity: '',
  below: '',
  above: '',
  between: '',
  since: '',
  until: '',
  under: '',
  standing: '',
  outcome: '',
  entry: '',
};

/** Something in a query that cannot be understood, or that nothing in the book can answer to. */
export interface QueryProblem {
  readonly field: QueryField;
  /** One full sentence. */
  readonly message: string;
  /** What to write instead, as a full sentence; null where there is nothing to say. */
  readonly hint: string | null;
  /** True where it is understood well enough, and the book has nothing of the kind. */
  readonly isAbsent?: boolean;
}
