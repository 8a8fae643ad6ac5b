import type { ComponentChildren, VNode } from 'preact';
import type { LimitState, Outcome, Standing } from '../../src/reckon/model.js';
import type { Link } from '../../src/render/links.js';
import type { ShownValue } from '../../src/render/values.js';
import { dayWords, OUTCOME_WORD } from '../../src/render/words.js';

/** Small pieces that several pages share. */

/** A link, or its text alone where there is nothing to lead to. */
export function Ref({ to }: { to: Link }): VNode {
  return to.href === null ? <span>{to.text}</span> : <a href={to.href}>{to.text}</a>;
}

/** A link with contents of its own. */
export function Go(props: { to: Link; class?: string; children: ComponentChildren }): VNode {
  if (props.to.href === null) return <span>{props.children}</span>;
  const look = props.class === undefined ? {} : { class: props.class };
  return (
    <a href={props.to.href} {...look}>
      {props.children}
    </a>
  );
}

/** Several links in a row, set apart by commas. */
export function Refs({ to }: { to: readonly Link[] }): VNode {
  return (
    <>
      {to.map((link, index) => (
        <>
          {index > 0 && ', '}
          <Ref to={link} />
        </>
      ))}
    </>
  );
}

/** Several links below each other; one stands alone. */
export function RefList({ to }: { to: readonly Link[] }): VNode {
  if (to.length === 1) return <Refs to={to} />;
  return (
    <ul class="plain">
      {to.map((link) => (
        <li>
          <Ref to={link} />
        </li>
      ))}
    </ul>
  );
}

/** A day. */
export function Day({ on }: { on: string }): VNode {
  return <time dateTime={on}>{dayWords(on)}</time>;
}

/** The shapes of the signs, in a box of 12 by 12. Each is told from the others without its colour. */
const SHAPES: Readonly<Record<string, VNode>> = {
  verified: (
    <>
      <circle cx="6" cy="6" r="6" />
      <path class="cut" d="M3 6.3 5.2 8.5 9 3.9" />
    </>
  ),
  contradicted: (
    <>
      <path d="M0 0h12v12H0z" />
      <path class="cut" d="m3.2 3.2 5.6 5.6m0-5.6-5.6 5.6" />
    </>
  ),
  undecided: (
    <>
      <circle class="line" cx="6" cy="6" r="5.2" />
      <path d="M6 .8a5.2 5.2 0 0 0 0 10.4z" />
    </>
  ),
  lapsed: (
    <>
      <path class="line" d="M6 .8a5.2 5.2 0 1 1-5 3.7" />
      <path class="line" d="M6 3v3.2l2.2 1.4" />
    </>
  ),
  unverified: <circle class="line" cx="6" cy="6" r="5.2" />,
  late: <path d="M6 0 12 11.5H0z" />,
};

/** A sign by its shape. It says nothing to a screen reader: the word stands beside it. */
export function Sign({ shape }: { shape: string }): VNode {
  return (
    <svg class="sign" viewBox="0 0 12 12" aria-hidden="true">
      {SHAPES[shape]}
    </svg>
  );
}

/** A standing: shape, colour and word. */
export function StandingTag({ standing }: { standing: Standing }): VNode {
  return (
    <span class={`tag ${standing}`}>
      <Sign shape={standing} />
      {standing}
    </span>
  );
}

const OUTCOME_LOOK: Readonly<Record<Outcome, Standing>> = {
  pass: 'verified',
  fail: 'contradicted',
  undecided: 'undecided',
};

/** The outcome of a test or of a comparison: shape, colour and word. */
export function OutcomeTag({ outcome, word }: { outcome: Outcome; word?: string }): VNode {
  const look = OUTCOME_LOOK[outcome];
  return (
    <span class={`tag ${look}`}>
      <Sign shape={look} />
      {word ?? OUTCOME_WORD[outcome]}
    </span>
  );
}

const LIMIT_WORD: Readonly<Record<LimitState, string>> = {
  inside: 'inside',
  outside: 'out of limits',
  undecided: 'undecided',
  'no-limit': 'no limit set',
  former: 'of what was there before',
};

/** How a reading lies to the limits of its point. Only what is not plainly inside is marked. */
export function LimitTag({ limit }: { limit: LimitState }): VNode {
  if (limit === 'outside') return <OutcomeTag outcome="fail" word={LIMIT_WORD.outside} />;
  if (limit === 'undecided') return <OutcomeTag outcome="undecided" />;
  return <span class="soft">{LIMIT_WORD[limit]}</span>;
}

/** Something late or overdue. */
export function LateTag({ word }: { word: string }): VNode {
  return (
    <span class="tag contradicted">
      <Sign shape="late" />
      {word}
    </span>
  );
}

/** A value as shown, with a word where its ± is not one that was written with it. */
export function Value({ value }: { value: ShownValue }): VNode {
  return (
    <span class="value">
      {value.text}
      {value.spread === 'instrument' && <small> by instrument</small>}
      {value.spread === 'not known' && <small> ± not known</small>}
    </span>
  );
}

/** Said beside what was judged though the ± of a value is not known. */
export function JudgedAlone({ on }: { on: readonly (ShownValue | null)[] }): VNode | null {
  if (!on.some((value) => value?.spread === 'not known')) return null;
  return <span class="soft">, judged on the value alone: its ± is not known</span>;
}

/** What something rests on: each ref, and how it stands where it is a spec. */
export function Rests(props: {
  on: readonly { readonly what: Link; readonly standing: Standing | null }[];
}): VNode {
  return (
    <ul class="plain">
      {props.on.map(({ what, standing }) => (
        <li>
          <Ref to={what} /> {standing !== null && <StandingTag standing={standing} />}
        </li>
      ))}
    </ul>
  );
}

/** A stretch of a page: its heading in the margin, its contents beside the double rule. */
export function Leaf(props: {
  heading: string;
  id: string;
  note?: ComponentChildren;
  children: ComponentChildren;
}): VNode {
  return (
    <section class="leaf">
      <div class="margin">
        <h2 id={props.id}>{props.heading}</h2>
        {props.note !== undefined && <div class="margin-note">{props.note}</div>}
      </div>
      <div class="body">{props.children}</div>
    </section>
  );
}

/** The top of a page: what sort of page it is in the margin, the title beside it. */
export function Masthead(props: {
  kind: ComponentChildren;
  title: string;
  children?: ComponentChildren;
}): VNode {
  return (
    <div class="leaf masthead">
      <div class="margin">{props.kind}</div>
      <div class="body">
        <h1>{props.title}</h1>
        {props.children}
      </div>
    </div>
  );
}

/** One column of a table. */
export interface Column {
  readonly head: string;
  /** Numbers go to the right; values and days stay in one line; names and texts are given room. */
  readonly kind?: 'number' | 'value' | 'day' | 'name' | 'text';
}

/** One row of a table; the first cell is its head. */
export interface Row {
  readonly id?: string;
  readonly cells: readonly ComponentChildren[];
}

/**
 * A table. On a phone a `stack` becomes a list of rows with their labels; a `scroll` keeps its columns and its
 * first one in sight.
 */
export function DataTable(props: {
  label: string;
  columns: readonly Column[];
  rows: readonly Row[];
  on: 'stack' | 'scroll';
  /** A look of its own, such as fixed widths shared with the tables below it. */
  look?: string;
}): VNode {
  const { label, on } = props;
  const { columns, rows } = withoutEmptyColumns(props.columns, props.rows);
  const classes = columns.map((column) => (column.kind === undefined ? undefined : column.kind));
  const table = (
    <table class={props.look === undefined ? on : `${on} ${props.look}`}>
      <caption class="quiet">{label}</caption>
      <thead>
        <tr>
          {columns.map((column, index) => (
            <th scope="col" class={classes[index]}>
              {column.head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr id={row.id}>
            <th scope="row" class={classes[0]}>
              {row.cells[0]}
            </th>
            {row.cells.slice(1).map((cell, index) => (
              <td class={classes[index + 1]} data-l={on === 'stack' ? columns[index + 1]?.head : undefined}>
                {cell}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
  if (on === 'stack') return table;
  return <ScrollRegion label={label}>{table}</ScrollRegion>;
}

/** Something wide that scrolls inside its own region. */
export function ScrollRegion(props: { label: string; children: ComponentChildren }): VNode {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: without it the keyboard could not scroll what is in it.
    <section class="scroll" aria-label={props.label} tabIndex={0}>
      {props.children}
    </section>
  );
}

/** A column in which no row has anything says nothing and takes room from the others. */
function withoutEmptyColumns(columns: readonly Column[], rows: readonly Row[]) {
  const isEmpty = (cell: ComponentChildren) => cell === null || cell === undefined || cell === '';
  const kept = columns.map((_, index) => index === 0 || rows.some(({ cells }) => !isEmpty(cells[index])));
  return {
    columns: columns.filter((_, index) => kept[index]),
    rows: rows.map((row) => ({ ...row, cells: row.cells.filter((_, index) => kept[index]) })),
  };
}

/** Labelled facts in hairline-ruled pairs. */
export function Facts({ facts }: { facts: readonly (readonly [string, ComponentChildren])[] }): VNode {
  return (
    <dl class="facts">
      {facts.map(([label, value]) => (
        <div>
          <dt>{label}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

/** Prose that has been made into safe HTML. */
export function Prose({ html }: { html: string }): VNode {
  // The HTML has been through the sanitiser; nothing else may be handed to this.
  return <div class="prose" dangerouslySetInnerHTML={{ __html: html }} />;
}

/** A text in which words between back-ticks are code. */
export function Ticked({ text }: { text: string }): VNode {
  return <>{text.split('`').map((part, index) => (index % 2 === 1 ? <code>{part}</code> : part))}</>;
}
