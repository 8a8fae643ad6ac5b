import type { Random } from './random.js';
import { INSTRUMENTS, PEOPLE, PLACES, POINT_SORTS, type PointSort, SYSTEMS } from './vocabulary.js';

/** The systems of a made-up book: what they declare, and what entries need to know to use it. */

export interface MadePoint {
  readonly ref: string;
  readonly name: string;
  readonly sort: PointSort;
  readonly base: number;
  /** Change over the whole time of the book, as a share of the base. */
  readonly drift: number;
}

export interface MadeSpec {
  readonly ref: string;
  /** What entries state about it, right or wrong; null where it is a number of a point. */
  readonly text: string | null;
  readonly point: MadePoint | null;
}

export interface MadeSystem {
  readonly id: string;
  readonly points: readonly MadePoint[];
  readonly specs: readonly MadeSpec[];
  readonly tests: readonly { readonly ref: string; readonly points: readonly MadePoint[] }[];
  readonly upkeep: readonly string[];
  readonly meter: string | null;
  /** The system's file. */
  readonly text: string;
}

export interface SystemSizes {
  readonly points: number;
  readonly specs: number;
  readonly derived: number;
}

/** A value of a sort, with its digits and unit. */
export function written(value: number, { digits, unit }: PointSort): string {
  return `${value.toFixed(digits)} ${unit}`;
}

/** The book's own file. */
export function bookText(entries: number): string {
  const people = PEOPLE.map((id) => {
    const third = id === 'surveyor' || id === 'yard' ? ', third-party: true' : '';
    return `  ${id}: { name: ${id === 'owner' ? 'the owner' : id}${third} }`;
  });
  const instruments = INSTRUMENTS.map(([id, name, abilities]) =>
    [
      `  ${id}:`,
      `    name: ${JSON.stringify(name)}`,
      '    measures:',
      ...abilities.map((line) => `      ${line}`),
    ].join('\n'),
  );
  return [
    'book: made-up',
    'language: en-GB',
    'currency: EUR',
    'subject:',
    '  name: Longshore',
    '  type: made-up motor-sailer',
    '  built: 1961',
    `  about: A book of ${entries} entries, made to be measured.`,
    '  particulars: { length overall: 12.4 m, beam: 3.9 m, draught: 1.6 m }',
    'people:',
    ...people,
    'instruments:',
    ...instruments,
    'audiences:',
    '  public: { hides: [cost, suppliers, people] }',
    '',
  ].join('\n');
}

/** Makes a system that declares as much as it is asked to. */
export function makeSystem(random: Random, index: number, sizes: SystemSizes): MadeSystem {
  const [id, title, group, hazard] = SYSTEMS[index % SYSTEMS.length] as (typeof SYSTEMS)[number];
  const points = Array.from({ length: sizes.points }, (_, at) => makePoint(random, id, index + at, at));
  const specs = Array.from({ length: sizes.specs }, (_, at) => makeSpec(random, id, at, points));
  const tests = [0, 1].map((at) => ({
    ref: `${id}.round-${at + 1}`,
    points: points.slice(at * 3, at * 3 + 3),
  }));
  const meter = index % 6 === 4 ? `${id}.hours` : null;
  const text = [
    '---',
    `system: ${id}`,
    `title: ${title}`,
    `group: ${group}`,
    'in-service: 2004-04-01',
    `hazards: [${hazard}]`,
    'points:',
    ...points.map(pointLine),
    ...(meter === null ? [] : ['meters:', `  hours: { title: ${title} hours, unit: h }`]),
    'specs:',
    ...specs.map((spec) => spec.line),
    'derived:',
    ...Array.from({ length: sizes.derived }, (_, at) => derivedLine(points, at)),
    'tests:',
    ...tests.map(({ ref, points: read }) => testLine(ref.slice(id.length + 1), read)),
    'upkeep:',
    '  terminals: { every: 6 months, what: Look at all of it and tighten what is loose }',
    '  grease: { every: 12 months, what: Grease what moves }',
    '---',
    `${title}, as found. The list of it was made in the first winter and put right since.`,
    '',
  ].join('\n');
  return { id, points, specs, tests, upkeep: [`${id}.terminals`, `${id}.grease`], meter, text };
}

function makePoint(random: Random, system: string, sortIndex: number, at: number): MadePoint {
  const sort = POINT_SORTS[sortIndex % POINT_SORTS.length] as PointSort;
  const name = `${sort.name}-${PLACES[at % PLACES.length]}${at < PLACES.length ? '' : `-${Math.floor(at / PLACES.length)}`}`;
  const base = sort.usual * (1 + 0.1 * random.bell());
  return { ref: `${system}.${name}`, name, sort, base, drift: 0.12 * random.bell() };
}

function pointLine({ name, sort, base }: MadePoint): string {
  const limit =
    sort.limit === null
      ? ''
      : `, ${sort.limit}: ${written(base * (sort.limit === 'at-least' ? 0.96 : 1.04), sort)}`;
  const conditions = sort.conditions ? ', compare-at: { ambient: 20 °C within 8 K }' : '';
  return `  ${name}: { title: ${titled(name)}, quantity: ${sort.kind}, unit: "${sort.unit}"${limit}${conditions}, where: "at the usual place, after half an hour" }`;
}

function titled(name: string): string {
  const words = name.replaceAll('-', ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function makeSpec(
  random: Random,
  system: string,
  at: number,
  points: readonly MadePoint[],
): MadeSpec & { readonly line: string } {
  const ref = `${system}.stated-${at + 1}`;
  const since = `since: 2004-0${1 + (at % 9)}-1${at % 10}`;
  if (at % 4 === 3) {
    const text = `TL-${100 + at} x ${1 + (at % 4)}`;
    return {
      ref,
      text,
      point: null,
      line: `  stated-${at + 1}: { title: Model ${at + 1}, value: "${text}", basis: told, source: the seller's list, ${since}, needs: marked }`,
    };
  }
  const point = points[at % points.length] as MadePoint;
  const value = written(point.base * (1 + 0.08 * random.bell()), point.sort);
  const again = random.chance(0.5) ? ', again-every: 12 months' : '';
  const within = point.sort.kind === 'temperature' ? '3 K' : '6 %';
  return {
    ref,
    text: null,
    point,
    line: `  stated-${at + 1}: { title: Stated ${titled(point.name).toLowerCase()}, value: "${value}", basis: ${random.pick(['told', 'printed', 'marked'])}, source: the seller's list, ${since}, within: ${within}, point: ${point.name}${again} }`,
  };
}

const SCALED = POINT_SORTS.filter(
  ({ kind }) => !['temperature', 'specific-gravity', 'moisture', 'relative-humidity'].includes(kind),
);

function derivedLine(points: readonly MadePoint[], at: number): string {
  const scaled = points.filter(({ sort }) => SCALED.includes(sort));
  const { name, sort } = scaled[at % scaled.length] as MadePoint;
  return `  derived-${at + 1}: { title: Reckoned ${at + 1}, from: 0.${5 + (at % 5)} * ${name}, quantity: ${sort.kind}, unit: "${sort.unit}" }`;
}

function testLine(name: string, points: readonly MadePoint[]): string {
  const requires = points.map(
    ({ name: point, sort, base }) => `${point}: ">= ${written(base * 0.97, sort)}"`,
  );
  return `  ${name}: { title: ${titled(name)}, requires: { ${requires.join(', ')} }, steps: [Warm it up., Read all of it., Let it cool.], again-every: 6 months }`;
}
