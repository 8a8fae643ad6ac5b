import { NO_QUERY, type Query, type QueryField, type QueryProblem } from '../../src/find/index.js';

/** The form of the search: what stands in it, and what is wrong with it. */

type Field = HTMLInputElement | HTMLSelectElement;

/** The form, as far as others need it. */
export interface Form {
  readonly words: HTMLInputElement;
  readonly read: () => Query;
  readonly write: (query: Query) => void;
  readonly showProblems: (problems: readonly QueryProblem[]) => void;
}

/** Takes hold of the form inside an element. */
export function openForm(box: HTMLElement): Form | null {
  const words = box.querySelector<HTMLInputElement>('#filter-text');
  const limits = box.querySelector<HTMLDetailsElement>('#filter-limits');
  const problemBox = box.querySelector<HTMLElement>('#filter-problems');
  if (words === null || limits === null || problemBox === null) return null;
  const fields = [...box.querySelectorAll<Field>('input[name], select[name]')];
  return {
    words,
    read: () => {
      const values = fields.map((field) => [field.name, field.value] as const);
      return { ...NO_QUERY, ...Object.fromEntries(values) };
    },
    write: (query) => {
      for (const field of fields) writeField(field, query[field.name as QueryField]);
      if (fields.some((field) => field !== words && field.value !== '')) limits.open = true;
    },
    showProblems: (problems) => {
      problemBox.replaceChildren(...problems.map(problemText));
      const wrong = new Set(problems.map(({ field }) => field));
      for (const field of fields) {
        if (wrong.has(field.name as QueryField)) field.setAttribute('aria-invalid', 'true');
        else field.removeAttribute('aria-invalid');
      }
    },
  };
}

/** An address may name what the list does not have: it is shown, and told to be unknown. */
function writeField(field: Field, value: string): void {
  if (field.value === value) return;
  if (field instanceof HTMLSelectElement && ![...field.options].some((option) => option.value === value)) {
    const option = document.createElement('option');
    option.value = value;
    option.textContent = value;
    field.append(option);
  }
  field.value = value;
}

function problemText({ message, hint }: QueryProblem): HTMLParagraphElement {
  const text = document.createElement('p');
  text.append(...quotedParts(hint === null ? message : `${message} ${hint}`));
  return text;
}

/** A sentence with what stands in backticks set as code. */
function quotedParts(sentence: string): (Node | string)[] {
  return sentence.split('`').map((part, at) => {
    if (at % 2 === 0) return part;
    const code = document.createElement('code');
    code.textContent = part;
    return code;
  });
}
