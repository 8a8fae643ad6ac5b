import { stringify } from 'yaml';
import type { Hideable } from '../../src/check/model.js';

/**
 * A book with something that can be found again in every field of the format: a word that stands nowhere else, or a
 * number. For each it is known who may see it.
 */

/**
 * Who may see a canary: everybody, the owner alone, nobody but who opens the files, or who is kept from none of some
 * classes.
 */
export type Sight = Hideable | 'shown' | 'owner' | 'nobody' | `${Hideable}+${Hideable}`;

/** Canaries by what they are, and who may see each. */
export type Canaries = ReadonlyMap<string, Sight>;

export interface CanaryBook {
  /** Texts by path. */
  readonly files: Readonly<Record<string, string>>;
  /** What the files say, by the sort of file. */
  readonly data: Readonly<
    Record<'book' | 'system' | 'entry' | 'power-plan' | 'weights-plan', readonly unknown[]>
  >;
  readonly canaries: Canaries;
  /** Pictures that the book shows, by path; what is written into them besides nobody may see. */
  readonly pictures: readonly string[];
}

/** Makes the book. Everything in it fits together, so that it has no errors. */
export function canaryBook(): CanaryBook {
  const canaries = new Map<string, Sight>();
  /** A word that is a name made for the record as well. */
  const word = (sight: Sight): string => {
    const made = `zq${String(canaries.size + 1).padStart(4, '0')}k`;
    canaries.set(made, sight);
    return made;
  };
  /** A number that is met nowhere else. */
  const number = (sight: Sight): string => {
    const made = `${7001 + canaries.size}.37`;
    canaries.set(made, sight);
    return made;
  };
  const money = (sight: Sight) => `${number(sight)} EUR`;

  const owner = word('people');
  const names = {
    owner: `Anna ${word('people')}`,
    mate: `Ben ${word('people')}`,
    surveyor: `Cleo ${word('people')}`,
  };
  const mate = word('people');
  const surveyor = word('people');
  const supplier = `${word('suppliers')} Stores`;
  const serial = word('serials');
  const port = `Port ${word('places')}`;
  const place = `Yard ${word('places')}, shed`;
  const shown = { system: word('shown'), part: word('shown'), item: word('shown'), decision: word('shown') };
  const hidden = { system: word('owner'), part: word('owner'), item: word('owner'), decision: word('owner') };
  const photo = {
    shown: `photos/${word('photos')}.jpg`,
    png: `photos/${word('owner')}.png`,
    named: `photos/${mate}.jpg`,
  };
  const privatePoint = word('owner');
  const privateSpec = word('owner');

  const costIn = (sight: Sight): Sight =>
    sight === 'photos' || sight === 'prose' ? `${sight}+cost` : sight === 'shown' ? 'cost' : sight;

  /** A text in which names stand that some may not see. */
  const telling = (sight: Sight) =>
    `${word(sight)} with ${names.mate} and ${mate} of ${supplier} at ${port}: number ${serial} for ${money(costIn(sight))}.`;

  const book = {
    book: word('shown'),
    address: `https://example.org/${word('owner')}/`,
    subject: {
      name: word('shown'),
      type: word('shown'),
      built: 1968,
      about: telling('shown'),
      'home-port': port,
      particulars: {
        [word('shown')]: word('shown'),
        'engine serial': word('serials'),
        'insured for': money('cost'),
      },
    },
    language: 'en-GB',
    currency: 'EUR',
    units: { show: 'as-written', prefer: { length: 'mm' } },
    people: {
      [owner]: { name: names.owner, role: word('people'), licence: word('people') },
      [mate]: { name: names.mate, role: word('people'), 'shown-as': 'the mate' },
      [surveyor]: {
        name: names.surveyor,
        role: word('people'),
        'third-party': true,
        licence: word('people'),
      },
    },
    instruments: {
      [word('shown')]: {
        name: telling('shown'),
        serial,
        measures: { voltage: { range: ['0 V', '60 V'], accuracy: '1 %' } },
        checked: '2026-01-01',
        'again-every': '2 years',
      },
    },
    audiences: {
      [word('nobody')]: { hides: ['cost'], 'hides-systems': [hidden.system], 'needs-at-least': 'measured' },
      nothing: { hides: ['cost', 'suppliers', 'people', 'serials', 'places', 'hours', 'photos', 'prose'] },
      everything: { hides: [] },
    },
  };
  const instrument = Object.keys(book.instruments)[0] ?? '';

  const system = (id: string, sight: Sight, other: string | null) => {
    const point = word(sight);
    const meter = word(sight);
    const spec = word(sight);
    const test = word(sight);
    const upkeep = word(sight);
    const wanted = word(sight);
    const isHidden = sight === 'owner';
    const data = {
      system: id,
      title: telling(sight),
      group: word(sight),
      'in-service': '2025-01-01',
      hazards: ['dc-battery'],
      points: {
        [point]: {
          title: telling(sight),
          quantity: 'voltage',
          unit: 'V',
          'at-least': '1 V',
          'at-most': '50 V',
          expect: 'falling',
          'compare-at': { ambient: '20 °C within 5 K' },
          plausible: ['0 V', '60 V'],
          since: '2020-01-01',
          until: '2099-01-01',
          where: telling(sight),
          series: `series/${point}.csv`,
        },
        ...(isHidden
          ? { [word('owner')]: { quantity: 'resistance', correct: 'insulation-to-40-c' } }
          : {
              [word('shown')]: { quantity: 'resistance', correct: 'insulation-to-40-c' },
              [privatePoint]: {
                title: word('owner'),
                quantity: 'voltage',
                where: word('owner'),
                private: true,
              },
            }),
      },
      meters: { [meter]: { title: telling(sight), unit: 'h', 'wraps-at': '9999.9 h' } },
      specs: {
        [spec]: {
          title: telling(sight),
          value: '12 V',
          quantity: 'voltage',
          basis: 'told',
          source: telling(sight),
          since: '2025-01-01',
          within: '50 %',
          means: 'about',
          point,
          needs: 'measured',
          'again-every': '12 months',
          'check-by': telling(sight),
        },
        [word(sight)]: { value: telling(sight), basis: 'told' },
        ...(isHidden
          ? {}
          : {
              [`${word('serials')}-serial`]: { value: word('serials'), basis: 'told' },
              [word('cost')]: { value: money('cost'), basis: 'told' },
              [privateSpec]: {
                title: word('owner'),
                value: word('owner'),
                basis: 'told',
                source: word('owner'),
                private: true,
              },
            }),
      },
      derived: {
        [word(sight)]: {
          title: telling(sight),
          from: `0.5 * ${point}`,
          quantity: 'voltage',
          unit: 'V',
          correlated: [{ between: [point, spec], by: 1 }],
        },
        ...(isHidden
          ? {}
          : {
              // What is computed from something hidden goes with it, and what is computed from that.
              [word('owner')]: { title: word('owner'), from: `2 * ${privatePoint}`, quantity: 'voltage' },
            }),
      },
      tests: {
        [test]: {
          title: telling(sight),
          requires: { [wanted]: word(sight) },
          steps: [telling(sight)],
          hazards: ['dc-battery'],
          'again-every': '12 months',
        },
      },
      upkeep: {
        [upkeep]: {
          what: telling(sight),
          every: ['250 h', '12 months'],
          meter: `${id}.${meter}`,
          counts: 'from-done',
          safety: true,
          hazards: ['fuel'],
        },
        ...(other === null ? {} : { [word('owner')]: { what: word('owner'), every: '250 h', meter: other } }),
      },
      private: isHidden ? ['system'] : ['photos'],
      'private-sections': [isHidden ? 'Kept back' : 'Costs'],
    };
    const requirement = String(Object.values(data.tests[test]?.requires ?? {})[0]);
    return {
      data,
      point: `${id}.${point}`,
      meter: `${id}.${meter}`,
      spec: `${id}.${spec}`,
      test: `${id}.${test}`,
      upkeep: `${id}.${upkeep}`,
      wanted,
      requirement,
    };
  };
  const dark = system(hidden.system, 'owner', null);
  const light = system(shown.system, 'shown', dark.meter);

  const entry = (
    parts: ReturnType<typeof system>,
    id: string,
    ids: typeof shown,
    sight: Sight,
    date: string,
    picture: string,
  ) => {
    const of = (what: Hideable): Sight => (sight === 'owner' ? 'owner' : what);
    const [earlier, undone] = [word(sight), word(sight)];
    const closing = word(sight);
    const provenance = {
      with: instrument,
      by: mate,
      under: { ambient: '19 °C' },
      see: picture.slice(picture.lastIndexOf('/') + 1),
    };
    return {
      date,
      title: telling(sight),
      systems: sight === 'owner' ? [id] : [id, hidden.system],
      place: sight === 'owner' ? word('owner') : place,
      hours: [{ by: owner, spent: `${number(of('hours'))} h`, on: id }],
      meters: [{ meter: parts.meter, reads: '100 h', replaced: true, wrapped: true }],
      measurements: [
        { point: parts.point, value: '12.1 V', ...provenance, basis: 'measured', note: telling(sight) },
        {
          what: telling(sight),
          value: '27 mm',
          quantity: 'length',
          system: id,
          ...provenance,
          basis: 'measured',
          note: word(sight),
        },
        { [parts.point]: '11.9 V' },
        ...(sight === 'owner'
          ? []
          : [
              { point: `${id}.${privatePoint}`, value: '12.2 V', note: word('owner') },
              { point: dark.point, value: '12.3 V', note: word('owner') },
              { what: word('owner'), value: '28 mm', system: hidden.system },
            ]),
      ],
      statements: [
        {
          spec: parts.spec,
          says: '12.2 V',
          basis: 'measured',
          with: instrument,
          by: mate,
          see: provenance.see,
          note: telling(sight),
        },
        ...(sight === 'owner'
          ? []
          : [{ spec: `${id}.${privateSpec}`, says: word('owner'), basis: 'marked', note: word('owner') }]),
      ],
      tests: [
        {
          test: parts.test,
          readings: { [parts.wanted]: parts.requirement },
          ...provenance,
          note: telling(sight),
        },
      ],
      parts: [
        {
          part: ids.part,
          move: 'arrived',
          what: telling(sight),
          system: id,
          quantity: 2,
          cost: money(of('cost')),
          'from-supplier': sight === 'owner' ? word('owner') : supplier,
          due: '2026-01-05',
          serial: sight === 'owner' ? word('owner') : serial,
          mass: '2 kg',
          at: ['1 m', '0 m', '0 m'],
          from: ['2 m', '0 m', '0 m'],
          'rests-on': sight === 'owner' ? [parts.spec] : [parts.spec, dark.spec],
          see: picture,
          note: telling(sight),
        },
      ],
      decisions: [
        { decision: undone, question: telling(sight), chose: word(sight), because: word(sight) },
        {
          decision: ids.decision,
          question: telling(sight),
          options: [
            {
              option: parts.requirement,
              figures: { mass: '3 kg', cost: money(of('cost')), fee: money(of('cost')) },
              note: telling(sight),
            },
          ],
          chose: parts.requirement,
          because: telling(sight),
          system: id,
          'rests-on': [parts.spec],
          'holds-while': `${parts.point} > 1 V`,
          undoes: undone,
        },
        ...(sight === 'owner'
          ? []
          : [
              {
                decision: word('owner'),
                question: word('owner'),
                chose: word('owner'),
                because: word('owner'),
                'holds-while': `${dark.point} > 1 V`,
              },
            ]),
      ],
      opens: [
        { item: earlier, what: telling(sight) },
        {
          item: ids.item,
          what: telling(sight),
          system: id,
          size: `${number(of('hours'))} h`,
          'waits-on': [
            `item ${earlier}`,
            ...(sight === 'owner' ? [] : [`part ${hidden.part}`, `decision ${hidden.decision}`]),
          ],
          by: '2026-12-01',
          goal: true,
          defect: true,
          safety: true,
          'rests-on': [parts.spec],
        },
        { item: closing, what: word(sight) },
      ],
      closes: [closing],
      done: [parts.upkeep],
      photos: [
        { file: picture, alt: telling(of('photos')), caption: word(of('photos')) },
        ...(sight === 'owner'
          ? []
          : [
              { file: photo.png, alt: word('owner'), caption: word('owner'), private: true },
              { file: photo.named, alt: word('photos'), caption: word('photos') },
            ]),
      ],
      private: sight === 'owner' ? ['entry'] : ['serials'],
      'private-sections': [sight === 'owner' ? 'Kept back' : 'Costs'],
    };
  };
  const early = entry(dark, hidden.system, hidden, 'owner', '2026-01-02', `photos/${word('owner')}.jpg`);
  const late = entry(light, shown.system, shown, 'shown', '2026-02-03', photo.shown);
  const earlyPhoto = early.photos[0]?.file ?? '';

  const title = {
    shown: `${late.date}-out`,
    hidden: `${early.date}-${word('owner')}`,
    told: `2026-03-03-${mate}`,
  };
  const inProse = (sight: Sight): Sight => (sight === 'shown' ? 'prose' : sight);
  const prose = (sight: Sight, ref: string) => `
${telling(inProse(sight))} And **${names.mate}**, see [${word(inProse(sight))}](${title.hidden}.md) and [him](https://example.org/${mate}).

:reading[12.4 V]{point="${ref}" by="${mate}" note="${word(inProse(sight))}"}${sight === 'owner' ? '' : ` and :reading[12.5 V]{point="${dark.point}" note="${word('owner')}"}.`}

![${word(sight === 'owner' ? 'owner' : 'photos')}](../../${sight === 'owner' ? earlyPhoto : photo.shown})

## ${sight === 'owner' ? 'Kept back' : 'Costs'}

${word('owner')} :reading[13 mm]{what="${word('owner')}"} ![${word('owner')}](../../${photo.png})

### Below

${word('owner')}

## Again

${word(inProse(sight))}
`;
  const told = {
    date: '2026-03-03',
    title: `Out with ${names.mate}`,
    systems: [shown.system],
    photos: [{ file: photo.named, alt: word('photos') }],
  };

  const power = {
    title: word('shown'),
    cases: {
      [word('shown')]: {
        title: telling('shown'),
        about: telling('shown'),
        days: '3 d',
        without: ['mains'],
        'charge-to': '85 %',
      },
    },
    sources: {
      mains: {
        title: telling('shown'),
        system: shown.system,
        continuous: `${light.point} * 10 A`,
        apparent: '2500 VA',
        'short-time': { power: '4000 W', for: '5 s' },
        derate: '80 %',
        fuel: '2.1 L/h',
        fills: ['bank'],
        runs: {},
        drains: 'bank',
        efficiency: '88 %',
        'rests-on': [light.spec],
      },
    },
    stores: {
      bank: {
        title: telling('shown'),
        system: shown.system,
        capacity: '100 Ah',
        voltage: '12 V',
        usable: '50 %',
        'charging-voltage': '14 V',
        'charge-efficiency': '90 %',
        acceptance: [{ at: '80 %', current: '25 A' }],
        'rests-on': [light.spec],
      },
    },
    loads: {
      [word('shown')]: {
        title: telling('shown'),
        system: shown.system,
        from: 'bank',
        running: '60 W',
        starting: '180 W',
        'power-factor': '0.8',
        uses: {},
        shed: 1,
        'rests-on': [light.spec],
      },
    },
    review: '12 months',
  };
  const [situation] = Object.keys(power.cases);
  const uses = { [situation ?? '']: { hours: '8 h', between: ['18:00-23:00'] } };
  Object.assign(power.sources.mains.runs, uses);
  for (const load of Object.values(power.loads)) Object.assign(load.uses, uses);

  // The weights are a sum, and a part of it is in an entry that nobody sees.
  const weights = {
    title: word('owner'),
    origin: word('owner'),
    hydrostatics: {
      on: '2025-01-01',
      source: word('owner'),
      length: '9.80 m',
      'aft-mark': '0.15 m',
      displacement: '9.6 t',
      'draught-fwd': '1.12 m',
      'draught-aft': '1.43 m',
      tpc: '0.21 t/cm',
      mctc: '0.11 t m/cm',
      lcf: '4.6 m',
      lcg: '4.8 m',
      kg: '0.9 m',
      gm: '0.74 m',
      valid: { 'mass-change': '10 %', 'trim-change': '15 cm', heel: '7 °' },
      'rests-on': [light.spec],
    },
    weights: {
      [word('owner')]: {
        title: word('owner'),
        mass: '92 kg',
        at: ['9.4 m', '0 m', '0.8 m'],
        since: '2025-01-01',
        system: shown.system,
        note: word('owner'),
        'rests-on': [light.spec],
      },
    },
  };

  const yaml = (data: unknown) =>
    `# ${word('nobody')}\n${stringify(data, { aliasDuplicateObjects: false, lineWidth: 0 })}`;
  const markdown = (data: unknown, body: string) => `---\n${yaml(data)}---\n${body}`;
  const rows = (sight: Sight) => {
    const value = `12.${canaries.size}7319`;
    canaries.set(value, sight);
    return `time,value (V)\n2026-02-03T10:00,${value}\n`;
  };
  const pointName = (ref: string) => ref.slice(ref.indexOf('.') + 1);
  return {
    files: {
      'book.yaml': yaml(book),
      [`systems/${shown.system}.md`]: markdown(
        light.data,
        `${telling('prose')}\n\n## Costs\n\n${word('owner')}\n`,
      ),
      [`systems/${hidden.system}.md`]: markdown(
        dark.data,
        `${word('owner')}\n\n## Kept back\n\n${word('owner')}\n`,
      ),
      [`entries/2026/${title.shown}.md`]: markdown(late, prose('shown', light.point)),
      [`entries/2026/${title.hidden}.md`]: markdown(early, prose('owner', dark.point)),
      [`entries/2026/${title.told}.md`]: markdown(told, word('prose')),
      'plans/power.yaml': yaml(power),
      'plans/weights.yaml': yaml(weights),
      [`series/${pointName(light.point)}.csv`]: rows('shown'),
      [`series/${pointName(dark.point)}.csv`]: rows('owner'),
    },
    data: {
      book: [book],
      system: [light.data, dark.data],
      entry: [early, late, told],
      'power-plan': [power],
      'weights-plan': [weights],
    },
    canaries,
    pictures: [photo.shown, photo.png, photo.named, earlyPhoto],
  };
}
