import { Work } from '../../../site/templates/work.js';
import { printQuantity } from '../../quantity/index.js';
import type { ItemState, ItemStatus } from '../../reckon/model.js';
import { type Link, type Links, NOT_SHOWN, paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import type { Site } from '../site-context.js';
import { count, forecastWords } from '../words.js';
import { hasPlan, safetyBesides } from './plan.js';

/** An open item as a row. */
export interface ItemRow {
  readonly id: string;
  readonly item: Link;
  readonly system: Link;
  readonly status: ItemStatus;
  readonly overdue: boolean;
  /** Day by which it has to be done. */
  readonly by: string | null;
  readonly size: string | null;
  /** What has to come or be done or decided first. */
  readonly waitsOn: readonly Link[];
  readonly holdsUp: readonly Link[];
  readonly marks: readonly string[];
  readonly opened: { readonly date: string; readonly entry: Link };
  readonly closed: { readonly date: string; readonly entry: Link } | null;
  readonly restsOn: readonly Link[];
}

/** All work: open, by status, and done. */
export interface WorkView {
  /** The way to the page that lays it out in time; null where there is nothing to lay out. */
  readonly plan: string | null;
  readonly goals: readonly { readonly goal: Link; readonly when: string }[];
  readonly overdue: readonly ItemRow[];
  readonly ready: readonly ItemRow[];
  readonly waiting: readonly ItemRow[];
  readonly done: readonly ItemRow[];
}

function besidesWords(jobs: number): string {
  return jobs === 0 ? '' : `, without ${count(jobs, 'job')} that safety hangs on`;
}

/** Makes the page of open work. */
export function workPage(site: Site): Page {
  const rows = (items: readonly ItemState[]) => items.map((item) => itemRow(site.top, item, site));
  const open = openItems(site);
  const onTime = open.filter((item) => !item.overdue);
  const done = [...site.reckoning.items.values()].filter((item) => item.status === 'done');
  done.sort((a, b) => ((a.closed?.date ?? '') < (b.closed?.date ?? '') ? 1 : -1));
  const planned = hasPlan(site) ? site.top.to(paths.plan) : null;
  const view = (): WorkView => ({
    plan: planned,
    goals: site.reckoning.work.goals.map((plan) => ({
      goal: {
        text: site.top.item(plan.goal).text,
        href: planned === null ? null : `${planned}#${plan.goal}`,
      },
      when: `${forecastWords(plan.forecast)}${besidesWords(safetyBesides(site, plan).length)}`,
    })),
    overdue: rows(open.filter((item) => item.overdue)),
    ready: rows(onTime.filter((item) => item.status === 'ready')),
    waiting: rows(onTime.filter((item) => item.status !== 'ready')),
    done: rows(done),
  });
  return makePage(site, { path: paths.work, title: 'Open work', section: 'work', template: Work, view });
}

const STATUS_ORDER: readonly ItemStatus[] = ['ready', 'waiting', 'blocked', 'done'];

/** What is not done yet: overdue first, then by status, then by the day it is due. */
export function openItems({ reckoning }: Site): ItemState[] {
  const due = (item: ItemState) => item.opened.by ?? '9999';
  return [...reckoning.items.values()]
    .filter((item) => item.status !== 'done')
    .sort(
      (a, b) =>
        Number(b.overdue) - Number(a.overdue) ||
        STATUS_ORDER.indexOf(a.status) - STATUS_ORDER.indexOf(b.status) ||
        Number(b.opened.safety) - Number(a.opened.safety) ||
        (due(a) < due(b) ? -1 : due(a) > due(b) ? 1 : 0),
    );
}

/** One item, with links as seen from a page. */
export function itemRow(links: Links, item: ItemState, site: Site): ItemRow {
  const { opened, closed } = item;
  const marks = [
    opened.safety ? 'safety' : '',
    opened.defect ? 'defect' : '',
    opened.goal ? 'goal' : '',
  ].filter((mark) => mark !== '');
  return {
    id: opened.id,
    item: links.item(opened.id),
    system: links.system(opened.system),
    status: item.status,
    overdue: item.overdue,
    by: opened.by,
    size: opened.size === null ? null : printQuantity(opened.size, site.display),
    waitsOn: [
      ...item.waitsFor.map(links.part),
      ...item.blockedBy.map(links.item),
      ...item.undecided.map(links.decision),
      ...(item.waitsOnHidden ? [NOT_SHOWN] : []),
    ],
    holdsUp: item.holdsUp.map(links.item),
    marks,
    opened: { date: opened.date, entry: links.entry(opened.entry) },
    closed: closed === null ? null : { date: closed.date, entry: links.entry(closed.entry) },
    restsOn: opened.restsOn.map(links.anything),
  };
}
