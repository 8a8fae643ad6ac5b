import type { Claim, Point, System } from '../check/model.js';
import { fromSi, kindInfo, printQuantity, type Quantity } from '../quantity/index.js';
import type { Space } from '../read/name-fields.js';
import type { PartPlace, Reckoning, TimelinePoint } from '../reckon/model.js';
import { limitsTold } from '../reckon/timelines.js';
import { trendOf } from '../reckon/trend.js';
import type { Card } from './card.js';
import { asYaml, type JsonSchema } from './schema-at.js';

/** What the book knows of each thing that it names, in a few lines. */

/** Tells of something that is named; null where the book does not know it. */
export function cardOf(space: Space, name: string, reckoning: Reckoning): Card | null {
  const { book } = reckoning;
  switch (space) {
    case 'ref':
      return refCard(name, reckoning);
    case 'requirement':
      return requirementCard(name, reckoning);
    case 'system':
      return systemCard(book.systems.get(name));
    case 'person':
      return personCard(name, reckoning);
    case 'instrument':
      return instrumentCard(name, reckoning);
    case 'part':
      return partCard(name, reckoning);
    case 'item':
      return itemCard(name, reckoning);
    case 'decision':
      return decisionCard(name, reckoning);
    case 'case':
      return planCard(name, book.plans.power?.cases[name]);
    case 'supply':
      return planCard(name, book.plans.power?.sources?.[name] ?? book.plans.power?.stores?.[name]);
  }
}

/** The meaning of a field, its unit, how it looks, and what it may be. */
export function fieldCard(key: string, schema: JsonSchema): Card | null {
  if (schema.description === undefined) return null;
  const example = schema.examples?.[0];
  const choice = schema.enum ?? (typeof schema.items === 'object' ? schema.items.enum : undefined);
  return {
    title: key,
    name: null,
    lines: [
      schema.description,
      ...(schema['x-unit'] === undefined ? [] : [`Unit: ${schema['x-unit']}.`]),
      ...(example === undefined ? [] : [`Such as: ${asYaml(example)}`]),
      ...(choice === undefined ? [] : [`One of: ${choice.join(', ')}.`]),
    ],
  };
}

function refCard(ref: string, reckoning: Reckoning): Card | null {
  const system = reckoning.book.systems.get(ref.slice(0, ref.indexOf('.')));
  const name = ref.slice(ref.indexOf('.') + 1);
  if (system === undefined) return null;
  return (
    pointCard(ref, reckoning) ??
    specCard(ref, reckoning) ??
    derivedCard(system, name, reckoning) ??
    testCard(ref, reckoning) ??
    upkeepCard(ref, reckoning) ??
    meterCard(ref, reckoning)
  );
}

function kindLine(kind: Point['kind'], unit: string): string {
  return `${capital(kindInfo(kind).title)}${unit === '1' ? '' : `, in ${unit}`}.`;
}

/** Readings shown before the last one. */
const EARLIER = 4;

function pointCard(ref: string, { timelines, asOf }: Reckoning): Card | null {
  const timeline = timelines.get(ref);
  if (timeline === undefined) return null;
  const { point, readings, last } = timeline;
  const before = readings.slice(-1 - EARLIER, -1).reverse();
  return {
    title: point.title,
    name: ref,
    lines: [
      kindLine(point.kind, point.unit),
      ...limits(point),
      ...(point.where === null ? [] : [`Where: ${point.where}.`]),
      last === null ? 'No reading yet.' : `Last: ${readingWords(last)}.`,
      ...(before.length === 0 ? [] : [`Before: ${before.map(valueAndDay).join('; ')}.`]),
      ...(readings.length < 2 ? [] : [trendOf(timeline, asOf).sentence]),
    ],
  };
}

function limits(point: Point): readonly string[] {
  const said = limitsTold(point, (limit) => printQuantity(limit));
  return said.length === 0 ? [] : [`${capital(said.join(', '))}.`];
}

function readingWords(at: TimelinePoint): string {
  const limit = {
    inside: ', inside its limits',
    outside: ', out of limits',
    undecided: ', too near a limit to tell',
    'no-limit': '',
    former: ', of what was there before',
  };
  const { with: instrument } = at.reading;
  return `${valueAndDay(at)}${instrument === null ? '' : `, with ${instrument}`}${limit[at.limit]}`;
}

function valueAndDay({ reading }: TimelinePoint): string {
  return `${printQuantity(reading.quantity)} on ${reading.date}`;
}

function specCard(ref: string, { specs }: Reckoning): Card | null {
  const state = specs.get(ref);
  if (state === undefined) return null;
  const { spec, standing, because, lapsesOn } = state;
  const source = spec.source === null ? '' : ` (${spec.source})`;
  return {
    title: spec.title,
    name: ref,
    lines: [
      `${capital(spec.basis)}${source}: ${claimWords(spec.claim)}${spec.bandWritten === null ? '' : `, ${spec.bandWritten}`}.`,
      `${capital(standing)}: ${because}`,
      ...(lapsesOn === null ? [] : [`The check holds until ${lapsesOn}.`]),
    ],
  };
}

function derivedCard(system: System, name: string, { values }: Reckoning): Card | null {
  const derived = system.derived.get(name);
  if (derived === undefined) return null;
  const value = values.of(derived.ref);
  const now = value === undefined ? null : quantityWords(fromSi(value.kind, value, derived.unit), value);
  return {
    title: derived.title,
    name: derived.ref,
    lines: [
      kindLine(derived.kind, derived.unit),
      `Worked out: ${derived.from}`,
      now === null
        ? 'It has no value yet.'
        : `Now: ${now}${value?.date == null ? '' : `, as of ${value.date}`}.`,
    ],
  };
}

/** A value that was worked out has no digits of its own: it is printed to those of what it was made from. */
function quantityWords(
  quantity: Quantity,
  { siResolution, si }: { siResolution: number; si: number },
): string {
  const resolution = si === 0 ? quantity.resolution : Math.abs(quantity.value * (siResolution / si));
  return printQuantity({ ...quantity, resolution });
}

function testCard(ref: string, { tests }: Reckoning): Card | null {
  const state = tests.get(ref);
  if (state === undefined) return null;
  const { test, last } = state;
  const outcome = { pass: 'passed', fail: 'failed', undecided: 'undecided' };
  return {
    title: test.title,
    name: ref,
    lines: [
      `Requires: ${test.requires.map(({ name, written }) => `${name} ${written}`).join('; ')}.`,
      last === null ? 'Not done yet.' : `Last done on ${last.run.date}: ${outcome[last.outcome]}.`,
    ],
  };
}

function requirementCard(name: string, { tests }: Reckoning): Card | null {
  const [test = '', own = ''] = name.split('/');
  const found = tests.get(test)?.test.requires.find((requirement) => requirement.name === own);
  return found === undefined
    ? null
    : { title: own.replaceAll('-', ' '), name: own, lines: [`Required by ${test}: ${found.written}.`] };
}

function upkeepCard(ref: string, { upkeep }: Reckoning): Card | null {
  const state = upkeep.get(ref);
  if (state === undefined) return null;
  const overdue = state.overdueByDate || state.overdueByHours;
  return {
    title: state.upkeep.what,
    name: ref,
    lines: [`Every ${state.upkeep.everyWritten}${overdue ? '; overdue' : ''}.`, state.because],
  };
}

function meterCard(ref: string, { meters }: Reckoning): Card | null {
  const state = meters.get(ref);
  if (state === undefined) return null;
  const last = state.readings.at(-1);
  const line = last === undefined ? 'Not read yet.' : `Last: ${printQuantity(last.reads)} on ${last.date}.`;
  return { title: state.title, name: ref, lines: [line] };
}

function systemCard(system: System | undefined): Card | null {
  if (system === undefined) return null;
  const { points, specs, tests, upkeep, hazards, group } = system;
  return {
    title: system.title,
    name: system.id,
    lines: [
      ...(group === null ? [] : [`Under ${group}.`]),
      `Points: ${points.size}. Specs: ${specs.size}. Tests: ${tests.size}. Upkeep: ${upkeep.size}.`,
      ...(hazards.length === 0 ? [] : [`Dangers: ${hazards.join(', ')}.`]),
    ],
  };
}

function personCard(id: string, { book }: Reckoning): Card | null {
  const person = book.people.get(id);
  if (person === undefined) return null;
  const words = [
    ...(person.role === null ? [] : [person.role]),
    ...(person.thirdParty ? ['third party'] : []),
  ];
  return { title: person.name, name: id, lines: words.length === 0 ? [] : [`${capital(words.join(', '))}.`] };
}

function instrumentCard(id: string, { book }: Reckoning): Card | null {
  const instrument = book.instruments.get(id);
  if (instrument === undefined) return null;
  const kinds = instrument.abilities.map(({ kind, accuracy }) =>
    accuracy === null ? kind : `${kind} to ${accuracy.written}`,
  );
  return {
    title: instrument.name,
    name: id,
    lines: [
      ...(kinds.length === 0 ? [] : [`Measures ${kinds.join(', ')}.`]),
      ...(instrument.checked === null ? [] : [`Last checked on ${instrument.checked}.`]),
    ],
  };
}

/** Where a part is now, in words. */
export const PLACES: Readonly<Record<PartPlace, string>> = {
  ordered: 'on order',
  ashore: 'here, not fitted',
  fitted: 'fitted',
  removed: 'removed',
  returned: 'sent back',
  sold: 'sold',
  scrapped: 'scrapped',
};

function partCard(id: string, { parts }: Reckoning): Card | null {
  const part = parts.get(id);
  if (part === undefined) return null;
  const due =
    part.now !== 'ordered' || part.due === null ? '' : `, due ${part.due}${part.late ? ', late' : ''}`;
  return {
    title: part.what ?? id,
    name: id,
    lines: [
      `${capital(PLACES[part.now])} since ${part.since}${due}.`,
      ...(part.supplier === null ? [] : [`From ${part.supplier}.`]),
      ...(part.restsOn.length === 0 ? [] : [`Rests on ${part.restsOn.join(', ')}.`]),
    ],
  };
}

const NOT_SHOWN = 'something that is not shown here';

function itemCard(id: string, { items }: Reckoning): Card | null {
  const item = items.get(id);
  if (item === undefined) return null;
  const { opened, status, closed, overdue } = item;
  const waits = [
    ...item.blockedBy,
    ...item.undecided,
    ...item.waitsFor,
    ...(item.waitsOnHidden ? [NOT_SHOWN] : []),
  ];
  const state =
    closed === null ? `${capital(status)}${overdue ? ', overdue' : ''}.` : `Done on ${closed.date}.`;
  return {
    title: opened.what,
    name: id,
    lines: [
      state,
      `Opened on ${opened.date}${opened.by === null ? '' : `, to be done by ${opened.by}`}.`,
      ...(waits.length === 0 || closed !== null ? [] : [`Waits on ${waits.join(', ')}.`]),
    ],
  };
}

function decisionCard(id: string, { decisions }: Reckoning): Card | null {
  const state = decisions.get(id);
  if (state === undefined) return null;
  const { decision, holding, undoneBy } = state;
  const unsure = 'Whether it holds cannot be told';
  const holds = { holds: 'It still holds', fails: 'It does not hold', undecided: unsure, unknown: unsure };
  return {
    title: decision.question,
    name: id,
    lines: [
      `Chosen on ${decision.date}: ${decision.chose}.`,
      ...(holding === null || decision.holdsWhile === null
        ? []
        : [`${holds[holding.verdict]}: ${decision.holdsWhile}.`]),
      ...(undoneBy === null ? [] : [`Taken back by ${undoneBy}.`]),
    ],
  };
}

function planCard(name: string, row: { readonly title?: string | undefined } | undefined): Card | null {
  return row === undefined ? null : { title: row.title ?? name, name, lines: [] };
}

function claimWords(claim: Claim): string {
  return claim.type === 'text' ? claim.text : printQuantity(claim.quantity);
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
