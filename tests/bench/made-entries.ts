import { type MadePoint, type MadeSystem, written } from './made-systems.js';
import { type Earlier, proseFrom } from './prose.js';
import type { Random } from './random.js';
import { JOBS, PEOPLE, SUPPLIERS, THINGS } from './vocabulary.js';

/** The entries of a made-up book, one after the other, so that parts, items and meters tell a possible story. */

export interface MadeEntry extends Earlier {
  readonly date: string;
  readonly frontMatter: string;
  readonly body: string;
}

interface Part {
  readonly id: string;
  readonly system: string;
  state: 'ordered' | 'ashore' | 'fitted';
}

interface Story {
  readonly random: Random;
  readonly systems: readonly MadeSystem[];
  readonly count: number;
  readonly meters: Map<string, number>;
  readonly parts: Part[];
  readonly open: string[];
  readonly decided: string[];
  readonly told: Earlier[];
}

/** One entry while it is being made: where it stands in the story, and what is written so far. */
interface Session {
  readonly index: number;
  readonly date: string;
  /** From 0 at the first entry to 1 at the last. */
  readonly time: number;
  readonly systems: readonly MadeSystem[];
  readonly lines: string[];
}

const FIRST_DAY = Date.UTC(2005, 0, 3);
const LAST_DAY = Date.UTC(2024, 10, 30);
const DAY = 86_400_000;

/** Makes the entries of a book. */
export function makeEntries(
  random: Random,
  systems: readonly MadeSystem[],
  count: number,
): readonly MadeEntry[] {
  const meters = new Map(systems.flatMap(({ meter }) => (meter === null ? [] : [[meter, 900] as const])));
  const story: Story = { random, systems, count, meters, parts: [], open: [], decided: [], told: [] };
  return Array.from({ length: count }, (_, index) => makeEntry(story, index));
}

function makeEntry(story: Story, index: number): MadeEntry {
  const { random, count, told } = story;
  const time = index / count;
  const day = Math.floor((FIRST_DAY + time * (LAST_DAY - FIRST_DAY)) / DAY) * DAY;
  const date = new Date(day).toISOString().slice(0, 10);
  const systems = random.some(story.systems, 1 + random.below(3));
  const session: Session = { index, date, time, systems, lines: [] };
  const title = `${random.pick(JOBS)} the ${random.pick(THINGS)} of the ${systems[0]?.id.replaceAll('-', ' ')}`;
  head(session, title);
  hours(story, session);
  meterReadings(story, session);
  const test = random.chance(0.2) ? random.pick(systems[0]?.tests ?? []) : null;
  measurements(story, session, test?.points ?? []);
  if (random.chance(0.3)) statements(story, session);
  if (test !== null) testRun(story, session, test);
  if (random.chance(0.4)) parts(story, session);
  if (random.chance(0.06)) decision(story, session);
  items(story, session);
  if (random.chance(0.25)) session.lines.push(`done: [${random.pick(systems[0]?.upkeep ?? [])}]`);
  // Entries of one day follow each other by name.
  const sameDay = told.slice(-9).filter((other) => other.id.startsWith(date)).length;
  const id = `${date}-${sameDay + 1}-${title.toLowerCase().replaceAll(' ', '-')}`;
  const entry = { id, year: date.slice(0, 4), title };
  const body = proseFrom(random, told.slice(-200));
  told.push(entry);
  return { ...entry, date, frontMatter: session.lines.join('\n'), body };
}

function head({ date, systems, lines, index }: Session, title: string): void {
  lines.push(`date: ${date}`, `title: ${title}`, `systems: [${systems.map(({ id }) => id).join(', ')}]`);
  if (index % 3 === 0) lines.push('place: Sallow Creek');
}

function hours({ random }: Story, { lines, systems }: Session): void {
  lines.push(
    'hours:',
    `  - { by: owner, spent: ${(1 + random.below(14) / 2).toFixed(1)} h, on: ${systems[0]?.id} }`,
  );
  if (random.chance(0.25)) lines.push(`  - { by: ${random.pick(PEOPLE)}, spent: ${1 + random.below(5)} h }`);
}

function meterReadings({ random, meters }: Story, { lines, systems }: Session): void {
  const shown = systems.flatMap(({ meter }) => (meter === null ? [] : [meter]));
  if (shown.length > 0) lines.push('meters:');
  for (const meter of shown) {
    const reads = (meters.get(meter) ?? 0) + random.next() * 3;
    meters.set(meter, reads);
    lines.push(`  - { meter: ${meter}, reads: ${reads.toFixed(1)} h }`);
  }
}

/** What a test reads is not measured besides. */
function measurements({ random }: Story, session: Session, inTest: readonly MadePoint[]): void {
  const points = session.systems
    .flatMap((system) => system.points)
    .filter((point) => !inTest.includes(point));
  session.lines.push('measurements:');
  for (const point of random.some(points, 7 + random.below(7))) measurement(random, point, session);
  if (random.chance(0.5))
    session.lines.push(
      `  - what: ${random.pick(THINGS)} to the next frame`,
      `    value: ${10 + random.below(40)} 1/4 in`,
    );
}

function measuredAt(random: Random, { base, drift, sort }: MadePoint, time: number): string {
  return written(base * (1 + drift * time + 0.015 * random.bell()), sort);
}

function measurement(random: Random, point: MadePoint, { lines, time }: Session): void {
  const { ref, sort, base } = point;
  const value = measuredAt(random, point, time);
  const [number] = value.split(' ');
  const withSpread = `${number} ± ${(Math.abs(base) * 0.01 + 10 ** -sort.digits).toFixed(sort.digits)} ${sort.unit}`;
  const form = random.next();
  const under = sort.conditions ? `{ ambient: ${14 + random.below(12)} °C }` : null;
  if (form < 0.2) lines.push(`  - ${ref}: ${random.chance(0.5) ? withSpread : value}`);
  else if (form < 0.4) {
    const tail = under === null ? '' : `, under: ${under}`;
    lines.push(`  - { point: ${ref}, value: ${value}, with: ${sort.instrument}${tail} }`);
  } else {
    lines.push(`  - point: ${ref}`, `    value: ${value}`, `    with: ${sort.instrument}`);
    if (under !== null) lines.push('    under:', `      ambient: ${14 + random.below(12)} °C`);
    if (random.chance(0.2)) lines.push(`    by: ${random.pick(PEOPLE)}`);
    if (random.chance(0.2)) lines.push(`    note: ${random.pick(JOBS).toLowerCase()} it again next time`);
  }
}

function statements({ random }: Story, { systems, lines, time }: Session): void {
  const specs = random.some(systems[0]?.specs ?? [], 1 + random.below(2));
  if (specs.length > 0) lines.push('statements:');
  for (const { ref, text, point } of specs) {
    const says =
      point === null ? `"${random.chance(0.8) ? text : 'TL-90'}"` : measuredAt(random, point, time);
    lines.push(
      `  - { spec: ${ref}, says: ${says}, basis: ${random.pick(['printed', 'marked', 'measured'])} }`,
    );
  }
}

function testRun({ random }: Story, { lines, time }: Session, test: MadeSystem['tests'][number]): void {
  const readings = test.points.map((point) => `${point.name}: ${measuredAt(random, point, time)}`);
  lines.push('tests:', `  - test: ${test.ref}`, `    readings: { ${readings.join(', ')} }`, '    by: owner');
}

function parts({ random, parts: all }: Story, session: Session): void {
  const { lines, systems, index, date } = session;
  const aboard = new Set(systems.map(({ id }) => id));
  lines.push('parts:');
  const next = all.find((part) => part.state !== 'fitted' && aboard.has(part.system));
  if (next !== undefined) {
    const move = next.state === 'ordered' ? 'arrived' : 'fitted';
    next.state = move === 'arrived' ? 'ashore' : 'fitted';
    lines.push(`  - { part: ${next.id}, move: ${move}, system: ${next.system} }`);
    if (random.chance(0.4)) return;
  }
  const system = systems[0] as MadeSystem;
  const thing = random.pick(THINGS);
  const id = `${thing}-${index}`;
  all.push({ id, system: system.id, state: 'ordered' });
  const due = new Date(Date.parse(date) + (5 + random.below(50)) * DAY).toISOString().slice(0, 10);
  lines.push(
    `  - part: ${id}`,
    '    move: ordered',
    `    what: ${thing} for the ${system.id.replaceAll('-', ' ')}`,
    `    cost: ${(8 + random.next() * 700).toFixed(2)} EUR`,
    `    from-supplier: ${random.pick(SUPPLIERS)}`,
    `    due: ${due}`,
    `    mass: ${(0.2 + random.next() * 9).toFixed(1)} kg`,
  );
  if (random.chance(0.3)) lines.push(`    rests-on: [${restsOn(random, system)}]`);
}

function restsOn(random: Random, { specs, points }: MadeSystem): string {
  const specRefs = random.some(specs, 1 + random.below(2)).map(({ ref }) => ref);
  return [...specRefs, ...(random.chance(0.3) ? [random.pick(points).ref] : [])].join(', ');
}

function decision({ random, decided }: Story, { systems, lines, index, time }: Session): void {
  const system = systems[0] as MadeSystem;
  const point = random.pick(system.points);
  const id = `way-${index}`;
  lines.push(
    'decisions:',
    `  - decision: ${id}`,
    `    question: Mend the ${random.pick(THINGS)} or buy another?`,
    '    options:',
    `      - { option: mend it, figures: { cost: ${20 + random.below(90)} EUR, time: ${2 + random.below(9)} h } }`,
    `      - { option: buy another, figures: { cost: ${200 + random.below(900)} EUR } }`,
    `    chose: ${random.chance(0.5) ? 'mend it' : 'buy another'}`,
    '    because: It is what the season leaves time for.',
    `    rests-on: [${restsOn(random, system)}]`,
    `    holds-while: "${point.ref} ${random.chance(0.5) ? '>=' : '<='} ${measuredAt(random, point, time)}"`,
  );
  const before = random.chance(0.1) ? decided.shift() : undefined;
  if (before !== undefined) lines.push(`    undoes: ${before}`);
  decided.push(id);
}

function items({ random, open, parts: all }: Story, { systems, lines, index, date }: Session): void {
  const opens = random.chance(0.3);
  const closes = open.length > 12 || (open.length > 3 && random.chance(0.22));
  if (opens) {
    const system = systems[0] as MadeSystem;
    const awaited = all.at(-1);
    const waits = [
      ...(random.chance(0.25) && awaited !== undefined ? [`part ${awaited.id}`] : []),
      ...(random.chance(0.25) && open.length > 0 ? [`item ${open.at(-1)}`] : []),
    ];
    lines.push(
      'opens:',
      `  - item: job-${index}`,
      `    what: ${random.pick(JOBS)} the ${random.pick(THINGS)} once it is dry`,
      `    size: ${1 + random.below(12)} h`,
    );
    if (waits.length > 0) lines.push(`    waits-on: [${waits.join(', ')}]`);
    if (random.chance(0.3)) lines.push(`    by: ${date.slice(0, 4)}-12-15`);
    if (random.chance(0.35)) lines.push(`    rests-on: [${restsOn(random, system)}]`);
  }
  // Some are never closed, so that a long book has work that has been open for long.
  const done = closes ? open.splice(random.below(Math.min(6, open.length)), 1) : [];
  if (done.length > 0) lines.push(`closes: [${done.join(', ')}]`);
  if (opens) open.push(`job-${index}`);
}
