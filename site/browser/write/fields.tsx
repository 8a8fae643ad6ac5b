import type { ComponentChildren, VNode } from 'preact';
import type { Remark } from '../../../src/draft/remarks.js';
import { unitsFor } from '../../../src/quantity/index.js';
import type { PointFacts } from '../../../src/reckon/facts.js';

/** The pieces that the form is made of. */

/** What is said about a field. Read out when it comes, since the eye is on the keys. */
export function Said(props: {
  readonly id: string;
  readonly remarks: readonly Remark[];
  /** Before each that is no error; it asks where nothing else is given. */
  readonly lead?: string;
}): VNode {
  const { id, remarks, lead = 'Is that so?' } = props;
  return (
    <div class="said" id={`${id}-said`} role="status">
      {remarks.map(({ severity, message, hint }) => (
        <p class={severity}>
          <strong>{severity === 'error' ? 'Not right:' : lead}</strong> {inWords(message)}
          {hint === null ? null : <small> {inWords(hint)}</small>}
        </p>
      ))}
    </div>
  );
}

/** A sentence with the names in it set apart. */
function inWords(text: string): ComponentChildren {
  return text.split(/`([^`]+)`/).map((piece, index) => (index % 2 === 1 ? <code>{piece}</code> : piece));
}

interface FieldProps {
  readonly id: string;
  readonly label: ComponentChildren;
  /** From the description of the field in the format. */
  readonly help?: string | undefined;
  readonly remarks?: readonly Remark[] | undefined;
  readonly children: (marks: FieldMarks) => ComponentChildren;
}

/** What ties an input to its label and to what is said about it. */
export interface FieldMarks {
  readonly id: string;
  readonly 'aria-describedby': string;
  readonly 'aria-invalid': boolean;
}

export function Field({ id, label, help, remarks = [], children }: FieldProps): VNode {
  const marks: FieldMarks = {
    id,
    'aria-describedby': help === undefined ? `${id}-said` : `${id}-help ${id}-said`,
    'aria-invalid': remarks.some(({ severity }) => severity === 'error'),
  };
  return (
    <div class="field">
      <label for={id}>{label}</label>
      {help === undefined ? null : (
        <small id={`${id}-help`} class="line">
          {help}
        </small>
      )}
      {children(marks)}
      <Said id={id} remarks={remarks} />
    </div>
  );
}

/** The text that an input holds. */
export function textOf(event: Event): string {
  const { target } = event;
  return target instanceof HTMLInputElement ||
    target instanceof HTMLTextAreaElement ||
    target instanceof HTMLSelectElement
    ? target.value
    : '';
}

/** Puts the keys to a field that the next painting brings. */
export function focusOnceShown(id: string): void {
  requestAnimationFrame(() => requestAnimationFrame(() => document.getElementById(id)?.focus()));
}

/** Keys of a phone with figures only, where the values so far could all be typed with them. */
export function keysFor({
  kind,
  unit,
  last,
}: Pick<PointFacts, 'kind' | 'unit' | 'last'>): 'decimal' | 'text' {
  const isPlain = last === null || /^\d+(?:\.\d+)? ?[^\d±/'"-]*$/.test(last.written);
  return isPlain && kind !== 'temperature' && unit !== 'in' && unit !== 'ft' ? 'decimal' : 'text';
}

/** A number with its unit beside it; a unit that is typed wins. */
export function Measure(props: {
  readonly marks: FieldMarks;
  readonly typed: string;
  readonly unit: string;
  readonly point: Pick<PointFacts, 'kind' | 'unit' | 'last'> | null;
  readonly onTyped: (typed: string) => void;
  readonly onUnit: ((unit: string) => void) | null;
}): VNode {
  const { marks, typed, unit, point, onTyped, onUnit } = props;
  const units = point === null ? [] : [...new Set([point.unit, ...unitsFor(point.kind)])];
  return (
    <div class="measure">
      <input
        {...marks}
        type="text"
        inputMode={point === null ? 'text' : keysFor(point)}
        autocomplete="off"
        autocapitalize="off"
        spellcheck={false}
        value={typed}
        onInput={(event) => onTyped(textOf(event))}
      />
      {onUnit === null || units.length < 2 ? (
        unit === '' || unit === '1' ? null : (
          <span class="unit">{unit}</span>
        )
      ) : (
        <select aria-label={`Unit of ${marks.id}`} value={unit} onChange={(event) => onUnit(textOf(event))}>
          {units.map((one) => (
            <option value={one}>{one === '1' ? 'number' : one}</option>
          ))}
        </select>
      )}
    </div>
  );
}

/** Something to tick. */
export function Tick(props: {
  readonly name: string;
  readonly isOn: boolean;
  readonly note?: string | null;
  readonly onChange: (isOn: boolean) => void;
  readonly children: ComponentChildren;
}): VNode {
  return (
    <label class="tick">
      <input
        type="checkbox"
        name={props.name}
        checked={props.isOn}
        onChange={(event) => props.onChange((event.target as HTMLInputElement).checked)}
      />
      <span>
        {props.children}
        {props.note == null ? null : <small class="line">{props.note}</small>}
      </span>
    </label>
  );
}

/** A part of the form: its heading in the margin on a wide screen. */
export function Part(props: {
  readonly id: string;
  readonly heading: string;
  readonly note?: string | undefined;
  readonly children: ComponentChildren;
}): VNode {
  return (
    <section class="leaf" aria-labelledby={props.id}>
      <div class="margin">
        <h2 id={props.id}>{props.heading}</h2>
        {props.note === undefined ? null : <p class="margin-note">{props.note}</p>}
      </div>
      <div class="body">{props.children}</div>
    </section>
  );
}

/** A row that can be taken out again. */
export function Card(props: {
  readonly id: string;
  readonly title: string;
  readonly note?: string | null;
  readonly onRemove: () => void;
  readonly children: ComponentChildren;
}): VNode {
  return (
    <fieldset class="card" id={props.id}>
      <legend>{props.title}</legend>
      {props.note == null ? null : <p class="soft">{props.note}</p>}
      {props.children}
      <button type="button" class="remove" onClick={props.onRemove}>
        Take out <span class="quiet">{props.title}</span>
      </button>
    </fieldset>
  );
}
