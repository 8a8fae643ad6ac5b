import { ChangesPage } from '../../../site/templates/changes.js';
import { addDays } from '../../reckon/calendar.js';
import { type Changes, changesBetween, type FindingsMoved, findingsMoved } from '../../reckon/changes.js';
import { type BookState, earlierStates } from '../../reckon/earlier.js';
import { instrumentCaveat } from '../../reckon/instruments.js';
import type { LimitState, Outcome, Reckoning, Standing } from '../../reckon/model.js';
import { planEdges } from '../../reckon/plan-edges.js';
import { type Link, type Links, paths } from '../links.js';
import { makeLatePage } from '../make-page.js';
import type { Page } from '../page.js';
import type { Site } from '../site-context.js';
import { showHours, showMeasured, showMoney, showReading } from '../values.js';
import { capital, count, datesInWords, dayWords, GRADE_WORD, MOVE_WORD, STANDING_ORDER } from '../words.js';
import { groupBy } from './log.js';

/** What stands in a cell: a text or a link, or how something stands, came out or lies. */
export type ChangeCell =
  | Link
  | { readonly standing: Standing }
  | { readonly outcome: Outcome }
  | { readonly limit: LimitState };

/** One sort of changes. */
export interface ChangeGroup {
  readonly id: string;
  readonly heading: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly ChangeCell[])[];
}

/** What has become of a book in a period, in sentences and small tables. */
export interface ChangesView {
  readonly title: string;
  /** First and last day. */
  readonly from: string;
  readonly to: string;
  /** What was compared, and what differs in the files, where a state is under seal. */
  readonly sealed: readonly string[];
  readonly sentences: readonly string[];
  /** Those in which there is something. */
  readonly groups: readonly ChangeGroup[];
  /** What cannot be told for certain, in sentences. */
  readonly doubts: readonly string[];
  readonly older: Link | null;
  readonly newer: Link | null;
}

/** Makes a page for each year that has an entry. */
export function changesPages(site: Site): Page[] {
  const { reckoning, digests, nested } = site;
  const years = [...digests.years.keys()];
  const neighbour = (year: string | undefined): Link | null =>
    year === undefined ? null : { text: year, href: nested.to(paths.changes(year)) };
  const stateOn = statesOf(reckoning);
  const plans = planEdges(reckoning.power, reckoning.weights);
  return years.map((year, at) => {
    const last = `${year}-12-31`;
    const to = last < reckoning.asOf ? last : reckoning.asOf;
    return makeLatePage(site, {
      path: paths.changes(year),
      title: `What changed in ${year}`,
      section: 'log',
      template: ChangesPage,
      // What was so at the end of a year hangs on all entries until then, and on what systems declare.
      standsFor: () => [
        [...digests.years].slice(0, at + 1),
        [...digests.systems],
        digests.names,
        [years[at - 1] ?? null, years[at + 1] ?? null],
        namesOf(reckoning),
        plans,
      ],
      gather: () => {
        const [before, after] = [stateOn(`${Number(year) - 1}-12-31`), stateOn(to)];
        const found = findingsMoved(before, after);
        const view = changesView(reckoning, nested, changesBetween(before, after), found);
        return {
          ...view,
          title: `What changed in ${year}`,
          older: neighbour(years[at - 1]),
          newer: neighbour(years[at + 1]),
        };
      },
    });
  });
}

/** States of a book by day; the end of a year is the beginning of the next, and worked out once. */
function statesOf(reckoning: Reckoning): (day: string) => BookState {
  const known = new Map<string, BookState>([[reckoning.asOf, reckoning]]);
  let earlier: ReturnType<typeof earlierStates> | null = null;
  return (day) => {
    earlier ??= earlierStates(reckoning);
    const state = known.get(day) ?? earlier(day);
    known.set(day, state);
    return state;
  };
}

/** Names of parts, items and decisions, which a later entry may word anew. */
function namesOf({ parts, items, decisions }: Reckoning): readonly unknown[] {
  return [
    [...parts.values()].map(({ id, what }) => [id, what]),
    [...items.values()].map(({ opened }) => [opened.id, opened.what]),
    [...decisions.values()].map(({ decision }) => [decision.id, decision.question]),
  ];
}

/** Puts changes into words. `reckoning` knows the names. */
export function changesView(
  reckoning: Reckoning,
  links: Links,
  changes: Changes,
  findings: FindingsMoved,
): ChangesView {
  const from = addDays(changes.from, 1);
  const groups = groupsOf(reckoning, links, changes, findings);
  return {
    title: `What changed from ${dayWords(from)} to ${dayWords(changes.to)}`,
    from,
    to: changes.to,
    sealed: [],
    sentences:
      changes.entries.length === 0 ? ['Nothing was entered.'] : sentencesOf(reckoning, changes, findings),
    groups: groups.filter(({ rows }) => rows.length > 0),
    doubts: [],
    older: null,
    newer: null,
  };
}

/** The same for a page that stands by itself and can lead nowhere. */
export function withoutLinks(view: ChangesView): ChangesView {
  const still = (cell: ChangeCell): ChangeCell => ('href' in cell ? { ...cell, href: null } : cell);
  const groups = view.groups.map((group) => ({
    ...group,
    rows: group.rows.map((cells) => cells.map(still)),
  }));
  return { ...view, groups, older: null, newer: null };
}

function sentencesOf({ book }: Reckoning, changes: Changes, findings: FindingsMoved): readonly string[] {
  const { entries, hours, money, standings, tests, testRuns, upkeep, opened, closed, parts, decided } =
    changes;
  const people = hours.byPerson.length;
  const moves = (name: string) => parts.filter(({ move }) => move === name).length;
  const times = upkeep.reduce((sum, { done }) => sum + done.length, 0);
  const safety = upkeep.filter((one) => one.safety).reduce((sum, { done }) => sum + done.length, 0);
  const failed = tests.filter(({ to }) => to === 'fail').length;
  const defects = opened.filter(({ defect }) => defect).length;
  return [
    `${count(entries.length, 'entry', 'entries')}${hours.total === 0 ? '' : ` ${entries.length === 1 ? 'tells' : 'tell'} of ${showHours(hours.total)} of work${people > 1 ? ` by ${people} people` : ''}`}.`,
    ...money.map((row) => {
      const most = row.bySystem[0];
      const title = most === undefined ? null : (book.systems.get(most.key)?.title ?? most.key);
      const of = title === null || row.bySystem.length < 2 ? '' : `, the largest share on ${title}`;
      return `${showMoney({ amount: row.total, currency: row.currency })} spent on parts${of}.`;
    }),
    standings.length === 0
      ? 'No spec stands otherwise than before.'
      : `${count(standings.length, 'spec')} ${standings.length === 1 ? 'stands' : 'stand'} otherwise than before: ${STANDING_ORDER.flatMap(
          (standing) => {
            const now = standings.filter(({ to }) => to === standing).length;
            return now === 0 ? [] : [`${now} ${standing}`];
          },
        ).join(', ')}.`,
    `${count(testRuns, 'test')} run; ${tests.length === 0 ? 'none came out otherwise than the last time' : `${tests.length} came out otherwise than the last time, or for the first time${failed === 0 ? '' : `, ${failed} of them failed`}`}.`,
    `${count(times, 'piece')} of upkeep done${safety === 0 ? '' : `, ${safety} of them for safety`}.`,
    `${count(opened.length, 'job')} opened${defects === 0 ? '' : `, ${count(defects, 'defect')} among them`}; ${closed.length} done.`,
    `Parts: ${moves('ordered')} ordered, ${moves('arrived')} came, ${moves('fitted')} fitted, ${moves('removed')} removed.`,
    `${count(decided.length, 'decision')} made, ${changes.undone.length} taken back.`,
    `${count(findings.opened.length, 'finding')} came up, ${findings.settled.length} settled.`,
  ];
}

const NEW: Link = { text: 'new', href: null };

function groupsOf(
  reckoning: Reckoning,
  links: Links,
  changes: Changes,
  findings: FindingsMoved,
): readonly ChangeGroup[] {
  const { display, people, instruments } = reckoning.book;
  const text = (words: string): Link => ({ text: words, href: null });
  const on = (date: string, entry: string): Link => ({ text: dayWords(date), href: links.entry(entry).href });
  const who = (id: string) => people.get(id)?.name ?? id;
  const found = (list: FindingsMoved['opened']) =>
    list.map(({ grade, system, grounds: [first] }): readonly ChangeCell[] => [
      text(`${first.title}: ${datesInWords(first.says)}`),
      links.system(system),
      text(GRADE_WORD[grade]),
    ]);
  return [
    {
      id: 'came-up',
      heading: 'Findings that came up',
      columns: ['Finding', 'System', 'To be settled'],
      rows: found(findings.opened),
    },
    {
      id: 'settled',
      heading: 'Findings settled',
      columns: ['Finding', 'System', 'Was to be settled'],
      rows: found(findings.settled),
    },
    {
      id: 'standings',
      heading: 'Specs that stand otherwise',
      columns: ['Spec', 'Before', 'Now', 'Evidence'],
      rows: changes.standings.map(({ id, from, to, by, because }) => [
        links.spec(id),
        from === null ? NEW : { standing: from },
        { standing: to },
        by === null
          ? text(datesInWords(because))
          : {
              text: [
                showMeasured(by.value, by.uncertainty, display).text,
                `${by.basis} ${dayWords(by.date)}`,
                datesInWords(instrumentCaveat(instruments, by) ?? ''),
              ]
                .filter((words) => words !== '')
                .join(', '),
              href: links.entry(by.entry).href,
            },
      ]),
    },
    {
      id: 'tests',
      heading: 'Tests that came out otherwise',
      columns: ['Test', 'Before', 'Now', 'Done'],
      rows: changes.tests.map(({ id, from, to, last }) => [
        links.test(id),
        from === null ? text('first time') : { outcome: from },
        { outcome: to },
        on(last.run.date, last.run.entry),
      ]),
    },
    {
      id: 'limits',
      heading: 'Limits crossed, and kept again',
      columns: ['Point', 'Before', 'Now', 'Value', 'Read'],
      rows: changes.limits.map(({ id, from, to, last: { reading } }) => [
        links.point(id),
        from === null ? text('not read') : { limit: from },
        { limit: to },
        text(showReading(reading.quantity, reading.uncertainty, display).text),
        on(reading.date, reading.entry),
      ]),
    },
    {
      id: 'upkeep',
      heading: 'Upkeep done',
      columns: ['Upkeep', 'System', 'Days'],
      rows: changes.upkeep.map(({ id, system, safety, done }) => [
        { ...links.upkeep(id), text: `${links.upkeep(id).text}${safety ? ' (safety)' : ''}` },
        links.system(system),
        text(done.map(({ date }) => dayWords(date)).join(', ')),
      ]),
    },
    {
      id: 'done',
      heading: 'Work done',
      columns: ['Job', 'Done'],
      rows: changes.closed.map(({ id, date, entry }) => [links.item(id), on(date, entry)]),
    },
    {
      id: 'opened',
      heading: 'Work opened',
      columns: ['Job', 'System', 'Opened'],
      rows: changes.opened.map(({ id, system, date, entry, defect, safety }) => {
        const marks = [defect ? 'defect' : '', safety ? 'safety' : ''].filter((mark) => mark !== '');
        const link = links.item(id);
        return [
          { ...link, text: `${link.text}${marks.length === 0 ? '' : ` (${marks.join(', ')})`}` },
          links.system(system),
          on(date, entry),
        ];
      }),
    },
    {
      id: 'parts',
      heading: 'Parts',
      columns: ['Part', 'What happened', 'Cost'],
      rows: [...groupBy(changes.parts, ({ part }) => part)].map(([part, moves]) => [
        links.part(part),
        text(moves.map(({ move, date }) => `${MOVE_WORD[move]} ${dayWords(date)}`).join(', ')),
        text(moves.flatMap(({ cost }) => (cost === null ? [] : [showMoney(cost)])).join(', ')),
      ]),
    },
    {
      id: 'money',
      heading: 'Money by system',
      columns: ['System', 'Spent'],
      rows: changes.money.flatMap(({ currency, bySystem }) =>
        bySystem.map(({ key, amount }) => [links.system(key), text(showMoney({ amount, currency }))]),
      ),
    },
    {
      id: 'hours',
      heading: 'Hours by person',
      columns: ['Person', 'Hours'],
      rows: changes.hours.byPerson.map(({ key, hours }) => [text(capital(who(key))), text(showHours(hours))]),
    },
    {
      id: 'decisions',
      heading: 'Decisions',
      columns: ['Decision', 'Chosen', 'Day'],
      rows: [
        ...changes.decided.map(({ id, chose, date, entry }) => [
          links.decision(id),
          text(chose),
          on(date, entry),
        ]),
        ...changes.undone.map(({ id, by }) => [
          links.decision(id),
          text('taken back'),
          on(by.date, by.entry),
        ]),
      ],
    },
  ];
}
