import fc from 'fast-check';
import { addDays } from '../../src/reckon/calendar.js';
import { entry, type Files, system } from './book.js';

/** Random books that the checker finds in order, as files: sessions that each do a little of everything. */

const SYSTEM = system(
  's',
  `in-service: 2024-01-10
hazards: [exhaust]
points:
  p0: { quantity: charge, unit: Ah, at-least: 320 Ah }
  p1: { quantity: charge, unit: Ah }
meters: { hours: {} }
specs:
  c0: { value: 400 Ah, basis: told, within: 5 %, point: p0, again-every: 6 months }
  c1: { value: 350 ± 20 Ah, basis: marked, point: p1, since: 2024-06-01 }
  c2: { value: TL-400, basis: told }
derived:
  sum: { from: c0 + p1, quantity: charge }
  half: { from: 0.5 * sum, quantity: charge }
tests:
  run: { requires: { p0: ">= 320 Ah" }, again-every: 4 months }
upkeep:
  grease: { what: Grease, every: [50 h, 3 months], meter: hours }
  look: { what: Look, every: 1 month, counts: from-due, safety: true }
  meter: { what: Look by the meter, every: 30 h, meter: hours, safety: true }`,
);

const session = fc.record({
  gap: fc.nat({ max: 60 }),
  reading: fc.option(
    fc.record({
      point: fc.nat({ max: 1 }),
      value: fc.integer({ min: 250, max: 450 }),
      half: fc.nat({ max: 30 }),
    }),
  ),
  test: fc.option(fc.integer({ min: 300, max: 340 })),
  statement: fc.option(fc.constantFrom('TL-400', 'TL-200')),
  basis: fc.constantFrom('told', 'printed', 'marked', 'measured'),
  hours: fc.nat({ max: 12 }),
  meter: fc.option(fc.nat({ max: 40 })),
  done: fc.subarray(['s.grease', 's.look', 's.meter']),
  part: fc.option(
    fc.record({
      which: fc.nat({ max: 2 }),
      cost: fc.nat({ max: 500 }),
      rests: fc.subarray(['s.c0', 's.half', 's.p1', 's.c2']),
    }),
  ),
  item: fc.option(
    fc.record({
      size: fc.nat({ max: 20 }),
      goal: fc.boolean(),
      defect: fc.boolean(),
      rests: fc.subarray(['s.sum', 's.c0']),
    }),
  ),
  close: fc.boolean(),
  decide: fc.option(
    fc.constantFrom('s.c0 >= 380 Ah', 's.half <= 400 Ah', 's.p0 >= 320 Ah and s.p1 <= 400 Ah'),
  ),
});
type Session = typeof session extends fc.Arbitrary<infer T> ? T : never;

const MOVES = ['ordered', 'arrived', 'fitted', 'removed', 'scrapped'] as const;

/** What the sessions before have left: parts on their way, items open, decisions made. */
interface Story {
  date: string;
  reads: number;
  readonly parts: Map<number, number>;
  readonly open: string[];
  readonly decided: string[];
}

function tell(of: Session, index: number, story: Story): Files {
  story.date = addDays(story.date, of.gap);
  const lines = [`hours: [{ by: owner, spent: ${of.hours} h }]`, `done: [${of.done.join(', ')}]`];
  if (of.reading !== null)
    lines.push(`measurements: [{ s.p${of.reading.point}: ${of.reading.value} ± ${of.reading.half + 1} Ah }]`);
  // One entry reads a point once.
  if (of.test !== null && of.reading?.point !== 0)
    lines.push(`tests: [{ test: s.run, readings: { p0: ${of.test} Ah } }]`);
  if (of.statement !== null)
    lines.push(`statements: [{ spec: s.c2, says: ${of.statement}, basis: ${of.basis} }]`);
  if (of.meter !== null) {
    story.reads += of.meter;
    lines.push(`meters: [{ meter: s.hours, reads: ${story.reads} h }]`);
  }
  return entry(
    story.date,
    [...lines, ...work(of, index, story)].join('\n'),
    `n${String(index).padStart(2, '0')}`,
  );
}

function work(of: Session, index: number, story: Story): readonly string[] {
  const lines: string[] = [];
  if (of.part !== null) {
    const { which, cost, rests } = of.part;
    const step = story.parts.get(which) ?? 0;
    story.parts.set(which, step + 1);
    const move = MOVES[step % MOVES.length] ?? 'ordered';
    const bought =
      move === 'ordered'
        ? `, cost: ${cost}.50 EUR, from-supplier: Quay, due: ${addDays(story.date, 30)}`
        : '';
    lines.push(`parts: [{ part: q${which}, move: ${move}${bought}, rests-on: [${rests.join(', ')}] }]`);
  }
  if (of.close && story.open.length > 0) lines.push(`closes: [${story.open.shift()}]`);
  if (of.item !== null) {
    const waits = [
      ...story.open.slice(0, 2).map((id) => `item ${id}`),
      ...[...story.parts.keys()].slice(0, 1).map((part) => `part q${part}`),
      ...story.decided.slice(-1).map((id) => `decision ${id}`),
    ];
    const { size, goal, defect, rests } = of.item;
    const id = `i${index}`;
    lines.push(
      `opens: [{ item: ${id}, what: Do, size: ${size + 1} h, goal: ${goal}, defect: ${defect}, waits-on: [${waits.join(', ')}], rests-on: [${rests.join(', ')}], by: ${addDays(story.date, 20)} }]`,
    );
    story.open.push(id);
  }
  if (of.decide !== null) {
    const id = `d${index}`;
    lines.push(
      `decisions: [{ decision: ${id}, question: Which?, chose: this, because: so, holds-while: "${of.decide}", rests-on: [s.c0] }]`,
    );
    story.decided.push(id);
  }
  return lines;
}

/** The system of a random book, and its entries in order. */
export interface RandomBook {
  readonly system: Files;
  readonly entries: readonly { readonly date: string; readonly files: Files }[];
}

export const randomBook: fc.Arbitrary<RandomBook> = fc
  .array(session, { minLength: 1, maxLength: 14 })
  .map((sessions) => {
    const story: Story = { date: '2024-01-15', reads: 100, parts: new Map(), open: [], decided: [] };
    const entries = sessions.map((of, index) => {
      const files = tell(of, index, story);
      return { date: story.date, files };
    });
    return { system: SYSTEM, entries };
  });
