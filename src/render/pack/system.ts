import type { System } from '../../check/model.js';
import type { SpecState } from '../../reckon/model.js';
import type { Link } from '../links.js';
import { type DecisionView, decisionView } from '../pages/decisions.js';
import { type PartDetail, partDetail } from '../pages/parts.js';
import { type DerivedRow, derivedRow, type PointView, pointView, pointWithTrend } from '../pages/system.js';
import { type TestDetail, testDetail } from '../pages/tests.js';
import { type UpkeepRow, upkeepRow } from '../pages/upkeep.js';
import { type ItemRow, itemRow, openItems } from '../pages/work.js';
import { shownPhoto } from '../photo-index.js';
import { type ProseView, proseView } from '../prose.js';
import type { ShownPhoto } from '../prose-tree.js';
import type { Site } from '../site-context.js';
import { showHours } from '../values.js';
import { STANDING_ORDER } from '../words.js';
import { place } from './links.js';
import { type SpecEntry, specEntry } from './spec-entry.js';
import { instrumentWords, takenBy, uncheckedAt } from './who.js';

/** One system as the pack tells it. */
export interface PackSystem {
  readonly id: string;
  readonly place: string;
  /** The named page that carries its running head. */
  readonly named: string;
  readonly title: string;
  readonly group: string | null;
  readonly inService: string | null;
  /** Null where none are logged, or none shown to this reader. */
  readonly hours: string | null;
  readonly prose: ProseView;
  readonly standings: readonly (readonly [SpecState['standing'], number])[];
  readonly specs: readonly SpecEntry[];
  readonly derived: readonly DerivedRow[];
  readonly points: readonly PackPoint[];
  readonly tests: readonly TestDetail[];
  readonly decisions: readonly DecisionView[];
  readonly parts: readonly PartDetail[];
  readonly upkeep: readonly UpkeepRow[];
  readonly items: readonly ItemRow[];
  readonly photos: readonly PackPhoto[];
  /** Newest last. */
  readonly history: readonly { readonly date: string; readonly entry: Link; readonly title: string }[];
}

/** A point with how its last reading was taken. */
export interface PackPoint {
  readonly place: string;
  readonly view: PointView;
  readonly how: string | null;
  readonly entry: Link | null;
  /** First day read. */
  readonly first: string | null;
}

/** A picture with what it shows. */
export interface PackPhoto {
  readonly photo: ShownPhoto;
  readonly alt: string;
  readonly caption: string;
  readonly date: string;
  readonly entry: Link;
}

/** Name of the page on which a system is printed; it stands in CSS, so that it begins with a letter. */
export function namedPage(id: string): string {
  return `s-${id}`;
}

/** Everything of one system. */
export function packSystem(site: Site, system: System): PackSystem {
  const { reckoning, top: links } = site;
  const states = [...system.specs.values()].flatMap(({ ref }) => reckoning.specs.get(ref) ?? []);
  const sorted = [...states].sort(
    (a, b) => STANDING_ORDER.indexOf(a.standing) - STANDING_ORDER.indexOf(b.standing),
  );
  const hours = reckoning.hours.bySystem.find(({ key }) => key === system.id);
  const ours = <T extends { readonly system: string }>(thing: T) => thing.system === system.id;
  return {
    id: system.id,
    place: place.system(system.id),
    named: namedPage(system.id),
    title: system.title,
    group: system.group,
    inService: system.inService,
    hours: hours === undefined ? null : showHours(hours.hours),
    prose: proseView(site, links, system.body, 3),
    standings: STANDING_ORDER.map(
      (standing) => [standing, states.filter((state) => state.standing === standing).length] as const,
    ).filter(([, number]) => number > 0),
    specs: sorted.map((state) => specEntry(site, place.spec(state.spec.ref), state)),
    derived: [...system.derived.values()].map((derived) => derivedRow(site, links, derived)),
    points: [...system.points.values()]
      .map(({ ref }) => packPoint(site, ref))
      .filter((point) => point !== null),
    tests: [...system.tests.values()].flatMap(({ ref }) => {
      const state = reckoning.tests.get(ref);
      return state === undefined ? [] : [testDetail(site, links, state)];
    }),
    decisions: [...reckoning.decisions.values()]
      .filter(({ decision }) => ours(decision))
      .map((state) => decisionView(site, links, state)),
    parts: [...reckoning.parts.values()].filter(ours).map((part) => partDetail(site, links, part)),
    upkeep: [...system.upkeep.values()].flatMap(({ ref }) => {
      const state = reckoning.upkeep.get(ref);
      return state === undefined ? [] : [upkeepRow(site, links, state)];
    }),
    items: openItems(site)
      .filter(({ opened }) => ours(opened))
      .map((item) => itemRow(links, item, site)),
    photos: photosOf(site, system.id),
    history: reckoning.book.entries
      .filter((entry) => entry.systems.includes(system.id))
      .map(({ id, date, title }) => ({ date, title, entry: links.entry(id) })),
  };
}

function packPoint(site: Site, ref: string): PackPoint | null {
  const timeline = site.reckoning.timelines.get(ref);
  if (timeline === undefined) return null;
  const last = timeline.last?.reading ?? null;
  const how =
    last === null
      ? []
      : [
          instrumentWords(site, last.with, last.quantity),
          takenBy(site, last),
          uncheckedAt(site, last),
        ].filter((word) => word !== null);
  return {
    place: place.point(ref),
    view: pointWithTrend(site, timeline, pointView(site, timeline)),
    how: how.length === 0 ? null : how.join(', '),
    entry: last === null ? null : site.top.entry(last.entry),
    first: timeline.readings[0]?.reading.date ?? null,
  };
}

/** Pictures of the entries in which the system comes first: each picture is shown once. */
function photosOf({ reckoning, photos, top: links }: Site, system: string): PackPhoto[] {
  return reckoning.book.entries
    .filter((entry) => entry.systems[0] === system)
    .flatMap((entry) =>
      entry.photos.flatMap(({ file, alt, caption }) => {
        const photo = shownPhoto(photos, file, links.root);
        if (photo === null) return [];
        return [{ photo, alt, caption: caption ?? alt, date: entry.date, entry: links.entry(entry.id) }];
      }),
    );
}
