import { printQuantity } from '../quantity/index.js';
import type { RefSort, Space } from '../read/name-fields.js';
import type { Reckoning } from '../reckon/model.js';
import { PLACES } from './cards.js';

/** The names of this book that fit a field, with what is worth knowing of each before it is chosen. */
export interface NameOffer {
  readonly space: Space;
  readonly name: string;
  /** Half a line: the last value and its day, what an item is about. */
  readonly detail: string;
  /** Whether it belongs to the systems that the text is about: those come first. */
  readonly near: boolean;
}

/** Names of what systems declare, of one sort. `value`: whatever has a value. */
export function refOffers(
  sort: RefSort,
  reckoning: Reckoning,
  systems: ReadonlySet<string>,
): readonly NameOffer[] {
  const offer = (name: string, detail: string): NameOffer => ({
    space: 'ref',
    name,
    detail,
    near: systems.has(name.slice(0, name.indexOf('.'))),
  });
  const all = [...reckoning.book.systems.values()];
  switch (sort) {
    case 'point':
      return [...reckoning.timelines.values()].map(({ point: { ref, unit }, last }) =>
        offer(
          ref,
          last === null
            ? `in ${unit}, no reading yet`
            : lastWords(printQuantity(last.reading.quantity), last.reading.date),
        ),
      );
    case 'meter':
      return [...reckoning.meters.values()].map(({ meter, readings }) => {
        const last = readings.at(-1);
        return offer(
          meter,
          last === undefined ? 'not read yet' : lastWords(printQuantity(last.reads), last.date),
        );
      });
    case 'spec':
      return [...reckoning.specs.values()].map(({ spec, standing }) =>
        offer(spec.ref, `${spec.title}: ${standing}`),
      );
    case 'test':
      return [...reckoning.tests.values()].map(({ test, last }) =>
        offer(test.ref, `${test.title}${last === null ? '' : `; last done on ${last.run.date}`}`),
      );
    case 'upkeep':
      return [...reckoning.upkeep.values()].map(({ upkeep, dueOn }) =>
        offer(upkeep.ref, `${upkeep.what}${dueOn === null ? '' : `; due ${dueOn}`}`),
      );
    case 'value':
      return [
        ...refOffers('point', reckoning, systems),
        ...refOffers('spec', reckoning, systems),
        ...all.flatMap(({ derived }) => [...derived.values()].map(({ ref, title }) => offer(ref, title))),
      ];
  }
}

function lastWords(value: string, date: string): string {
  return `${value} on ${date}`;
}

/**
 * Names that stand alone: systems, people, parts, items and so on. Of items only those that are open.
 *
 * @param entry the entry that is being written: an item that it closes is still one that it may close.
 */
export function nameOffers(
  space: Exclude<Space, 'ref' | 'requirement'>,
  reckoning: Reckoning,
  systems: ReadonlySet<string>,
  entry: string | null,
): readonly NameOffer[] {
  const { book } = reckoning;
  const offer = (name: string, detail: string, system: string | null = null): NameOffer => ({
    space,
    name,
    detail,
    near: system !== null && systems.has(system),
  });
  switch (space) {
    case 'system':
      return [...book.systems.values()].map(({ id, title }) => offer(id, title, id));
    case 'person':
      return [...book.people.values()].map(({ id, name, role }) =>
        offer(id, role === null ? name : `${name}, ${role}`),
      );
    case 'instrument':
      return [...book.instruments.values()].map(({ id, name }) => offer(id, name));
    case 'part':
      return [...reckoning.parts.values()].map(({ id, what, now, system }) =>
        offer(id, `${what === null ? '' : `${what}; `}${PLACES[now]}`, system),
      );
    case 'item':
      return [...reckoning.items.values()]
        .filter(({ closed }) => closed === null || closed.entry === entry)
        .map(({ opened }) => offer(opened.id, opened.what, opened.system));
    case 'decision':
      return [...reckoning.decisions.values()].map(({ decision }) =>
        offer(decision.id, decision.question, decision.system),
      );
    case 'case':
      return Object.entries(book.plans.power?.cases ?? {}).map(([id, { title }]) => offer(id, title));
    case 'supply':
      return [
        ...Object.entries(book.plans.power?.sources ?? {}),
        ...Object.entries(book.plans.power?.stores ?? {}),
      ].map(([id, { title }]) => offer(id, title ?? ''));
  }
}
