import { addDays } from '../../reckon/calendar.js';
import { dueList } from '../../reckon/due.js';
import type { SpecState, Standing } from '../../reckon/model.js';
import type { DriftView } from '../pages/drift.js';
import type { FindingsView } from '../pages/findings.js';
import { SOON_DAYS } from '../pages/upkeep.js';
import type { Site } from '../site-context.js';
import { showClaim, showMoney } from '../values.js';
import { capital, count, dayWords, listed, lower } from '../words.js';
import type { ChangesView } from './changes.js';
import { listedUpTo, type Piece, pageOf, type Said } from './said.js';
import { countAll, standing, type UnknownView } from './unknown.js';
import { takenBy } from './who.js';

/** The first page: what a stranger asks first, in sentences. */

/** A question with its answer. */
export interface Answer {
  readonly asks: string;
  readonly says: readonly Said[];
}

/** What the answers are made from besides the site. */
export interface SummaryFacts {
  readonly findings: FindingsView;
  readonly unknown: UnknownView;
  readonly drift: DriftView;
  readonly changes: ChangesView;
  /** Whether the pack carries a seal. */
  readonly sealed: boolean;
}

/** As many things as a sentence names. */
const NAMED = 4;

/** The answers, in the order in which somebody asks. */
export function summaryOf(site: Site, facts: SummaryFacts): readonly Answer[] {
  return [
    { asks: 'What is checked?', says: checked(site) },
    { asks: 'By whom, and how?', says: byWhom(site) },
    { asks: 'What is only claimed?', says: claimed(site) },
    { asks: 'What is wrong?', says: wrong(site, facts.findings) },
    { asks: 'What is not known?', says: notKnown(facts.unknown) },
    { asks: 'What is due?', says: due(site, facts.drift) },
    { asks: 'What changed in the last year?', says: changed(facts.changes) },
    { asks: 'What may be believed?', says: believed(site, facts.sealed) },
    { asks: 'What rests on what nobody has checked?', says: resting(site) },
  ].filter(({ says }) => says.length > 0);
}

function number(site: Site, wanted: Standing): number {
  return standing(site, wanted).length;
}

function checked(site: Site): Said[] {
  const { specs, readings, timelines, tests, series } = site.reckoning;
  const kept = [...timelines.values()].filter(({ gone }) => !gone);
  const read = kept.filter(({ last, point }) => last !== null || series.has(point.ref)).length;
  const last = [...tests.values()].flatMap((state) => state.last ?? []);
  const passed = last.filter(({ outcome }) => outcome === 'pass').length;
  const logged = kept.filter(({ last: latest, point }) => latest === null && series.has(point.ref)).length;
  const share = (wanted: Standing) =>
    `${number(site, wanted)} (${Math.round((100 * number(site, wanted)) / Math.max(1, specs.size))}\u00a0%)`;
  return [
    [
      `The record states ${count(specs.size, 'spec')}: ${share('verified')} are verified by evidence of the kind that each needs, ${share('contradicted')} contradicted by it, ${share('undecided')} undecided, ${share('unverified')} only claimed, and ${share('lapsed')} were verified too long ago (`,
      pageOf('claimed'),
      ').',
    ],
    [
      `It holds ${count(readings.length, 'reading')}; of ${count(kept.length, 'point')} that are read again and again ${read} were${logged === 0 ? '' : `, ${logged} of them by a logger alone`}. Of ${count(tests.size, 'test')} it describes, ${last.length} were done; ${passed} passed when last done.`,
    ],
  ];
}

function byWhom(site: Site): Said[] {
  const verified = standing(site, 'verified').flatMap(({ deciding }) => deciding ?? []);
  const of = (basis: string) => verified.filter((piece) => piece.basis === basis).length;
  const names = new Map<string, number>();
  for (const piece of verified.filter(({ basis }) => basis === 'witnessed')) {
    const name = takenBy(site, piece) ?? 'a third party who is not named';
    names.set(name, (names.get(name) ?? 0) + 1);
  }
  const others = [...names].sort((a, b) => b[1] - a[1]).map(([name, times]) => `${name} (${times})`);
  const sure = verified.filter(
    ({ value, uncertainty }) => value.type === 'quantity' && uncertainty.si !== null,
  );
  const numbers = verified.filter(({ value }) => value.type === 'quantity');
  const ways = [
    `${of('measured')} were measured`,
    `${of('marked')} read off the item itself`,
    `${of('printed')} found in the maker's papers`,
  ].filter((way) => !way.startsWith('0 '));
  const witnesses: Said =
    others.length === 0
      ? ['No third party has witnessed any of them.']
      : [
          `Of the verified specs third parties witnessed ${of('witnessed')}: ${listedUpTo(NAMED, others)}. The rest is the word of the owner and of those who helped (`,
          pageOf('people'),
          ').',
        ];
  return [
    witnesses,
    [
      `${listed(ways)}. Of ${count(numbers.length, 'value')} that are numbers, ${sure.length} come with an uncertainty. Instruments and their accuracy stand on `,
      pageOf('instruments'),
      '.',
    ],
  ];
}

function claimed(site: Site): Said[] {
  const { exposures, specs } = site.reckoning;
  const open = number(site, 'unverified');
  if (open === 0) return [['Nothing: every spec has been held against evidence.']];
  const most = exposures
    .filter(({ standing: stands }) => stands === 'unverified')
    .slice(0, NAMED)
    .flatMap(({ spec }) => specs.get(spec) ?? [])
    .map((state) => inWords(site, state));
  return [
    [
      `${count(open, 'spec is', 'specs are')} claimed and not checked at the basis that ${open === 1 ? 'it needs' : 'they need'} (`,
      pageOf('claimed'),
      `). Most rests on: ${listed(most)}.`,
    ],
  ];
}

function inWords({ reckoning, display }: Site, { spec }: SpecState): string {
  const system = reckoning.book.systems.get(spec.system)?.title ?? spec.system;
  return `${spec.title} (${system}: ${showClaim(spec.claim, display)}, ${spec.source ?? spec.basis})`;
}

function wrong({ reckoning }: Site, { groups, total }: FindingsView): Said[] {
  if (total === 0)
    return [['The record shows nothing that is wrong. What nobody has looked at it cannot show.']];
  const [first, ...rest] = groups;
  const counts = rest.map(({ rows, word }) => `${rows.length} ${word}`);
  const before: readonly Piece[] =
    first === undefined || first.rows.length === 0
      ? ['Nothing has to be settled before use. ']
      : [
          `${count(first.rows.length, 'thing has', 'things have')} to be settled before use: ${listedUpTo(
            NAMED,
            first.rows.map(({ what, system, why }) => `${lower(what.text)} (${system.text}: ${lower(why)})`),
          )}. `,
        ];
  const fallen = [...reckoning.decisions.values()].filter(
    ({ undoneBy, holding }) => undoneBy === null && holding?.verdict === 'fails',
  );
  return [
    [...before, `Further findings: ${listed(counts)} (`, pageOf('findings'), ').'],
    ...(fallen.length === 0
      ? []
      : [
          [
            `${count(fallen.length, 'decision does not hold', 'decisions do not hold')}, since what was measured speaks against what it hangs on: ${listedUpTo(
              2,
              fallen.map(({ decision }) => `“${decision.question}”`),
            )}.`,
          ],
        ]),
  ];
}

function notKnown(unknown: UnknownView): Said[] {
  const { unread, untested, unspoken, undecided, undecidedTests, undecidedPoints, readings, unsure } =
    unknown;
  const missing = [
    [
      countAll(unread),
      `${count(countAll(unread), 'point was', 'points were')} never read as ${countAll(unread) === 1 ? 'it is' : 'they are'} now`,
    ] as const,
    [countAll(untested), `${count(countAll(untested), 'test was', 'tests were')} never done`] as const,
    [countAll(unspoken), `no entry speaks of ${count(countAll(unspoken), 'spec')}`] as const,
  ].flatMap(([number, words]) => (number === 0 ? [] : [words]));
  const undecidedAll = undecided.length + undecidedTests.length + undecidedPoints.length;
  return [
    [
      `${missing.length === 0 ? 'Every point was read, every test done and every spec looked into at least once' : capital(listed(missing))} (`,
      pageOf('unknown'),
      `). ${undecidedAll === 0 ? '' : `${count(undecidedAll, 'result is', 'results are')} undecided: the uncertainty reaches across the limit. `}Of ${count(readings, 'reading')} the uncertainty of ${unsure} is not known.`,
    ],
  ];
}

function due({ reckoning }: Site, drift: DriftView): Said[] {
  const all = dueList(reckoning, addDays(reckoning.asOf, SOON_DAYS));
  const overdue = all.filter((one) => one.overdue);
  const safety = overdue.filter((one) => one.safety);
  if (all.length === 0)
    return [[`Nothing is overdue, and nothing comes due in the next ${SOON_DAYS} days`, ...drifting(drift)]];
  return [
    [
      `${count(overdue.length, 'thing is', 'things are')} overdue${
        safety.length === 0
          ? ''
          : `, of which safety hangs on ${safety.length}: ${listedUpTo(
              NAMED,
              safety.map(({ what }) => lower(what)),
            )}`
      }; ${all.length - overdue.length} more come due in the next ${SOON_DAYS} days (`,
      pageOf('due'),
      ')',
      ...drifting(drift),
    ],
  ];
}

/** What goes towards a limit is not due yet, and is asked for with what is. */
function drifting({ past, reaching }: DriftView): readonly Piece[] {
  const drifts = past.length + reaching.length;
  if (drifts === 0) return ['.'];
  return [
    `. ${count(drifts, 'point drifts', 'points drift')} towards a limit${past.length === 0 ? '' : ' or past it'} (`,
    pageOf('drift'),
    ').',
  ];
}

function changed(changes: ChangesView): Said[] {
  const { since, entries, moved, fitted, removed, found, settled, opened, closed } = changes;
  const verified = moved.filter(({ to }) => to === 'verified').length;
  const contradicted = moved.filter(({ to }) => to === 'contradicted').length;
  return [
    [
      `Since ${dayWords(since)}: ${count(entries, 'entry', 'entries')}; ${count(moved.length, 'spec')} stand otherwise than then, ${verified} of them now verified and ${contradicted} contradicted; ${count(fitted.length, 'part')} fitted, ${removed.length} removed; ${count(opened, 'job')} opened and ${closed} closed; ${count(found.length, 'finding')} new and ${settled.length} settled (`,
      pageOf('changes'),
      ').',
    ],
  ];
}

function believed(site: Site, sealed: boolean): Said[] {
  const verified = standing(site, 'verified');
  const own = verified.filter(({ deciding }) => deciding?.basis !== 'witnessed').length;
  return [
    [
      `What is marked verified, as far as its evidence goes; for ${own} of ${verified.length} that is the owner's own word, which nobody else has confirmed. What is contradicted is not to be believed: the evidence counts. Nothing in this pack is an approval, and no figure in it takes the place of a survey. How the words are used stands on `,
      pageOf('reading'),
      sealed
        ? ', how to find out whether anything was altered later on '
        : '. This copy carries no seal to show whether it was altered later: ask for one that does (',
      pageOf('seal'),
      sealed ? '.' : ').',
    ],
  ];
}

function resting({ reckoning }: Site): Said[] {
  const { exposures, money, specs } = reckoning;
  const rested = exposures.filter(({ dependents }) => dependents.length > 0);
  if (rested.length === 0) return [['Nothing on record rests on a spec that is not verified.']];
  const most = rested.slice(0, 3).flatMap(({ spec, money: amounts, hours }) => {
    const title = specs.get(spec)?.spec.title ?? spec;
    const stake = [...amounts.map(showMoney), hours === 0 ? '' : `${hours} h`].filter((word) => word !== '');
    return [stake.length === 0 ? title : `${title} (${stake.join(', ')})`];
  });
  const spent = money.map(({ total, currency }) => showMoney({ amount: total, currency }));
  return [
    [
      `Decisions, parts, plans or work rest on ${count(rested.length, 'spec')} that ${rested.length === 1 ? 'is' : 'are'} not verified; most on ${listed(most)}.${spent.length === 0 ? '' : ` Money on record in all: ${listed(spent)}.`} All of it stands on `,
      pageOf('resting'),
      '.',
    ],
  ];
}
