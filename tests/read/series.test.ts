import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readSeries, readTime, startOfDay, writeTime } from '../../src/read/series.js';

const time = fc
  .date({ min: new Date('1950-01-01'), max: new Date('2100-01-01'), noInvalidDate: true })
  .map((date) => Math.floor(date.getTime() / 1000));

describe('a file of readings', () => {
  it('gives back the rows that it was made of, whatever its line ends', () => {
    const rows = fc.tuple(
      fc.uniqueArray(time, { maxLength: 40 }),
      fc.infiniteStream(fc.integer({ min: -99999, max: 99999 }).map((tenths) => tenths / 10)),
      fc.constantFrom('\n', '\r\n'),
      fc.boolean(),
    );
    fc.assert(
      fc.property(rows, ([some, stream, end, ended]) => {
        const times = some.sort((a, b) => a - b);
        const values = times.map(() => stream.next().value as number);
        const lines = times.map((one, at) => `${writeTime(one)},${values[at]}`);
        const read = readSeries(['time,value (V)', ...lines].join(end) + (ended ? end : ''));
        expect([read.headed, read.unit?.text, read.faults]).toEqual([true, 'V', []]);
        expect([...read.times]).toEqual(times);
        expect([...read.values]).toEqual(values.map((value) => value + 0));
      }),
    );
  });

  it('tells each row that is wrong with its place, and reads the others', () => {
    const text =
      'time,value\r\n2026-03-01T10:00,1\r\n\r\nx\r\n2026-03-01T10:00,2\r\n2026-03-01T10:01:30,3\r\n';
    const { faults, values, offsets } = readSeries(text);
    expect(
      faults.map(({ why, row, offset, length }) => [why, row, text.slice(offset, offset + length)]),
    ).toEqual([
      ['columns', 4, 'x'],
      ['order', 5, '2026-03-01T10:00'],
    ]);
    expect([...values]).toEqual([1, 3]);
    expect([...offsets].map((at) => text.slice(at, at + 16))).toEqual([
      '2026-03-01T10:00',
      '2026-03-01T10:01',
    ]);
  });

  it.each([
    '',
    'time;value',
    'Time,value',
    'time,value V',
    'time,value (',
    '2026-03-01T10:00,1',
    'time,value ()',
  ])('takes %j for no heading', (text) => {
    expect(readSeries(text).headed).toBe(false);
  });

  it('knows units with brackets of their own', () => {
    expect(readSeries('time,value (bar(g))\n').unit).toEqual({ text: 'bar(g)', offset: 12 });
  });

  it('never throws, and tells of every line that it does not read', () => {
    const piece = fc.constantFrom(
      '2026-03-01T10:00',
      ',',
      '1.5',
      '\n',
      '\r\n',
      '-',
      'e5',
      '\u2028',
      ' ',
      '9'.repeat(20),
    );
    fc.assert(
      fc.property(fc.array(piece, { maxLength: 40 }), (pieces) => {
        const text = `time,value\n${pieces.join('')}`;
        const { faults, times } = readSeries(text);
        const full = text
          .split(/\r?\n/)
          .slice(1)
          .filter((line) => line !== '');
        expect(faults.length + times.length).toBe(full.length);
      }),
    );
  });
});

describe('times', () => {
  it('are read as they are written, whatever the zone of the machine', () => {
    fc.assert(
      fc.property(time, (one) => {
        expect(readTime(writeTime(one))).toBe(one);
      }),
    );
    expect(writeTime(readTime('2026-03-29T02:30'))).toBe('2026-03-29T02:30');
    expect(writeTime(readTime('2026-03-29T02:30:07'))).toBe('2026-03-29T02:30:07');
  });

  it.each([
    '2026-02-30T10:00',
    '2026-13-01T10:00',
    '2026-01-01T24:00',
    '2026-01-01T10:60',
    '2026-01-01T10:00:60',
  ])('that the clock or the calendar does not have are none: %s', (text) => {
    expect(readTime(text)).toBeNaN();
  });

  it.each([
    '2026-01-01 10:00',
    '2026-01-01T10:00Z',
    '2026-1-1T10:00:0',
    '2026-01-01T10.00',
    '2026/01/01T10:00',
    '',
  ])('of another form are none: %s', (text) => {
    expect(readTime(text)).toBeNaN();
  });

  it('begin with days', () => {
    expect(startOfDay(1970, 1, 2)).toBe(86400);
    expect(startOfDay(2026, 2, 29)).toBeNaN();
    expect(startOfDay(26, 2, 1)).toBeNaN();
  });
});
