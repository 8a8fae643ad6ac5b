import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { PowerPlanFile } from '../../schemas/power-plan.js';
import { reckonPower } from '../../src/reckon/power/power.js';
import { bookOf, entry, reckoned, system } from './book.js';
import { caseOf, half, planned, si, sourceIn, storeIn } from './plan-book.js';

type Loads = NonNullable<PowerPlanFile['loads']>;
type Load = Loads[string];

const WH = 3600;
const cases = { day: { title: 'A day' } };

/** A load that runs in the case `day`. */
function load(running: string, hours: string, more: Partial<Load> = {}, between?: string[]): Load {
  const use = { hours, ...(between === undefined ? {} : { between }) };
  return { from: 'inverter', running, uses: { day: use }, ...more };
}

/** A plan with an inverter of 1000 W on a bank of 200 Ah, filled by a charger of 600 W. */
function plan(loads: Loads, change: Partial<PowerPlanFile> = {}): PowerPlanFile {
  return {
    cases,
    sources: {
      inverter: { continuous: '1000 W', drains: 'bank', efficiency: '80 %' },
      charger: { continuous: '600 W', fills: ['bank'] },
    },
    stores: { bank: { capacity: '200 Ah', voltage: '12 V', usable: '50 %' } },
    loads,
    ...change,
  };
}

const texts = (one: { readonly reasons: readonly { readonly text: string }[] }) =>
  one.reasons.map(({ text }) => text).join('\n');

describe('the profile of a day', () => {
  it('has the energy of its loads under it, however their windows lie', () => {
    const window = fc
      .tuple(fc.integer({ min: 0, max: 23 }), fc.integer({ min: 0, max: 23 }))
      .filter(([from, to]) => from !== to)
      .map(([from, to]) => ({
        text: `${String(from).padStart(2, '0')}:00-${String(to).padStart(2, '0')}:30`,
        length: (to + 0.5 - from + 24) % 24,
      }));
    const one = fc.tuple(
      fc.integer({ min: 1, max: 500 }),
      fc.double({ min: 0.05, max: 1, noNaN: true }),
      fc.option(window, { nil: undefined }),
      fc.boolean(),
    );
    fc.assert(
      fc.property(fc.array(one, { minLength: 1, maxLength: 8 }), (loads) => {
        let energy = 0;
        const named = loads.map(([watts, share, at, direct], n) => {
          const hours = Number(((at?.length ?? 24) * share).toFixed(4));
          energy += watts * hours * WH;
          const from = direct ? 'bank' : 'inverter';
          return [`load-${n}`, load(`${watts} W`, `${hours} h`, { from }, at && [at.text])] as const;
        });
        const found = caseOf(plan(Object.fromEntries(named)));
        const { spans, active, bands } = found.profile;
        const area = spans.reduce((sum, { from, to }, n) => sum + (to - from) * si(active[n] ?? null), 0);
        expect(area / energy).toBeCloseTo(1, 9);
        expect(si(found.energy) / energy).toBeCloseTo(1, 9);
        for (const [n, total] of active.entries())
          expect(bands.reduce((sum, band) => sum + (band.watts[n] ?? 0), 0)).toBeCloseTo(si(total), 6);
      }),
      { numRuns: 60 },
    );
  });

  it('counts a load with its mean power over its windows, over midnight too', () => {
    const found = caseOf(plan({ lamp: load('10 W', '4 h', { from: 'bank' }, ['22:00-06:00']) }));
    expect(found.profile.spans).toEqual([
      { from: 0, to: 6 * 3600 },
      { from: 6 * 3600, to: 22 * 3600 },
      { from: 22 * 3600, to: 24 * 3600 },
    ]);
    expect(found.profile.active.map(si)).toEqual([5, 0, 5]);
  });

  it('of a store has the losses of the inverter in it', () => {
    const found = caseOf(plan({ kettle: load('800 W', '30 min') }));
    expect(si(storeIn(found, 'bank').energy)).toBeCloseTo(500 * WH, 6);
    expect(si(sourceIn(found, 'inverter').energy)).toBeCloseTo(400 * WH, 6);
    expect(si(storeIn(found, 'bank').used)).toBeCloseTo((500 / 12) * 3600, 6);
  });
});

describe('what a source carries', () => {
  it('is limited by volt-amperes where the watts would do', () => {
    const sources = { inverter: { continuous: '1000 W', apparent: '1000 VA', drains: 'bank' } };
    const loads = { pump: load('700 W', '1 h', { 'power-factor': '0.6' }) };
    const without = caseOf(plan(loads));
    expect(sourceIn(without, 'inverter').verdict).toBe('works');
    const found = caseOf(plan(loads, { sources }));
    expect(sourceIn(found, 'inverter').verdict).toBe('fails');
    expect(texts(found)).toContain('When Pump runs all day, 1170 VA is asked of 1000 VA that Inverter gives');
    // 100 kW at a power factor of 0.7 is 143 kVA (pe-calc.com).
    const big = caseOf(plan({ mill: load('100 kW', '1 h', { 'power-factor': '0.7' }) }));
    expect(Math.abs(si(big.loads[0]?.apparent ?? null) / 1000 - 143)).toBeLessThan(0.2);
  });

  it('is less for hours than its rating where it is derated', () => {
    const sources = { inverter: { continuous: '1000 W', derate: '80 %', drains: 'bank' } };
    const heater = { heater: load('900 W', '1 h') };
    expect(caseOf(plan(heater)).verdict).toBe('works');
    expect(sourceIn(caseOf(plan(heater, { sources })), 'inverter').verdict).toBe('fails');
    // A start is held against the rating itself.
    const starting = { pump: load('700 W', '1 h', { starting: '950 W' }) };
    expect(sourceIn(caseOf(plan(starting, { sources })), 'inverter').verdict).toBe('works');
  });

  it('has to start the load that is hardest to start on top of all the others', () => {
    const sources = (power: string) => ({
      inverter: { continuous: '1000 W', 'short-time': { power, for: '5 s' }, drains: 'bank' },
    });
    const loads = {
      lamp: load('300 W', '1 h'),
      pump: load('200 W', '1 h', { starting: '900 W' }),
      fan: load('100 W', '1 h', { starting: '400 W' }),
    };
    // 300 W + 100 W while the pump starts at 900 W.
    expect(sourceIn(caseOf(plan(loads, { sources: sources('1300 W') })), 'inverter').verdict).toBe('works');
    const found = caseOf(plan(loads, { sources: sources('1299 W') }));
    expect(sourceIn(found, 'inverter').verdict).toBe('fails');
    expect(sourceIn(found, 'inverter').moments[0]?.start?.load).toBe('pump');
    expect(texts(found)).toContain('while Pump starts');
  });

  it('is undecided where the uncertainty reaches across the limit, and decided on the values where none is known', () => {
    const verdict = (running: string) =>
      sourceIn(caseOf(plan({ heater: load(running, '1 h') })), 'inverter').verdict;
    expect(verdict('950 ± 20 W')).toBe('works');
    expect(verdict('990 ± 20 W')).toBe('undecided');
    expect(verdict('1010 ± 20 W')).toBe('undecided');
    expect(verdict('1030 ± 20 W')).toBe('fails');
    expect(verdict('1000 W')).toBe('works');
    expect(verdict('1001 W')).toBe('fails');
  });

  it('sheds loads in their order, and only as many as it has to', () => {
    const found = caseOf(
      plan({
        cooker: load('600 W', '1 h', {}, ['18:00-19:00']),
        boiler: load('500 W', '2 h', { shed: 2 }, ['17:00-20:00']),
        laptop: load('60 W', '1 h', { shed: 1 }, ['18:00-20:00']),
      }),
    );
    const moments = sourceIn(found, 'inverter').moments;
    const at = (hour: number) => moments.find(({ from, to }) => from <= hour * 3600 && to > hour * 3600);
    expect(at(17)?.shed).toEqual([]);
    expect(at(18)?.shed).toEqual(['laptop', 'boiler']);
    expect(at(19)?.shed).toEqual([]);
    expect(at(18)?.verdict).toBe('works');
    expect(found.verdict).toBe('works');
    expect(texts(found)).toContain('Laptop and Boiler may have to be off from 18:00 to 19:00');
  });

  it('fails where loads that are never switched off are too much together', () => {
    const found = caseOf(plan({ kettle: load('700 W', '10 min'), toaster: load('600 W', '10 min') }));
    expect(found.verdict).toBe('fails');
    expect(sourceIn(found, 'inverter').together.pairs).toEqual([
      ['works', 'fails'],
      ['fails', 'works'],
    ]);
    expect(sourceIn(found, 'inverter').together.sets.map(({ loads }) => loads)).toEqual([
      ['kettle'],
      ['toaster'],
    ]);
  });

  it('fails where a load that is switched off does not get its hours', () => {
    const both = (hours: string) =>
      plan({
        cooker: load('600 W', '2 h', {}, ['17:00-19:00']),
        boiler: load('500 W', hours, { shed: 1 }, ['17:00-20:00']),
      });
    expect(caseOf(both('1 h')).verdict).toBe('works');
    const found = caseOf(both('2 h'));
    expect(found.verdict).toBe('fails');
    expect(texts(found)).toContain('Boiler does not get its 2 h a day');
  });

  it('cannot be said where a value is missing, unless it is too much without it', () => {
    const gap = load('s.unknown', '1 h');
    const found = caseOf(plan({ lamp: load('100 W', '1 h'), heater: gap }));
    expect(found.verdict).toBe('cannot-say');
    expect(texts(found)).toContain('s.unknown');
    expect(sourceIn(found, 'inverter').together.unknown).toEqual(['heater']);
    expect(caseOf(plan({ lamp: load('1100 W', '1 h'), heater: gap })).verdict).toBe('fails');
  });

  it('fails a load whose source is not there', () => {
    const found = caseOf(
      plan({ lamp: load('100 W', '1 h') }, { cases: { day: { title: 'A day', without: ['inverter'] } } }),
    );
    expect(found.verdict).toBe('fails');
    expect(found.reasons[0]?.about).toEqual({ sort: 'load', id: 'lamp' });
    expect(si(storeIn(found, 'bank').used)).toBe(0);
  });

  it('cannot be said of a load that is to run longer than its windows are', () => {
    const found = caseOf(plan({ lamp: load('100 W', '5 h', {}, ['18:00-20:00']) }));
    expect(found.verdict).toBe('cannot-say');
    expect(texts(found)).toContain('Lamp is to run 5 h a day, and there are only 2 h in which it may');
  });
});

describe('a store', () => {
  const acceptance = [
    { at: '50 %', current: '40 A' },
    { at: '100 %', current: '10 A' },
  ];

  it('lasts as long as what may be used does, where nothing charges it', () => {
    const stores = { bank: { capacity: '200 Ah', voltage: '12 V', usable: '50 %' } };
    const found = (days: string) =>
      caseOf({
        cases: { day: { title: 'A day', days } },
        stores,
        loads: { lamp: load('20 W', '24 h', { from: 'bank' }) },
      });
    // 480 Wh is 40 Ah a day, of 100 Ah.
    expect(si(storeIn(found('2.5 d'), 'bank').alone) / 86_400).toBeCloseTo(2.5, 9);
    expect(found('2.5 d').verdict).toBe('works');
    expect(found('3 d').verdict).toBe('fails');
    expect(texts(found('3 d'))).toContain('nothing charges it: it lasts 2.5 d, and 3 d is asked');
  });

  it('has to last one day where none is asked and nothing charges it', () => {
    const bank = (capacity: string) =>
      caseOf({
        cases,
        stores: { bank: { capacity, voltage: '12 V' } },
        loads: { lamp: load('20 W', '24 h', { from: 'bank' }) },
      }).verdict;
    expect(bank('40 Ah')).toBe('works');
    expect(bank('39 Ah')).toBe('fails');
    expect(bank('39 ± 2 Ah')).toBe('undecided');
  });

  it('is put back in the time that its acceptance allows', () => {
    const stores = { bank: { capacity: '100 Ah', voltage: '10 V', usable: '50 %', acceptance } };
    const found = caseOf(
      plan(
        { lamp: load('500 W', '1 h', { from: 'bank' }) },
        {
          stores,
          sources: { genset: { continuous: '1000 W', fills: ['bank'], fuel: '1 L/h' } },
        },
      ),
    );
    // 50 Ah at a current that falls from 40 A to 10 A: 50 ln 4 / 30 h.
    const hours = (50 * Math.log(4)) / 30;
    const [filler] = storeIn(found, 'bank').fillers;
    expect(si(filler?.hours ?? null) / 3600).toBeCloseTo(hours, 6);
    expect(si(filler?.alone ?? null) / 3600).toBeCloseTo(hours, 6);
    expect(si(sourceIn(found, 'genset').hours) / 3600).toBeCloseTo(hours, 6);
    expect(si(found.fuel) * 1000).toBeCloseTo(hours, 6);
    expect(found.verdict).toBe('works');
  });

  it('takes less time when it is not filled to the top', () => {
    const hours = (level: string) => {
      const found = caseOf(
        plan(
          { lamp: load('200 W', '1 h', { from: 'bank' }) },
          {
            cases: { day: { title: 'A day', 'charge-to': level } },
            stores: { bank: { capacity: '100 Ah', voltage: '10 V', usable: '50 %', acceptance } },
            sources: { genset: { continuous: '1000 W', fills: ['bank'], fuel: '1 L/h' } },
          },
        ),
      );
      return si(storeIn(found, 'bank').fillers[0]?.hours ?? null);
    };
    expect(hours('80 %')).toBeLessThan(hours('100 %') * 0.7);
  });

  it('runs down where its sources may not run long enough, and lasts by what is missing', () => {
    const short = (days?: string) =>
      caseOf(
        plan(
          { lamp: load('20 W', '24 h', { from: 'bank' }) },
          {
            cases: { day: { title: 'A day', ...(days === undefined ? {} : { days }) } },
            sources: { genset: { continuous: '120 W', fills: ['bank'], runs: { day: { hours: '2 h' } } } },
          },
        ),
      );
    // 40 Ah out and 20 Ah back; 100 Ah may be used.
    const store = storeIn(short(), 'bank');
    expect(si(store.short) / 3600).toBeCloseTo(20, 6);
    expect(si(store.lasts) / 86_400).toBeCloseTo(5, 6);
    expect(store.fillers[0]?.alone).toBeNull();
    expect(short().verdict).toBe('fails');
    expect(short('5 d').verdict).toBe('works');
    expect(short('6 d').verdict).toBe('fails');
  });

  it('is charged with what the loads of its source leave, while they run', () => {
    const found = (hours: string) =>
      caseOf(
        plan(
          {
            lamp: load('20 W', '24 h', { from: 'bank' }),
            boiler: load('800 W', hours, { from: 'genset' }, ['17:00-21:00']),
          },
          { sources: { genset: { continuous: '1000 W', fills: ['bank'], fuel: '1 L/h' } } },
        ),
      );
    // 40 Ah at 12 V is 480 Wh. While the boiler runs 200 W are left for it, afterwards 1000 W.
    const charging = (one: ReturnType<typeof found>) =>
      si(storeIn(one, 'bank').fillers[0]?.hours ?? null) / 3600;
    expect(charging(found('1 h'))).toBeCloseTo(1 + 280 / 1000, 6);
    expect(charging(found('4 h'))).toBeCloseTo(2.4, 6);
    // It runs as long as the longer of both takes.
    expect(si(sourceIn(found('4 h'), 'genset').hours) / 3600).toBeCloseTo(4, 9);
    expect(si(sourceIn(found('1 h'), 'genset').hours) / 3600).toBeCloseTo(1.28, 6);
  });

  it('is not drawn on where a source that is always there gives what is drawn', () => {
    const found = caseOf(plan({ lamp: load('500 W', '24 h', { from: 'bank' }) }));
    expect(storeIn(found, 'bank').carried).toBe(true);
    expect(found.verdict).toBe('works');
    // A generator is not run all day for that: it would have to charge more often.
    const sources = { genset: { continuous: '600 W', fills: ['bank'], fuel: '1 L/h' } };
    const burning = caseOf(plan({ lamp: load('500 W', '24 h', { from: 'bank' }) }, { sources }));
    expect(storeIn(burning, 'bank').carried).toBe(false);
    expect(texts(burning)).toContain('has to be charged 10 times a day');
  });

  it('says that it never fills where it accepts nothing at the top', () => {
    const dying = [
      { at: '80 %', current: '20 A' },
      { at: '100 %', current: '0 A' },
    ];
    const stores = { bank: { capacity: '100 Ah', voltage: '12 V', acceptance: dying } };
    const found = (level: string) =>
      caseOf(
        plan(
          { lamp: load('20 W', '6 h', { from: 'bank' }) },
          {
            stores,
            cases: { day: { title: 'A day', 'charge-to': level } },
          },
        ),
      );
    expect(found('100 %').verdict).toBe('cannot-say');
    expect(texts(found('100 %'))).toContain('give a lower charge-to');
    expect(found('95 %').verdict).toBe('works');
  });

  it('cannot be told where its source has loads that are not known, but is where it does without', () => {
    const loads = {
      lamp: load('20 W', '24 h', { from: 'bank' }),
      boiler: load('s.unknown', '1 h', { from: 'genset' }),
    };
    const sources = { genset: { continuous: '1000 W', fills: ['bank'] } };
    const found = (days: string) =>
      storeIn(caseOf(plan(loads, { sources, cases: { day: { title: 'A day', days } } })), 'bank').verdict;
    expect(found('9 d')).toBe('cannot-say');
    expect(found('2 d')).toBe('works');
  });
});

describe('hours that a source may run', () => {
  const sources = {
    genset: { continuous: '1000 W', runs: { day: { hours: '2 h', between: ['17:00-19:00'] } } },
  };

  it('hold for its loads, and loads without windows keep to them', () => {
    const verdict = (hours: string, between?: string[]) =>
      caseOf(plan({ boiler: load('800 W', hours, { from: 'genset' }, between) }, { sources, stores: {} }));
    expect(verdict('2 h').verdict).toBe('works');
    expect(verdict('2 h').loads[0]?.spans).toEqual([{ from: 17 * 3600, to: 19 * 3600 }]);
    expect(verdict('3 h').verdict).toBe('cannot-say');
    expect(verdict('1 h', ['17:30-18:30']).verdict).toBe('works');
    expect(texts(verdict('1 h', ['08:00-09:00']))).toContain(
      'Boiler runs from 08:00 to 09:00, and Genset only from 17:00 to 19:00',
    );
  });

  it('are too short where its loads keep it running longer', () => {
    const short = { genset: { continuous: '1000 W', runs: { day: { hours: '1 h' } } } };
    const boiler = load('800 W', '2 h', { from: 'genset' });
    const found = caseOf(plan({ boiler }, { sources: short, stores: {} }));
    expect(found.verdict).toBe('fails');
    expect(texts(found)).toContain('keep Genset running 2 h a day, and it may run 1 h');
  });
});

describe('uncertainty', () => {
  it('knows an input again that comes in by several loads', () => {
    const known = { current: '10 ± 1 A' };
    const of = (first: string, second: string) =>
      caseOf(
        plan({ a: load(first, '1 h', { from: 'bank' }), b: load(second, '1 h', { from: 'bank' }) }),
        known,
      ).energy;
    expect(half(of('s.current * 10 V', 's.current * 10 V')) ?? 0).toBeCloseTo(20 * WH, 6);
    expect(half(of('s.current * 10 V', '200 W - s.current * 10 V')) ?? 1).toBeCloseTo(0, 6);
    // Two values as written are two inputs; one that the plan lays down without ± is what it is.
    expect(half(of('100 ± 10 W', '100 ± 10 W')) ?? 0).toBeCloseTo(Math.SQRT2 * 10 * WH, 6);
    expect(half(of('100 ± 10 W', '100 W')) ?? 0).toBeCloseTo(10 * WH, 6);
  });

  it('is unknown where that of a value of the book is', () => {
    const loads = {
      a: load('s.power', '1 h', { from: 'bank' }),
      b: load('100 ± 10 W', '1 h', { from: 'bank' }),
    };
    expect(half(caseOf(plan(loads), { power: '100 W' }).energy)).toBeNull();
    // What is known of it still counts when it is held against a limit.
    const heaters = { a: load('s.power', '1 h'), b: load('95 ± 10 W', '1 h') };
    expect(sourceIn(caseOf(plan(heaters), { power: '900 W' }), 'inverter').verdict).toBe('undecided');
  });

  it('is carried through the time that charging takes', () => {
    const found = caseOf(
      plan(
        { lamp: load('120 W', '1 h', { from: 'bank' }) },
        { sources: { genset: { continuous: 's.rating', fills: ['bank'], fuel: '1 L/h' } } },
      ),
      { rating: '120 ± 12 W' },
    );
    const hours = storeIn(found, 'bank').fillers[0]?.hours ?? null;
    expect(si(hours) / 3600).toBeCloseTo(1, 6);
    expect((half(hours) ?? 0) / 3600).toBeCloseTo(0.1, 5);
  });

  it('of a formula counts an input once, whether it comes straight or through a derived value', async () => {
    const power = `cases: { day: { title: A day } }
sources: { inverter: { continuous: 1 kW } }
loads:
  one: { from: inverter, running: s.heat, uses: { day: { hours: 1 h } } }
  two: { from: inverter, running: s.amps * 10 V, uses: { day: { hours: 1 h } } }
`;
    const reckoning = await reckoned(
      '2026-02-01',
      system(
        's',
        'points: { amps: { quantity: current, unit: A } }\nderived: { heat: { from: amps * 10 V, quantity: power, unit: W } }',
      ),
      entry('2026-01-01', 'measurements:\n  - s.amps: 10 ± 1 A'),
      { 'plans/power.yaml': power },
    );
    const found = reckonPower(reckoning.book, reckoning.values)?.cases[0];
    expect(half(found?.energy ?? null)).toBeCloseTo(20 * WH, 6);
    expect(found?.restsOn.map(({ ref }) => ref)).toEqual(['s.amps', 's.heat']);
  });
});

describe('what a case rests on', () => {
  it('is told with its standing, and only as far as the case uses it', async () => {
    const power = `cases: { day: { title: A day }, night: { title: A night } }
sources: { inverter: { continuous: s.rating } }
loads:
  lamp: { from: inverter, running: 100 W, uses: { day: { hours: 1 h } }, rests-on: [s.lamps] }
`;
    const specs =
      'specs:\n  rating: { value: 1 kW, basis: told, within: 5 % }\n  lamps: { value: four, basis: told, needs: marked }';
    const files = [system('s', specs), { 'plans/power.yaml': power }];
    const { values } = await reckoned('2026-02-01', ...files);
    const [day, night] = reckonPower(await bookOf(...files), values)?.cases ?? [];
    expect(day?.restsOn).toEqual([
      { ref: 's.lamps', standing: 'unverified' },
      { ref: 's.rating', standing: 'unverified' },
    ]);
    expect(night?.restsOn).toEqual([]);
  });
});

describe('adding a load', () => {
  const power = fc.oneof(
    fc.integer({ min: 5, max: 900 }).map((watts) => `${watts} W`),
    fc
      .tuple(fc.integer({ min: 5, max: 900 }), fc.integer({ min: 1, max: 90 }))
      .map(([watts, u]) => `${watts} ± ${u} W`),
    fc.constant('s.unknown'),
  );
  const between = fc.option(
    fc.constantFrom<string[]>(
      ['06:00-09:00'],
      ['17:00-23:00'],
      ['22:00-02:00'],
      ['12:00-14:00', '18:00-20:00'],
    ),
    { nil: undefined },
  );
  const one = fc
    .record({
      running: power,
      starting: fc.option(fc.integer({ min: 5, max: 2500 }), { nil: undefined }),
      hours: fc.integer({ min: 1, max: 3 }),
      between,
      from: fc.constantFrom('bank', 'inverter', 'genset'),
      shed: fc.option(fc.integer({ min: 1, max: 3 }), { nil: undefined }),
      factor: fc.constantFrom('1', '0.6'),
    })
    .map(({ running, starting, hours, between: at, from, shed, factor }) =>
      load(
        running,
        `${hours} h`,
        {
          from,
          'power-factor': factor,
          ...(starting === undefined ? {} : { starting: `${starting} W` }),
          ...(shed === undefined ? {} : { shed }),
        },
        at,
      ),
    );
  const whole = fc.record({
    days: fc.option(fc.integer({ min: 1, max: 5 }), { nil: undefined }),
    limited: fc.boolean(),
    loads: fc.array(one, { minLength: 1, maxLength: 5 }),
    added: one,
  });

  it('leaves a store failing that has no room for a day of use, whatever comes back', () => {
    const bank = { from: 'bank', 'power-factor': '1' };
    const caseWith = (more: Readonly<Record<string, Load>>) =>
      caseOf({
        cases: { day: { title: 'A day', days: '1 d' } },
        sources: {
          inverter: { continuous: '1000 W', drains: 'bank', efficiency: '85 %' },
          genset: { continuous: '1500 W', fills: ['bank'], runs: { day: { hours: '6 h' } } },
        },
        stores: {
          bank: {
            capacity: '200 ± 10 Ah',
            voltage: '12 V',
            usable: '50 %',
            acceptance: [
              { at: '50 %', current: '60 A' },
              { at: '100 %', current: '6 A' },
            ],
          },
        },
        loads: { heater: load('419 ± 1 W', '3 h', bank), lamp: load('5 ± 1 W', '1 h', bank), ...more },
      });
    expect(storeIn(caseWith({}), 'bank').verdict).toBe('fails');
    const kettle = load('182 ± 1 W', '2 h', { from: 'inverter' });
    expect(storeIn(caseWith({ kettle }), 'bank').verdict).toBe('fails');
  });

  it('never turns a case that fails into one that works', () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(whole, ({ days, limited, loads, added }) => {
        const of = (list: readonly Load[]) =>
          caseOf({
            cases: { day: { title: 'A day', ...(days === undefined ? {} : { days: `${days} d` }) } },
            sources: {
              inverter: { continuous: '1000 W', apparent: '1200 VA', drains: 'bank', efficiency: '85 %' },
              genset: {
                continuous: '1500 ± 50 W',
                'short-time': { power: '2500 W', for: '5 s' },
                fills: ['bank'],
                fuel: '1 L/h',
                ...(limited ? { runs: { day: { hours: '6 h' } } } : {}),
              },
            },
            stores: {
              bank: {
                capacity: '200 ± 10 Ah',
                voltage: '12 V',
                usable: '50 %',
                acceptance: [
                  { at: '50 %', current: '60 A' },
                  { at: '100 %', current: '6 A' },
                ],
              },
            },
            loads: Object.fromEntries(list.map((item, n) => [`load-${n}`, item])),
          });
        const [before, after] = [of(loads), of([...loads, added])];
        seen.add(before.verdict);
        if (before.verdict === 'fails') expect(after.verdict).not.toBe('works');
        for (const id of ['inverter', 'genset'])
          if (sourceIn(before, id).verdict === 'fails') expect(sourceIn(after, id).verdict).not.toBe('works');
        if (storeIn(before, 'bank').verdict === 'fails')
          expect(storeIn(after, 'bank').verdict).not.toBe('works');
      }),
      { numRuns: 250 },
    );
    // Plans that fail and plans that work were among those tried, or nothing would have been shown.
    expect([...seen]).toEqual(expect.arrayContaining(['works', 'fails']));
  });
});

describe('a book without a power plan', () => {
  it('has nothing to reckon', () => {
    const { book, values } = planned({});
    expect(reckonPower(book, values)).toBeNull();
  });
});
