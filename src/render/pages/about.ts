import { BASES } from '../../../schemas/common.js';
import { About, NotFound } from '../../../site/templates/about.js';
import type { Basis } from '../../check/model.js';
import type { Standing } from '../../reckon/model.js';
import { paths } from '../links.js';
import { makePage } from '../make-page.js';
import type { Page } from '../page.js';
import type { Site } from '../site-context.js';
import { BASIS_MEANS, STANDING_MEANS, STANDING_ORDER } from '../words.js';

/** The words of the record, explained to somebody who has not seen one. */
export interface AboutView {
  readonly subject: string;
  /** For whom a copy is made and what it lacks; null for the owner's own book. */
  readonly copy: string | null;
  readonly asOf: string;
  readonly entries: number;
  readonly readings: number;
  readonly first: string | null;
  readonly bases: readonly (readonly [Basis, string])[];
  readonly standings: readonly (readonly [Standing, string])[];
  readonly people: readonly {
    readonly name: string;
    readonly role: string | null;
    readonly thirdParty: boolean;
    readonly licence: string | null;
  }[];
  readonly instruments: readonly {
    readonly name: string;
    readonly serial: string | null;
    readonly checked: string | null;
    readonly abilities: readonly string[];
  }[];
}

/** Makes the page about the record. */
export function aboutPage(site: Site): Page {
  const { book, readings, asOf } = site.reckoning;
  const { copy } = site.frame;
  const view = (): AboutView => ({
    subject: book.subject.name,
    copy: copy === null ? null : `${copy.for} ${copy.lacks}`,
    asOf,
    entries: book.entries.length,
    readings: readings.length,
    first: book.entries[0]?.date ?? null,
    bases: BASES.map((basis) => [basis, BASIS_MEANS[basis]] as const),
    standings: STANDING_ORDER.map((standing) => [standing, STANDING_MEANS[standing]] as const),
    people: [...book.people.values()].map(({ name, role, thirdParty, licence }) => ({
      name,
      role,
      thirdParty,
      licence,
    })),
    instruments: [...book.instruments.values()].map((instrument) => ({
      name: instrument.name,
      serial: instrument.serial,
      checked: instrument.checked,
      abilities: instrument.abilities.map(({ kind, accuracy }) =>
        accuracy === null ? kind : `${kind} ± ${accuracy.written}`,
      ),
    })),
  });
  return makePage(site, {
    path: paths.about,
    title: 'About this record',
    section: 'about',
    template: About,
    view,
  });
}

/** Way home for an address that leads nowhere; shown at any depth, so its links begin at the host. */
export interface NotFoundView {
  readonly home: string;
  readonly readings: string;
}

/** Makes the page for addresses that lead nowhere. */
export function notFoundPage(site: Site, pathPrefix: string): Page {
  const root = `/${pathPrefix.replace(/^\/+|\/+$/g, '')}/`.replace('//', '/');
  const view = (): NotFoundView => ({ home: root + paths.now, readings: root + paths.readings });
  const title = 'Not found';
  return makePage(site, { path: paths.notFound, title, section: 'about', template: NotFound, view, root });
}
