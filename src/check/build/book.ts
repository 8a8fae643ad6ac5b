import type { BookFile } from '../../../schemas/book.js';
import { type DisplayPreference, isKind, type Kind, parseWithin } from '../../quantity/index.js';
import type { Ability, Audience, CheckedBook, Copy, Instrument, Person, Subject } from '../model.js';
import { collector, type Problem, type Report } from '../problem.js';
import { claimOf, dayOf, intervalOf, kindOf, quantityOf, withinSaid } from './values.js';

/** What book.yaml says, read. */
export type BookHead = Pick<
  CheckedBook,
  | 'id'
  | 'subject'
  | 'language'
  | 'currency'
  | 'address'
  | 'display'
  | 'people'
  | 'instruments'
  | 'audiences'
  | 'copy'
>;

/** Reads book.yaml. Parts of it that are wrong are reported and left out. */
export function buildBook(file: BookFile): {
  readonly head: BookHead;
  readonly problems: readonly Problem[];
} {
  const { problems, report } = collector('book.yaml');
  const head: BookHead = {
    id: file.book,
    subject: buildSubject(file.subject, report),
    language: file.language ?? 'en',
    currency: file.currency ?? null,
    address: file.address === undefined ? null : `${file.address.replace(/\/$/, '')}/`,
    display: buildDisplay(file.units, report),
    people: mapOf(file.people, buildPerson),
    instruments: mapOf(file.instruments, (id, instrument) => buildInstrument(id, instrument, report)),
    audiences: mapOf(file.audiences, buildAudience),
    copy: file.copy === undefined ? null : buildCopy(file.copy),
  };
  return { head, problems };
}

function mapOf<In, Out>(
  written: Readonly<Record<string, In>> | undefined,
  build: (id: string, value: In) => Out,
): ReadonlyMap<string, Out> {
  return new Map(Object.entries(written ?? {}).map(([id, value]) => [id, build(id, value)]));
}

function buildSubject(subject: BookFile['subject'], report: Report): Subject {
  return {
    name: subject.name,
    type: subject.type ?? null,
    built: subject.built === undefined ? null : String(subject.built),
    about: subject.about ?? null,
    homePort: subject['home-port'] ?? null,
    particulars: Object.entries(subject.particulars ?? {}).flatMap(([label, written]) => {
      const value = claimOf(written, null, ['subject', 'particulars', label], report);
      return value === null ? [] : [{ label, value }];
    }),
  };
}

function buildDisplay(units: BookFile['units'], report: Report): DisplayPreference {
  const prefer: Partial<Record<Kind, string>> = {};
  for (const [kind, unit] of Object.entries(units?.prefer ?? {})) {
    const path = ['units', 'prefer', kind];
    const known = kindOf(kind, path, (said, at) => report(said, at, { part: 'key' }));
    if (known !== null && quantityOf(`1 ${unit}`, known, path, (said, at) => report(said, at)) !== null)
      prefer[known] = unit;
  }
  return { system: units?.show ?? 'as-written', units: prefer };
}

function buildPerson(id: string, person: NonNullable<BookFile['people']>[string]): Person {
  return {
    id,
    name: person.name,
    role: person.role ?? null,
    thirdParty: person['third-party'] ?? false,
    licence: person.licence ?? null,
  };
}

type WrittenInstrument = NonNullable<BookFile['instruments']>[string];

function buildInstrument(id: string, instrument: WrittenInstrument, report: Report): Instrument {
  const at = ['instruments', id];
  return {
    id,
    name: instrument.name,
    serial: instrument.serial ?? null,
    abilities: Object.entries(instrument.measures ?? {}).flatMap(([kind, ability]) => {
      const path = [...at, 'measures', kind];
      if (!isKind(kind)) {
        kindOf(kind, path, (said, where) => report(said, where, { part: 'key' }));
        return [];
      }
      return [buildAbility(kind, ability, path, report)];
    }),
    checked: dayOf(instrument.checked, [...at, 'checked'], report),
    againEvery: intervalOf(instrument['again-every'], [...at, 'again-every'], report),
  };
}

function buildAbility(
  kind: Kind,
  ability: NonNullable<WrittenInstrument['measures']>[string],
  path: readonly (string | number)[],
  report: Report,
): Ability {
  const range = ability.range;
  const low = range === undefined ? null : quantityOf(range[0], kind, [...path, 'range', 0], report);
  const high = range === undefined ? null : quantityOf(range[1], kind, [...path, 'range', 1], report);
  const written = String(ability.accuracy ?? '');
  const accuracy = ability.accuracy === undefined ? null : parseWithin(written, kind);
  if (accuracy !== null && !accuracy.ok) report(withinSaid(accuracy.problem, written), [...path, 'accuracy']);
  return {
    kind,
    range: low !== null && high !== null ? { low, high } : null,
    accuracy: accuracy?.ok === true ? { ...accuracy.within, written } : null,
  };
}

function buildCopy(copy: NonNullable<BookFile['copy']>): Copy {
  return {
    for: copy.for,
    without: copy.without ?? [],
    alsoPrivate: copy['also-private'] ?? false,
    evidenceLeftOut: copy['evidence-left-out'] ?? false,
    needsAtLeast: copy['needs-at-least'] ?? null,
    noTotalsOf: copy['no-totals-of'] ?? [],
    waitsOnHidden: copy['waits-on-hidden'] ?? [],
  };
}

function buildAudience(id: string, audience: NonNullable<BookFile['audiences']>[string]): Audience {
  return {
    id,
    hides: audience.hides ?? [],
    hidesSystems: audience['hides-systems'] ?? [],
    needsAtLeast: audience['needs-at-least'] ?? null,
  };
}
