import type { ComponentChildren, VNode } from 'preact';

/** Tables, figures and references of the pack. Their numbers are counted by the style sheet. */

/** One column of a table of the pack. */
export interface PackColumn {
  readonly head: string;
  /** `narrow` for days, numbers and marks; the others share what is left. */
  readonly kind?: 'narrow';
}

/** One row; its first cell is its head. */
export interface PackRow {
  readonly id?: string;
  readonly cells: readonly ComponentChildren[];
}

/** As many rows as are kept on one page. */
const SHORT = 9;

/** A numbered table. Columns in which no row has anything are left out; nothing is shown for no rows. */
export function PackTable(props: {
  caption: string;
  columns: readonly PackColumn[];
  rows: readonly PackRow[];
  /** Whether it may be cut between rows though there are few, since each is high. */
  high?: boolean;
}): VNode | null {
  const isEmpty = (cell: ComponentChildren) => cell === null || cell === undefined || cell === '';
  const kept = props.columns
    .map((column, index) => ({ column, index }))
    .filter(({ index }) => index === 0 || props.rows.some(({ cells }) => !isEmpty(cells[index])));
  if (props.rows.length === 0) return null;
  const table = (
    <table class={props.rows.length <= SHORT && props.high !== true ? 'short' : undefined}>
      <caption>{props.caption}</caption>
      <thead>
        <tr>
          {kept.map(({ column }) => (
            <th scope="col" class={column.kind}>
              {column.head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {props.rows.map(({ id, cells }) => (
          <tr id={id}>
            {kept.map(({ column, index }) =>
              index === 0 ? (
                <th scope="row" class={column.kind}>
                  {cells[index]}
                </th>
              ) : (
                <td class={column.kind}>{cells[index]}</td>
              ),
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
  return (
    // Many systems have a table of the same name: a group is no landmark, and may.
    // biome-ignore lint/a11y/useSemanticElements: a fieldset is for a form.
    // biome-ignore lint/a11y/noNoninteractiveTabindex: without it the keyboard could not scroll what is in it.
    <div class="scroll" role="group" aria-label={props.caption} tabIndex={0}>
      {table}
    </div>
  );
}

/** A numbered heading of a part of the pack. */
export function PartHeading({ id, number, title }: { id: string; number: string; title: string }): VNode {
  return (
    <h2 id={id}>
      <span class="number">{number}</span> {title}
    </h2>
  );
}

/** Where something stands: the number of its part on the screen, its page on paper. */
export function Where({ to, number }: { to: string; number: string }): VNode {
  return (
    <a class="where" href={`#${to}`} data-to={to}>
      section {number}
    </a>
  );
}
