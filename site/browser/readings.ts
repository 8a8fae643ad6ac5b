/**
 * The filter of the readings page. All readings come in a script of their own, loaded when somebody first uses
 * the filter; a script, since a page opened from disk cannot fetch a file. Without this the page shows the
 * latest readings and leads to tables of all of them.
 */

/** Date, system, what, value, where ± is known from if not stated, limit if not inside, how taken, entry. */
type Row = readonly [string, string, string, string, string, string, string, number];

interface Data {
  readonly entries: readonly string[];
  readonly rows: readonly Row[];
}

declare global {
  interface Window {
    ribbandReadings?: Data;
  }
}

/** More rows than these tell nobody anything: the words have to be narrower. */
const MOST_SHOWN = 200;

const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

interface Parts {
  readonly box: HTMLElement;
  readonly input: HTMLInputElement;
  readonly count: HTMLElement;
  readonly note: HTMLElement;
  readonly body: HTMLTableSectionElement;
}

function findParts(): Parts | null {
  const box = document.getElementById('filter');
  const input = document.getElementById('filter-text');
  const count = document.getElementById('filter-count');
  const note = document.getElementById('table-note');
  const body = document.querySelector<HTMLTableSectionElement>('table tbody');
  if (box === null || !(input instanceof HTMLInputElement)) return null;
  if (count === null || note === null || body === null) return null;
  return { box, input, count, note, body };
}

function start(parts: Parts): void {
  const { box, input, note, body } = parts;
  const latest = [...body.rows];
  const latestNote = note.textContent;
  let haystack: readonly string[] | undefined;
  box.hidden = false;

  const show = () => {
    const data = window.ribbandReadings;
    const words = plain(input.value)
      .split(/\s+/)
      .filter((word) => word !== '');
    if (words.length === 0) {
      body.replaceChildren(...latest);
      note.textContent = latestNote;
      parts.count.textContent = '';
      return;
    }
    if (data === undefined) return;
    haystack ??= data.rows.map((row) => plain(`${row.slice(0, 7).join(' ')} ${dayWords(row[0])}`));
    showMatches(parts, data, matches(haystack, words));
  };

  const load = once(() => loadScript(box.dataset['script'] ?? '', show, () => fail(parts)));
  input.addEventListener('focus', load);
  input.addEventListener('input', () => {
    load();
    show();
  });
  // A browser may bring back what was typed before.
  if (input.value !== '') load();
}

function matches(haystack: readonly string[], words: readonly string[]): number[] {
  const found: number[] = [];
  for (const [index, text] of haystack.entries()) {
    if (words.every((word) => text.includes(word))) found.push(index);
  }
  return found;
}

function showMatches({ body, count, note }: Parts, data: Data, found: readonly number[]): void {
  const shown = found.slice(0, MOST_SHOWN);
  body.replaceChildren(...shown.map((index) => tableRow(data, data.rows[index] as Row)));
  const all = `${found.length} ${found.length === 1 ? 'reading' : 'readings'}`;
  count.textContent = found.length > shown.length ? `${all}, the latest ${shown.length} shown` : all;
  note.textContent = count.textContent;
}

function tableRow(data: Data, row: Row): HTMLTableRowElement {
  const [date, system, what, value, spread, limit, how, entry] = row;
  const tr = document.createElement('tr');
  const head = cell('th', 'day', '');
  head.setAttribute('scope', 'row');
  const link = document.createElement('a');
  link.href = `../entries/${encodeURIComponent(data.entries[entry] ?? '')}.html`;
  link.textContent = dayWords(date);
  head.append(link);
  const limitCell = cell('td', 'value', limit === 'outside' ? 'out of limits' : limit);
  if (limit === 'outside' || limit === 'undecided')
    limitCell.classList.add(limit === 'outside' ? 'contradicted' : limit);
  tr.append(
    head,
    cell('td', 'name', system),
    cell('td', 'name', what),
    cell('td', 'value', value),
    cell('td', 'value', spread === '' ? 'stated' : spread),
    limitCell,
    cell('td', 'text', how),
  );
  return tr;
}

function cell(name: 'td' | 'th', look: string, text: string): HTMLTableCellElement {
  const made = document.createElement(name);
  if (look !== '') made.className = look;
  made.textContent = text;
  return made;
}

function dayWords(date: string): string {
  return `${Number(date.slice(8, 10))} ${MONTHS[Number(date.slice(5, 7)) - 1]} ${date.slice(0, 4)}`;
}

/** Small letters without accents. */
function plain(text: string): string {
  return text.toLowerCase().normalize('NFD').replace(/\p{M}/gu, '');
}

function loadScript(address: string, then: () => void, otherwise: () => void): void {
  const script = document.createElement('script');
  script.src = address;
  script.addEventListener('load', then);
  script.addEventListener('error', otherwise);
  document.head.append(script);
}

function fail({ count }: Parts): void {
  count.textContent = 'The readings could not be loaded. The tables by system have all of them.';
}

function once(act: () => void): () => void {
  let done = false;
  return () => {
    if (done) return;
    done = true;
    act();
  };
}

const parts = findParts();
if (parts !== null) start(parts);

export {};
