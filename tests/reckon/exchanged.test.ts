import { expect, test } from 'vitest';
import { reckon } from '../../src/reckon/reckon.js';
import { lastReadingOn, timelineOn } from '../../src/reckon/timelines.js';
import { trendOf } from '../../src/reckon/trend.js';
import { reckoned } from './book.js';

/** A bearing that was worn out and exchanged, and a plank that is no longer there. */

const entry = (date: string, more: string) =>
  `---\ndate: ${date}\ntitle: Round of ${date}\nsystems: [gear]\nmeasurements:\n${more}---\n`;
const FILES = {
  'systems/gear.md': `---
system: gear
title: Gear
points:
  play: { quantity: length, unit: mm, at-most: 1.2 mm, expect: rising, since: 2025-05-01 }
  plank: { quantity: moisture, unit: "%MC", at-most: 20 %MC, until: 2025-04-30 }
---
`,
  'entries/2024/2024-05-01-a.md': entry(
    '2024-05-01',
    '  - { point: gear.play, value: 1.4 mm }\n  - { point: gear.plank, value: 23 %MC }\n',
  ),
  'entries/2025/2025-05-02-b.md': entry('2025-05-02', '  - { point: gear.play, value: 0.3 mm }\n'),
  'entries/2026/2026-05-02-c.md': entry('2026-05-02', '  - { point: gear.play, value: 0.4 mm }\n'),
};

test('readings of what was there before are kept, and held against nothing', async () => {
  const { timelines, findings } = await reckoned('2026-06-01', FILES);
  const play = timelines.get('gear.play');
  expect(play?.readings.map(({ limit, comparable }) => [limit, comparable])).toEqual([
    ['former', false],
    ['inside', true],
    ['inside', true],
  ]);
  expect(play?.last?.reading.quantity.si).toBeCloseTo(0.0004);
  expect(trendOf(play as NonNullable<typeof play>, '2026-06-01').days).toBe(2);
  expect(findings).toEqual([]);
});

test('what is no longer there is out of limits no more, and nothing is read last', async () => {
  const { timelines } = await reckoned('2026-06-01', FILES);
  const plank = timelines.get('gear.plank');
  expect(plank).toMatchObject({ last: null, gone: true });
  expect(plank?.readings.map(({ limit }) => limit)).toEqual(['outside']);
});

test('before it was exchanged, and on its last day, it was what it was', async () => {
  const { book, findings } = await reckoned('2025-04-30', FILES);
  expect(findings.map(({ grounds }) => grounds[0].title).sort()).toEqual(['Plank', 'Play']);
  const whole = (await reckoned('2026-06-01', FILES)).book;
  const now = reckon(whole, '2026-06-01');
  for (const day of ['2024-04-30', '2024-05-01', '2025-04-30', '2025-05-01', '2025-05-02', '2026-06-01']) {
    const then = reckon(whole, day);
    for (const [ref, timeline] of now.timelines) {
      expect(timelineOn(timeline, day)).toEqual(then.timelines.get(ref));
      expect(lastReadingOn(timeline, day)).toEqual(then.timelines.get(ref)?.last);
    }
  }
  expect(book.entries.length).toBe(1);
});
