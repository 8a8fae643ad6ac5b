import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readTime, writeTime } from '../../src/read/series.js';
import { timeReader } from '../../src/take/times.js';

function reader(form: string) {
  const made = timeReader(form);
  if (typeof made !== 'function') throw new Error(made.why);
  return made;
}

const at = (time: string) => readTime(time);

describe('times of a table', () => {
  it.each([
    ['DD.MM.YYYY HH:mm', '01.03.2026 10:20', '2026-03-01T10:20'],
    ['D.M.YY H:mm:ss', '1.3.26 9:05:07', '2026-03-01T09:05:07'],
    ['YYYY-MM-DDTHH:mm:ss', '2026-03-01T10:20:00', '2026-03-01T10:20'],
    ['MM/DD/YYYY hh:mm A', '03/01/2026 12:00 AM', '2026-03-01T00:00'],
    ['MM/DD/YYYY hh:mm A', '03/01/2026 12:59 p.m.', '2026-03-01T12:59'],
    ['D MMM YYYY', '1 March 2026', '2026-03-01T00:00'],
    ['MMM D, YYYY', 'Sept. 5, 2026', '2026-09-05T00:00'],
    ['YYYYMMDD HHmm', '20260301 1020', '2026-03-01T10:20'],
    ['YYYY-MM-DD HH:mm:ss.S', '2026-03-01 10:20:59.987', '2026-03-01T10:20:59'],
    ['DD.MM.YYYY HH:mm', '  01.03.2026   10:20 ', '2026-03-01T10:20'],
  ])('%s reads %j', (form, written, time) => {
    expect(reader(form)(written)).toBe(at(time));
  });

  it.each([
    ['DD.MM.YYYY HH:mm', '1.3.2026 10:20'],
    ['DD.MM.YYYY HH:mm', '29.02.2026 10:20'],
    ['DD.MM.YYYY HH:mm', '01.03.2026 24:00'],
    ['DD.MM.YYYY HH:mm', '01-03-2026 10:20'],
    ['DD.MM.YYYY HH:mm', '01.03.2026 10:20:00'],
    ['MM/DD/YYYY hh:mm A', '03/01/2026 13:00 PM'],
    ['MM/DD/YYYY hh:mm A', '03/01/2026 00:10 AM'],
    ['D MMM YYYY', '1 Foo 2026'],
    ['DD.MM.YYYY', ''],
  ])('%s does not read %j', (form, written) => {
    expect(reader(form)(written)).toBeNaN();
  });

  it.each(['HH:mm', 'DD.MM HH:mm', 'DD.MM.YYYY hh:mm', 'DD.MM.YYYY HH:mm A', 'DD.DD.MM.YYYY', 'nonsense'])(
    '%s is no form',
    (form) => {
      expect(timeReader(form)).toHaveProperty('why');
    },
  );

  it('are read as another formatter writes them', () => {
    const date = fc.date({ min: new Date('2000-01-01'), max: new Date('2099-12-31'), noInvalidDate: true });
    const written = new Intl.DateTimeFormat('en-GB', {
      day: '2-digit',
      month: 'short',
      year: 'numeric',
      hour: '2-digit',
      minute: '2-digit',
      second: '2-digit',
      hourCycle: 'h23',
      timeZone: 'UTC',
    });
    const read = reader('DD MMM YYYY, HH:mm:ss');
    fc.assert(
      fc.property(date, (one) => {
        expect(writeTime(read(written.format(one)))).toBe(writeTime(Math.floor(one.getTime() / 1000)));
      }),
    );
  });
});
