import {
  addressOf,
  type FindHead,
  type FindPart,
  type FindState,
  type Found,
  leftOut,
  openTable,
  type Plan,
  pageOf,
  planOf,
  run,
  SORTS,
  START,
  type Steps,
  stateFrom,
  type Table,
  whyNothing,
} from '../../src/find/index.js';
import { type Form, openForm } from './form.js';
import { countWords, PAGE_ROWS, showFound } from './found.js';
import { openLoader } from './load.js';
import { openWorker } from './worker.js';

/**
 * The search of the readings page. What it shows is told by the part of the address behind `#`, so that a
 * search can be kept, sent and come back to. Without this the page shows the latest readings and leads to
 * tables of all of them.
 */

/** Milliseconds without a key after which counts are read out, so that not every letter is. */
const QUIET = 700;

/** Milliseconds without a key after which the next one begins a new step of going back. */
const ONE_STEP = 2000;

/** Milliseconds between two showings of what is found while it is still coming in. */
const BETWEEN = 150;

/** Rows that are put on the page from one frame to the next. */
const FIRST_ROWS = 17;

/** Points that are offered for drawing; the others can be asked for by the limit on points. */
const MOST_POINTS = 60;

interface Parts {
  readonly box: HTMLElement;
  readonly form: Form;
  readonly found: HTMLElement;
  readonly rest: HTMLElement;
  readonly said: HTMLElement;
}

function findParts(): Parts | null {
  const box = document.getElementById('filter');
  const found = document.getElementById('found');
  const rest = document.getElementById('not-searched');
  const said = document.getElementById('filter-said');
  const form = box === null ? null : openForm(box);
  if (box === null || form === null || found === null || rest === null || said === null) return null;
  return { box, form, found, rest, said };
}

function start(parts: Parts): void {
  const { box, form } = parts;
  const root = box.dataset['root'] ?? '';
  const rest = [...parts.rest.childNodes];
  let table: Table | null = null;
  let state = stateFrom(location.hash) ?? START;
  let lastKey = Number.NEGATIVE_INFINITY;
  let saying = 0;
  let later = 0;
  let drawn = Number.NEGATIVE_INFINITY;
  let hasFailed = false;

  const worker = openWorker();
  const draw = () => {
    clearTimeout(later);
    later = 0;
    drawn = performance.now();
    if (table === null) return;
    const plan = planOf(state.query, table.head);
    form.showProblems(plan.problems);
    const isAsked = !plan.isEmpty || state.plot !== null;
    // To lay out what is there already once more would hold up the next key.
    if (isAsked) parts.rest.replaceChildren();
    else if (!parts.rest.hasChildNodes()) parts.rest.append(...rest);
    parts.found.hidden = !isAsked;
    parts.found.ariaBusy = String(isAsked);
    if (isAsked) worker.replace(search(table, plan, state));
    else {
      worker.replace(nothing());
      say('');
    }
  };

  function* search(of: Table, plan: Plan, asked: FindState): Steps<void> {
    const found = yield* run(of, plan);
    const isDone = of.rows === of.head.records;
    const isNothing = found.rows.length === 0 && plan.problems.length === 0 && isDone;
    const why = isNothing ? yield* whyNothing(of, plan) : [];
    const points = pointsIn(of, found);
    const words = countWords(of, found);
    yield;
    const pages = Math.max(1, Math.ceil(found.rows.length / PAGE_ROWS));
    const page = Math.min(asked.page, pages);
    const rows = yield* pageOf(of, found, asked.sorting, (page - 1) * PAGE_ROWS, page * PAGE_ROWS);
    const props = { table: of, state: asked, plan, found, words, page, pages, why, root, points };
    say(spoken(plan, found, words, why));
    // The first screen comes first, the rest when the typing rests: to lay out all rows takes longer than a key may wait.
    for (let shown = FIRST_ROWS; ; shown += FIRST_ROWS) {
      showFound(parts.found, { ...props, rows: rows.slice(0, shown), change, clear });
      parts.found.ariaBusy = String(shown < rows.length || (!isDone && !hasFailed));
      if (shown >= rows.length) return;
      yield shown === FIRST_ROWS ? 'pause' : 'frame';
    }
  }

  /** Reads out, once nobody types any more. */
  const say = (text: string) => {
    clearTimeout(saying);
    saying = window.setTimeout(() => {
      if (parts.said.textContent !== text) parts.said.textContent = text;
    }, QUIET);
  };

  function* takeIn(of: Table, part: FindPart, next: () => void): Steps<void> {
    yield* of.add(part);
    next();
    // While parts come one after the other, what is found is shown at once, now and then, and at the end.
    const isLast = of.rows === of.head.records;
    const wait = isLast ? 0 : drawn + BETWEEN - performance.now();
    if (wait > 0 && later === 0) later = window.setTimeout(draw, wait);
    else if (wait <= 0) draw();
  }

  const go = (next: FindState, how: 'push' | 'replace') => {
    if (addressOf(next) === addressOf(state)) return;
    state = next;
    const address = addressOf(next) || location.pathname + location.search;
    if (how === 'push') history.pushState(null, '', address);
    else history.replaceState(null, '', address);
    load();
    draw();
  };

  const change = (part: Partial<FindState>) => go({ ...state, ...part }, 'push');
  const clear = () => {
    form.write(START.query);
    go({ ...START, units: state.units }, 'push');
    form.words.focus();
  };

  const typed = () => {
    const now = performance.now();
    const how = now - lastKey < ONE_STEP ? 'replace' : 'push';
    lastKey = now;
    go({ ...state, query: form.read(), page: 1 }, how);
  };

  const load = openLoader(root, {
    head: (head: FindHead) => {
      table = openTable(head);
      draw();
    },
    part: (part, next) => {
      if (table !== null) worker.add(takeIn(table, part, next));
    },
    failed: () => {
      hasFailed = true;
      parts.found.ariaBusy = 'false';
      parts.said.textContent = 'The records could not be loaded. The tables by system have all readings.';
      form.showProblems([
        {
          field: 'words',
          message: 'The records could not be loaded.',
          hint: 'The tables by system have all readings.',
        },
      ]);
    },
  });

  const arrive = () => {
    const next = stateFrom(location.hash);
    if (next === null || addressOf(next) === addressOf(state)) return;
    const isPage = next.page !== state.page;
    state = next;
    lastKey = Number.NEGATIVE_INFINITY;
    form.write(next.query);
    load();
    draw();
    if (isPage) document.getElementById('found-heading')?.focus();
  };

  box.hidden = false;
  box.addEventListener('input', typed);
  box.addEventListener('focusin', load);
  box.addEventListener('pointerover', load, { once: true });
  window.addEventListener('popstate', arrive);
  window.addEventListener('hashchange', arrive);
  form.write({ ...state.query, words: state.query.words || form.words.value });
  if (addressOf(state) !== '') load();
  // A browser may bring back what was typed before.
  else if (form.words.value !== '') typed();
}

/** In place of a search that nobody asks for any more. */
function* nothing(): Steps<void> {}

/** Points with readings among what was found, the most first. */
function pointsIn(table: Table, { rows }: Found): [number, number][] {
  const counts = new Uint32Array(table.head.points.length);
  const reading = SORTS.indexOf('reading');
  for (const row of rows) {
    const point = table.point[row] as number;
    if (point >= 0 && table.sort[row] === reading) counts[point] = (counts[point] as number) + 1;
  }
  return [...counts.entries()]
    .filter(([, count]) => count > 0)
    .sort(([, a], [, b]) => b - a)
    .slice(0, MOST_POINTS);
}

/** What a screen reader is told of it. */
function spoken({ problems }: Plan, found: Found, words: string, why: readonly string[]): string {
  if (problems.length > 0)
    return problems
      .map(({ message, hint }) => `${message} ${hint ?? ''}`)
      .join(' ')
      .replaceAll('`', '');
  const slips = found.slips.flatMap(({ word, as }) =>
    as.length === 0 ? [] : [`${word} taken for ${as.join(', ')}`],
  );
  const out = leftOut(found);
  return [`${words}.`, ...(out === null ? [] : [out]), ...slips, ...why].join(' ').replaceAll('`', '');
}

const parts = findParts();
if (parts !== null) start(parts);
