import { dueList } from '../../reckon/due.js';
import { type Caution, cautionsFor } from '../cautions.js';
import { type DueRow, dueRow } from '../due-row.js';
import { type DriftView, driftView, pointsRead } from '../pages/drift.js';
import { type FindingsView, findingsView } from '../pages/findings.js';
import { type PowerView, powerView } from '../pages/power.js';
import { hazardsOf } from '../pages/system.js';
import { type WeightsView, weightsView } from '../pages/weights.js';
import { type ProseView, proseView } from '../prose.js';
import type { Site, SiteFrame } from '../site-context.js';
import { type SpecRow, specRow } from '../spec-row.js';
import { showClaim } from '../values.js';
import { capital } from '../words.js';
import { type ChangesView, changesView } from './changes.js';
import { packSite, place } from './links.js';
import {
  type InstrumentRow,
  instrumentRows,
  type LicensedRow,
  licensedRows,
  type PersonRow,
  personRows,
} from './people.js';
import { type RestingRow, restingRows } from './resting.js';
import { type PackSeal, type SealView, sealView } from './seal.js';
import { standardsNamed } from './standards.js';
import { type Answer, summaryOf } from './summary.js';
import { type PackSystem, packSystem } from './system.js';
import { standing, type UnknownView, unknownView } from './unknown.js';

/** Everything that the pack shows. */
export interface PackView {
  readonly subject: string;
  readonly description: string | null;
  readonly about: string | null;
  readonly asOf: string;
  /** For whom the copy was made and what is not in it; null for the owner's own book. */
  readonly copy: SiteFrame['copy'];
  readonly particulars: readonly (readonly [string, string])[];
  readonly first: string | null;
  readonly last: string | null;
  readonly entryCount: number;
  readonly sections: readonly Section[];
  readonly summary: readonly Answer[];
  readonly findings: FindingsView;
  readonly claimed: readonly SpecRow[];
  readonly resting: readonly RestingRow[];
  readonly unknown: UnknownView;
  readonly drift: DriftView;
  readonly due: readonly DueRow[];
  readonly changes: ChangesView;
  readonly systems: readonly PackSystem[];
  readonly power: PowerView | null;
  readonly weights: WeightsView | null;
  readonly people: readonly PersonRow[];
  readonly licensed: readonly LicensedRow[];
  /** Whether the copy has no working time, so that most of those who worked on a system do not show. */
  readonly isWorkLeftOut: boolean;
  readonly instruments: readonly InstrumentRow[];
  readonly standards: readonly string[];
  readonly cautions: readonly Caution[];
  readonly seal: SealView;
  readonly entries: readonly EntryLine[];
}

/** A numbered part of the pack, with what is in it. */
export interface Section {
  readonly place: string;
  readonly number: string;
  readonly title: string;
  readonly parts: readonly Section[];
}

/** An entry in the list at the end. */
export interface EntryLine {
  readonly place: string;
  readonly number: number;
  readonly date: string;
  readonly title: string;
  readonly systems: string;
  /** What it tells; null where that is not asked for. */
  readonly prose: ProseView | null;
}

/** What a pack is made with besides the book. */
export interface PackFor {
  readonly seal: PackSeal | null;
  /** Whether the entries stand in it with what they tell, and not with their titles alone. */
  readonly words: boolean;
}

/** Level of the highest heading in what an entry tells: below that of the entry. */
const ENTRY_HEADING = 4;

/** Gathers the pack of a book. */
export function packView(whole: Site, { seal, words }: PackFor): PackView {
  const site = packSite(whole);
  const { reckoning, frame, top: links } = site;
  const { book } = reckoning;
  const findings = findingsView(site, links, 'other');
  const unknown = unknownView(site);
  const drift = driftView(site, pointsRead(site));
  const changes = changesView(site);
  const systems = [...book.systems.values()].map((system) => packSystem(site, system));
  const hazards = [...new Set([...book.systems.values()].flatMap(hazardsOf))];
  return {
    subject: frame.subject,
    description: frame.description,
    about: book.subject.about,
    asOf: reckoning.asOf,
    copy: frame.copy,
    particulars: particularsOf(site),
    first: book.entries[0]?.date ?? null,
    last: book.entries.at(-1)?.date ?? null,
    entryCount: book.entries.length,
    sections: sectionsOf(site),
    summary: summaryOf(site, { findings, unknown, drift, changes, sealed: seal !== null }),
    findings,
    claimed: [...standing(site, 'unverified'), ...standing(site, 'lapsed')].map((state) =>
      specRow(site, links, state),
    ),
    resting: restingRows(site),
    unknown,
    drift,
    due: dueList(reckoning, null).map((due) => dueRow(links, due)),
    changes,
    systems,
    power: reckoning.power === null ? null : powerView(site, reckoning.power),
    weights: reckoning.weights === null ? null : weightsView(site, reckoning.weights),
    people: personRows(site),
    licensed: licensedRows(site),
    isWorkLeftOut: site.reckoning.book.copy?.without.includes('hours') ?? false,
    instruments: instrumentRows(site),
    standards: standardsNamed(book),
    cautions: cautionsFor(hazards),
    seal: sealView(seal),
    entries: book.entries.map(({ date, title, systems: named, body, readings }, index) => ({
      place: place.entry(index + 1),
      number: index + 1,
      date,
      title,
      systems: named.map((id) => links.system(id).text).join(', '),
      prose: words ? proseView(site, links, body, ENTRY_HEADING, readings) : null,
    })),
  };
}

function particularsOf({ reckoning, display }: Site): [string, string][] {
  const { subject } = reckoning.book;
  const rows = subject.particulars.map(({ label, value }): [string, string] => [
    capital(label),
    showClaim(value, display),
  ]);
  if (subject.homePort !== null) rows.push(['Home port', subject.homePort]);
  return rows;
}

/** The parts of the pack in their order; what the book has nothing for is left out. */
function sectionsOf({ reckoning, top: links }: Site): Section[] {
  const { book, power, weights } = reckoning;
  const titles: readonly (readonly [string, string, boolean])[] = [
    ['findings', 'Findings', true],
    ['claimed', 'Claimed and not checked', true],
    ['resting', 'What rests on what is not verified', true],
    ['unknown', 'Not looked at', true],
    ['drift', 'What drifts', true],
    ['due', 'Done and due', true],
    ['changes', 'Changed in the last year', true],
    ['systems', 'The systems', true],
    ['power', 'Plan of power', power !== null],
    ['weights', 'Weights', weights !== null],
    ['people', 'Who did the work', true],
    ['instruments', 'Instruments', true],
    ['standards', 'Standards and methods', true],
    ['cautions', 'Cautions', true],
    ['reading', 'How to read this', true],
    ['entries', 'The entries', true],
    ['seal', 'The seal', true],
  ];
  return titles
    .filter(([, , there]) => there)
    .map(([at, title], index) => ({
      place: at,
      number: String(index + 1),
      title,
      parts:
        at !== 'systems'
          ? []
          : [...book.systems.keys()].map((id, part) => ({
              place: place.system(id),
              number: `${index + 1}.${part + 1}`,
              title: links.system(id).text,
              parts: [],
            })),
    }));
}
