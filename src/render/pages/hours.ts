import { Hours } from '../../../site/templates/hours.js';
import { type Link, paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import { personName, type Site } from '../site-context.js';
import { showHours, showMoney } from '../values.js';
import { monthWords } from '../words.js';

/** One line of a list of amounts, with its share of the largest for the bar beside it. */
export interface AmountRow {
  readonly label: Link;
  readonly amount: string;
  /** 0 to 1; nought for money that came back. */
  readonly share: number;
}

/** Hours and money, by what they went to. */
export interface HoursView {
  /** Null where no hours are shown. */
  readonly total: string | null;
  readonly bySystem: readonly AmountRow[];
  readonly byMonth: readonly AmountRow[];
  readonly byPerson: readonly AmountRow[];
  readonly money: readonly {
    readonly currency: string;
    readonly total: string;
    readonly bySystem: readonly AmountRow[];
    readonly byMonth: readonly AmountRow[];
    readonly bySupplier: readonly AmountRow[];
  }[];
}

/** Makes the page of hours and money. */
export function hoursPage(site: Site): Page {
  const { hours, money } = site.reckoning;
  const links = site.top;
  const hoursOf = (rows: readonly { key: string; hours: number }[], label: (key: string) => Link) =>
    amounts(
      rows.map(({ key, hours: amount }) => ({ key, amount })),
      label,
      showHours,
    );
  const view = (): HoursView => ({
    total: hours.total === 0 && site.frame.copy !== null ? null : showHours(hours.total),
    bySystem: byAmount(hoursOf(hours.bySystem, links.system)),
    byMonth: hoursOf(hours.byMonth, monthLink),
    byPerson: byAmount(hoursOf(hours.byPerson, (id) => ({ text: personName(site, id) ?? id, href: null }))),
    money: money.map((row) => {
      const show = (amount: number) => showMoney({ amount, currency: row.currency });
      return {
        currency: row.currency,
        total: show(row.total),
        bySystem: byAmount(amounts(row.bySystem, links.system, show)),
        byMonth: amounts(row.byMonth, monthLink, show),
        // Where no supplier is named, one line for all of them would only say the total again.
        bySupplier: row.bySupplier.every(({ key }) => key === '')
          ? []
          : byAmount(amounts(row.bySupplier, supplierLink, show)),
      };
    }),
  });
  const parts = {
    path: paths.hours,
    title: 'Hours and money',
    section: 'hours',
    template: Hours,
    view,
  } as const;
  return makePage(site, parts);
}

/** What was paid for without saying to whom has an empty name. */
function supplierLink(name: string): Link {
  return { text: name === '' ? 'not said' : name, href: null };
}

function monthLink(month: string): Link {
  return { text: monthWords(month), href: null };
}

function amounts(
  rows: readonly { readonly key: string; readonly amount: number }[],
  label: (key: string) => Link,
  show: (amount: number) => string,
): AmountRow[] {
  const most = Math.max(...rows.map(({ amount }) => amount), 0);
  return rows.map(({ key, amount }) => ({
    label: label(key),
    amount: show(amount),
    share: most === 0 ? 0 : Math.max(0, Math.round((amount / most) * 1000) / 1000),
  }));
}

function byAmount(rows: AmountRow[]): AmountRow[] {
  return rows.sort((a, b) => b.share - a.share);
}
