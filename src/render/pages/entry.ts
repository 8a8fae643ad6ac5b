import { EntryPage } from '../../../site/templates/entry.js';
import type { Basis, Entry, Statement, TestRun } from '../../check/model.js';
import { printQuantity } from '../../quantity/index.js';
import type { Standing } from '../../reckon/model.js';
import { digestEntry } from '../digests.js';
import { type Link, type Links, paths } from '../links.js';
import { makeLatePage } from '../make-page.js';
import type { Page } from '../page.js';
import { shownPhoto } from '../photo-index.js';
import { type ProseView, proseHtml, proseView } from '../prose.js';
import type { ShownPhoto } from '../prose-tree.js';
import { type ReadingRow, readingRow, takenWords } from '../rows.js';
import { personName, type Site } from '../site-context.js';
import { type ShownValue, showHours, showMeasured, showMoney } from '../values.js';
import { MOVE_WORD } from '../words.js';
import { type DecisionView, decisionView } from './decisions.js';
import { hoursOf } from './log.js';
import { type ResultRow, resultRow } from './tests.js';
import { type ItemRow, itemRow } from './work.js';

/** What an entry says about a spec, and how that spec stands today. */
export interface StatementRow {
  readonly spec: Link;
  readonly says: ShownValue;
  readonly basis: Basis;
  readonly standing: Standing | null;
  readonly taken: string | null;
  readonly note: string | null;
}

/** What an entry tells of a part. */
export interface MoveRow {
  readonly part: Link;
  readonly move: string;
  readonly quantity: number | null;
  readonly cost: string | null;
  readonly supplier: string | null;
  readonly due: string | null;
  readonly note: string | null;
}

/** A picture of an entry; `photo` is null where it could not be published. */
export interface PhotoView {
  readonly alt: string;
  readonly caption: string | null;
  readonly photo: ShownPhoto | null;
}

/** One entry. */
export interface EntryView {
  readonly title: string;
  readonly date: string;
  readonly systems: readonly Link[];
  readonly place: string | null;
  readonly hours: readonly (readonly [string, string])[];
  readonly hoursTotal: string | null;
  readonly meters: readonly (readonly [string, string])[];
  readonly prose: ProseView;
  readonly readings: readonly ReadingRow[];
  readonly statements: readonly StatementRow[];
  readonly tests: readonly ResultRow[];
  readonly parts: readonly MoveRow[];
  readonly decisions: readonly DecisionView[];
  readonly opens: readonly ItemRow[];
  readonly closes: readonly ItemRow[];
  readonly done: readonly { readonly what: string; readonly system: Link }[];
  readonly photos: readonly PhotoView[];
  readonly newer: Link | null;
  readonly older: Link | null;
}

/** Makes a page for each entry. */
export function entryPages(site: Site): Page[] {
  const { entries } = site.reckoning.book;
  return entries.map((entry, index) => {
    const [older, newer] = [entries[index - 1], entries[index + 1]];
    return makeLatePage(site, {
      path: paths.entry(entry.id),
      title: entry.title,
      section: 'log',
      template: EntryPage,
      standsFor: () => [
        digestEntry(site.digests, entry),
        fromElsewhere(site, entry),
        older?.title,
        older?.id,
        newer?.title,
        newer?.id,
      ],
      gather: () => entryView(site, entry, older, newer),
      html: ({ prose }) => proseHtml(site, prose),
      prose: () => proseView(site, site.nested, entry.body, 2, entry.readings),
    });
  });
}

/** What the page of an entry shows that neither the entry nor its systems' files say: other entries do. */
function fromElsewhere(site: Site, entry: Entry): unknown {
  const links = site.nested;
  const { pages, photos } = proseView(site, links, entry.body, 2);
  return [
    pages,
    photos,
    entry.systems.map(links.system),
    entry.statements.map(({ spec }) => site.reckoning.specs.get(spec)?.standing),
    entry.parts.map(({ part }) => links.part(part)),
    decisionsOf(site, links, entry),
    itemsOf(site, links, entry),
    entry.photos.map(({ file }) => site.photos.get(file)),
  ];
}

function entryView(site: Site, entry: Entry, older: Entry | undefined, newer: Entry | undefined): EntryView {
  const links = site.nested;
  const hours = hoursOf(entry);
  return {
    title: entry.title,
    date: entry.date,
    systems: entry.systems.map(links.system),
    place: entry.location,
    hours: hoursByPerson(site, entry),
    hoursTotal: hours === 0 ? null : showHours(hours),
    meters: entry.meters.map(({ meter, reads }) => [
      site.reckoning.meters.get(meter)?.title ?? meter,
      printQuantity(reads, site.display),
    ]),
    prose: proseView(site, links, entry.body, 2, entry.readings),
    readings: entry.readings.filter(({ test }) => test === null).map((reading) => readingRow(site, reading)),
    statements: entry.statements.map((statement) => statementRow(site, links, statement)),
    tests: entry.tests.flatMap((run) => resultOf(site, links, run)),
    parts: moveRows(links, entry),
    decisions: decisionsOf(site, links, entry),
    ...itemsOf(site, links, entry),
    done: entry.done.map((ref) => upkeepDone(site, links, ref)),
    photos: entry.photos.map(({ file, alt, caption }) => ({
      alt,
      caption,
      photo: shownPhoto(site.photos, file, links.root),
    })),
    newer: newer === undefined ? null : links.entry(newer.id),
    older: older === undefined ? null : links.entry(older.id),
  };
}

/** Hours of one person may be split over systems; the entry shows them together. */
function hoursByPerson(site: Site, entry: Entry): [string, string][] {
  const byPerson = new Map<string, number>();
  for (const { by, spent } of entry.hours) byPerson.set(by, (byPerson.get(by) ?? 0) + spent);
  return [...byPerson].map(([by, spent]) => [personName(site, by) ?? by, showHours(spent)]);
}

function statementRow(site: Site, links: Links, statement: Statement): StatementRow {
  return {
    spec: links.spec(statement.spec),
    says: showMeasured(statement.says, statement.uncertainty, site.display),
    basis: statement.basis,
    standing: site.reckoning.specs.get(statement.spec)?.standing ?? null,
    taken: takenWords(site, statement),
    note: statement.note,
  };
}

function resultOf(site: Site, links: Links, run: TestRun): ResultRow[] {
  const result = site.testResults.get(run);
  return result === undefined ? [] : [resultRow(site, links, result)];
}

function moveRows(links: Links, entry: Entry): MoveRow[] {
  return entry.parts.map((move) => ({
    part: links.part(move.part),
    move: MOVE_WORD[move.move],
    quantity: move.quantity,
    cost: move.cost === null ? null : showMoney(move.cost),
    supplier: move.supplier,
    due: move.due,
    note: move.note,
  }));
}

function decisionsOf(site: Site, links: Links, entry: Entry): DecisionView[] {
  return entry.decisions.flatMap(({ id }) => {
    const state = site.reckoning.decisions.get(id);
    return state === undefined ? [] : [decisionView(site, links, state)];
  });
}

function itemsOf(site: Site, links: Links, entry: Entry): Pick<EntryView, 'opens' | 'closes'> {
  const opened = entry.opens.map(({ id }) => id);
  return { opens: itemRows(site, links, opened), closes: itemRows(site, links, entry.closes) };
}

function itemRows(site: Site, links: Links, ids: readonly string[]): ItemRow[] {
  return ids.flatMap((id) => {
    const item = site.reckoning.items.get(id);
    return item === undefined ? [] : [itemRow(links, item, site)];
  });
}

function upkeepDone(site: Site, links: Links, ref: string): EntryView['done'][number] {
  const dot = ref.indexOf('.');
  const system = ref.slice(0, dot);
  const upkeep = site.reckoning.book.systems.get(system)?.upkeep.get(ref.slice(dot + 1));
  return { what: upkeep?.what ?? ref, system: links.system(system) };
}
