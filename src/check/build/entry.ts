import type { EntryFile, InlineReading, Measurement } from '../../../schemas/entry.js';
import type { Kind, Quantity } from '../../quantity/index.js';
import { TOLD } from '../inline.js';
import { instrumentSaid } from '../instrument.js';
import * as m from '../messages.js';
import type {
  Claim,
  Condition,
  Decision,
  Entry,
  Hours,
  Instrument,
  MeterReading,
  Opened,
  PartMove,
  Photo,
  Place,
  Position,
  Provenance,
  Reading,
  Requirement,
  Statement,
  TestReading,
  TestRun,
  Uncertainty,
  WaitsOn,
} from '../model.js';
import { findListed, findRef, findSystem, findTold, findValueName, type Names } from '../names.js';
import { nearest } from '../nearest.js';
import type { ParsedFile } from '../parse.js';
import { collector, type Problem, type Report } from '../problem.js';
import { readFormula } from './formula.js';
import { claimOf, dayOf, kindOf, moneyOf, optionalQuantity, quantityOf } from './values.js';

/** An entry's front matter, with the readings that its prose tells. */
export type EntryData = EntryFile & { readonly [TOLD]?: readonly InlineReading[] };

/**
 * Reads one entry against all that the book declares. What is wrong is reported and left out, so that one
 * slip in an entry hides nothing else of it.
 */
export function buildEntry(
  file: ParsedFile,
  written: EntryData,
  names: Names,
): { readonly entry: Entry; readonly problems: readonly Problem[] } {
  const { problems, report } = collector(file.source.path);
  const id = entryId(file.source.path);
  for (const [index, system] of written.systems.entries())
    findSystem(names, system, ['systems', index], report);
  for (const [index, item] of (written.closes ?? []).entries())
    findTold(names, 'item', item, ['closes', index], report);
  const photos = (written.photos ?? []).map(
    (photo): Photo => ({ file: photo.file, alt: photo.alt, caption: photo.caption ?? null, entry: id }),
  );
  const context: Context = {
    id,
    file: file.source.path,
    date: written.date,
    systems: written.systems,
    photos,
    names,
    report,
  };
  const tests = list(written.tests, (run, index) => buildTest(run, index, context));
  const entry: Entry = {
    id,
    file: file.source.path,
    hash: file.source.hash,
    date: written.date,
    title: written.title,
    systems: written.systems,
    location: written.place ?? null,
    hours: list(written.hours, (hours, index) => buildHours(hours, index, context)),
    meters: list(written.meters, (meter, index) => buildMeter(meter, index, context)),
    readings: [
      ...list(written.measurements, (reading, index) =>
        buildReading(reading, ['measurements', index], context),
      ),
      ...list(written[TOLD], (reading, index) => buildReading(reading, [TOLD, index], context)),
    ],
    statements: list(written.statements, (statement, index) => buildStatement(statement, index, context)),
    tests,
    parts: list(written.parts, (part, index) => buildPart(part, index, context)),
    decisions: list(written.decisions, (decision, index) => buildDecision(decision, index, context)),
    opens: list(written.opens, (open, index) => buildOpened(open, index, context)),
    closes: written.closes ?? [],
    done: (written.done ?? []).filter(
      (ref, index) => findRef(names, 'upkeep', ref, ['done', index], report) !== null,
    ),
    photos,
    private: written.private ?? [],
    body: file.body,
  };
  return { entry, problems };
}

/** The name of an entry: its file's, without folder and ending. */
export function entryId(path: string): string {
  return path.slice(path.lastIndexOf('/') + 1).replace(/\.md$/, '');
}

interface Context {
  readonly id: string;
  readonly file: string;
  readonly date: string;
  readonly systems: readonly string[];
  readonly photos: readonly Photo[];
  readonly names: Names;
  readonly report: Report;
}

type Item<K extends keyof EntryFile> = NonNullable<EntryFile[K]> extends readonly (infer T)[] ? T : never;

function list<In, Out>(
  written: readonly In[] | undefined,
  build: (value: In, index: number) => Out | null,
): readonly Out[] {
  return (written ?? []).flatMap((value, index) => {
    const built = build(value, index);
    return built === null ? [] : [built];
  });
}

/** The system that something belongs to: the one it names, else the entry's first. */
function systemOf(
  named: string | undefined,
  path: Place['path'],
  { systems, names, report }: Context,
): string {
  if (named === undefined) return systems[0] ?? '';
  if (findSystem(names, named, path, report) && !systems.includes(named))
    report(m.systemNotListed(named), path);
  return named;
}

function buildHours(hours: Item<'hours'>, index: number, context: Context): Hours | null {
  const path = ['hours', index];
  const spent = quantityOf(hours.spent, 'time', [...path, 'spent'], context.report);
  findListed(context.names, 'person', hours.by, [...path, 'by'], context.report);
  const on = hours.on === undefined ? null : systemOf(hours.on, [...path, 'on'], context);
  if (spent === null) return null;
  return {
    date: context.date,
    by: hours.by,
    spent: spent.si / 3600,
    on,
    entry: context.id,
    place: { file: context.file, path },
  };
}

function buildMeter(meter: Item<'meters'>, index: number, context: Context): MeterReading | null {
  const path = ['meters', index];
  const found = findRef(context.names, 'meter', meter.meter, [...path, 'meter'], context.report);
  const reads = quantityOf(meter.reads, 'time', [...path, 'reads'], context.report);
  if (found === null || reads === null) return null;
  return {
    date: context.date,
    meter: found.ref,
    reads,
    replaced: meter.replaced ?? false,
    wrapped: meter.wrapped ?? false,
    entry: context.id,
    place: { file: context.file, path },
  };
}

interface WrittenProvenance {
  readonly with?: string | undefined;
  readonly by?: string | undefined;
  readonly under?: Readonly<Record<string, string | number>> | undefined;
  readonly see?: string | undefined;
  readonly note?: string | undefined;
}

interface Provenances {
  readonly provenance: Provenance;
  readonly instrument: Instrument | null;
  readonly thirdParty: boolean;
}

function buildProvenance(written: WrittenProvenance, path: Place['path'], context: Context): Provenances {
  const { names, report } = context;
  const instrument = findListed(names, 'instrument', written.with, [...path, 'with'], report);
  const person = findListed(names, 'person', written.by, [...path, 'by'], report);
  const under = Object.entries(written.under ?? {}).flatMap(([name, value]): Condition[] => {
    const claim = claimOf(value, null, [...path, 'under', name], report);
    return claim === null ? [] : [{ name, value: claim }];
  });
  return {
    provenance: {
      with: instrument?.id ?? null,
      by: person?.id ?? null,
      under,
      see: seeOf(written.see, [...path, 'see'], context),
      note: written.note ?? null,
    },
    instrument,
    thirdParty: person?.thirdParty ?? false,
  };
}

/** The photo that `see` names, by its path or by its name alone. */
function seeOf(see: string | undefined, path: Place['path'], { photos, report }: Context): string | null {
  if (see === undefined) return null;
  const found = photos.find((photo) => photo.file === see || photo.file.endsWith(`/${see}`));
  if (found !== undefined) return found.file;
  report(
    m.seeNotListed(
      see,
      nearest(
        see,
        photos.map((photo) => photo.file.slice(photo.file.lastIndexOf('/') + 1)),
      ),
    ),
    path,
  );
  return null;
}

/**
 * How far a value can be trusted: what was written with it, else the accuracy of the instrument, else it is
 * not known. Reports a value that the instrument cannot have shown.
 */
function trust(
  quantity: Quantity,
  instrument: Instrument | null,
  path: Place['path'],
  report: Report,
): Uncertainty {
  const ability = instrument?.abilities.find((able) => able.kind === quantity.kind) ?? null;
  if (instrument !== null) for (const said of instrumentSaid(quantity, instrument)) report(said, path);
  if (quantity.siUncertainty !== null) return { si: quantity.siUncertainty, from: 'written' };
  if (ability?.accuracy != null)
    return {
      si: ability.accuracy.share * Math.abs(quantity.si) + ability.accuracy.amount,
      from: 'instrument',
    };
  return { si: null, from: 'unknown' };
}

// Objects below are written out rather than spread into: a book has a hundred thousand readings, and an object
// that begins with a spread costs many times one that does not.

/** A reading in its full form, with the path at which its value stands. */
interface FullReading {
  readonly point: string | null;
  readonly what: string | null;
  readonly value: string | number;
  readonly quantity: string | undefined;
  readonly system: string | undefined;
  readonly basis: Reading['basis'] | undefined;
  readonly provenance: WrittenProvenance;
  readonly valuePath: Place['path'];
  readonly pointPath: Place['path'];
  readonly pointPart: 'key' | 'value';
}

function fullForm(written: Measurement, path: Place['path']): FullReading | null {
  if ('point' in written && typeof written.point === 'string') {
    const long = written as Extract<Measurement, { point: string; value: unknown }>;
    return {
      point: long.point,
      what: null,
      value: long.value,
      quantity: undefined,
      system: undefined,
      basis: long.basis,
      provenance: long,
      valuePath: [...path, 'value'],
      pointPath: [...path, 'point'],
      pointPart: 'value',
    };
  }
  if ('what' in written && typeof written.what === 'string') {
    const free = written as Extract<Measurement, { what: string; value: unknown }>;
    return {
      point: null,
      what: free.what,
      value: free.value,
      quantity: free.quantity,
      system: free.system,
      basis: free.basis,
      provenance: free,
      valuePath: [...path, 'value'],
      pointPath: path,
      pointPart: 'value',
    };
  }
  const [ref, value] = Object.entries(written)[0] ?? [];
  if (ref === undefined || value === undefined) return null;
  return {
    point: ref,
    what: null,
    value: value as string | number,
    quantity: undefined,
    system: undefined,
    basis: undefined,
    provenance: NOTHING_SAID,
    valuePath: [...path, ref],
    pointPath: [...path, ref],
    pointPart: 'key',
  };
}

const NOTHING_SAID: WrittenProvenance = {};

function buildReading(written: Measurement, path: Place['path'], context: Context): Reading | null {
  const { names, report } = context;
  const full = fullForm(written, path);
  if (full === null) return null;
  const point =
    full.point === null ? null : findRef(names, 'point', full.point, full.pointPath, report, full.pointPart);
  const { provenance, instrument, thirdParty } = buildProvenance(full.provenance, path, context);
  if (full.point !== null && point === null) return null;
  const kind = point?.kind ?? freeKind(full.quantity, [...path, 'quantity'], report);
  if (kind === 'unknown') return null;
  const quantity = quantityOf(full.value, kind, full.valuePath, report);
  if (quantity === null) return null;
  return {
    date: context.date,
    system: point?.system ?? systemOf(full.system, [...path, 'system'], context),
    point: point?.ref ?? null,
    what: full.what,
    quantity,
    uncertainty: trust(quantity, instrument, full.valuePath, report),
    basis: full.basis ?? (thirdParty ? 'witnessed' : 'measured'),
    test: null,
    entry: context.id,
    place: { file: context.file, path: full.valuePath },
    ...provenance,
  };
}

function freeKind(written: string | undefined, path: Place['path'], report: Report): Kind | null | 'unknown' {
  if (written === undefined) return null;
  return kindOf(written, path, report) ?? 'unknown';
}

function buildStatement(written: Item<'statements'>, index: number, context: Context): Statement | null {
  const path = ['statements', index];
  const { names, report } = context;
  const spec = findRef(names, 'spec', written.spec, [...path, 'spec'], report);
  const { provenance, instrument } = buildProvenance(written, path, context);
  if (spec === null) return null;
  const kind = spec.claim.type === 'text' ? 'text' : spec.claim.quantity.kind;
  const says = claimOf(written.says, kind, [...path, 'says'], report);
  if (says === null) return null;
  return {
    date: context.date,
    spec: spec.ref,
    says,
    uncertainty: says.type === 'text' ? UNKNOWN : trust(says.quantity, instrument, [...path, 'says'], report),
    basis: written.basis,
    entry: context.id,
    place: { file: context.file, path },
    ...provenance,
  };
}

const UNKNOWN: Uncertainty = { si: null, from: 'unknown' };

function buildTest(written: Item<'tests'>, index: number, context: Context): TestRun | null {
  const path = ['tests', index];
  const { names, report } = context;
  const test = findRef(names, 'test', written.test, [...path, 'test'], report);
  const { provenance, instrument, thirdParty } = buildProvenance(written, path, context);
  if (test === null) return null;
  const required = new Map(test.requires.map((requirement) => [requirement.name, requirement]));
  const missing = [...required.keys()].filter((name) => !Object.hasOwn(written.readings, name));
  if (missing.length > 0)
    report(m.testReadingMissing(test.ref, missing), [...path, 'readings'], { part: 'key' });
  const readings = Object.entries(written.readings).flatMap(([name, value]): TestReading[] => {
    const at = [...path, 'readings', name];
    const requirement = required.get(name);
    if (requirement === undefined) {
      report(m.unknownReading(name, test.ref, nearest(name, required.keys()), [...required.keys()]), at, {
        part: 'key',
      });
      return [];
    }
    return testReading(name, value, requirement, instrument, at, report);
  });
  return {
    date: context.date,
    test: test.ref,
    readings,
    basis: thirdParty ? 'witnessed' : 'measured',
    entry: context.id,
    place: { file: context.file, path },
    ...provenance,
  };
}

function testReading(
  name: string,
  written: string | number,
  requirement: Requirement,
  instrument: Instrument | null,
  path: Place['path'],
  report: Report,
): TestReading[] {
  const value: Claim | null = claimOf(
    written,
    requirement.type === 'text' ? 'text' : requirement.kind,
    path,
    report,
  );
  if (value === null) return [];
  // An instrument that does not measure this kind is no fault here: a test takes several at once.
  const able =
    value.type === 'quantity' &&
    instrument?.abilities.some((ability) => ability.kind === value.quantity.kind) === true;
  const uncertainty =
    value.type === 'text' ? UNKNOWN : trust(value.quantity, able ? instrument : null, path, report);
  return [{ name, value, uncertainty }];
}

function positionOf(
  written: readonly (string | number)[] | undefined,
  path: Place['path'],
  report: Report,
): Position | null {
  if (written === undefined) return null;
  const [x, y, z] = written.map(
    (value, axis) => quantityOf(value, 'length', [...path, axis], report)?.si ?? null,
  );
  return x == null || y == null || z == null ? null : [x, y, z];
}

function restsOnOf(
  written: readonly string[] | undefined,
  path: Place['path'],
  { names, report }: Context,
): readonly string[] {
  return (written ?? []).filter((ref, index) => findValueName(names, ref, [...path, index], report));
}

function buildPart(written: Item<'parts'>, index: number, context: Context): PartMove {
  const path = ['parts', index];
  const { report } = context;
  return {
    date: context.date,
    part: written.part,
    move: written.move,
    what: written.what ?? null,
    system: systemOf(written.system, [...path, 'system'], context),
    quantity: written.quantity ?? null,
    cost: moneyOf(written.cost, [...path, 'cost'], report),
    supplier: written['from-supplier'] ?? null,
    due: dayOf(written.due, [...path, 'due'], report),
    serial: written.serial ?? null,
    mass: optionalQuantity(written.mass, 'mass', [...path, 'mass'], report),
    at: positionOf(written.at, [...path, 'at'], report),
    from: positionOf(written.from, [...path, 'from'], report),
    restsOn: restsOnOf(written['rests-on'], [...path, 'rests-on'], context),
    see: seeOf(written.see, [...path, 'see'], context),
    note: written.note ?? null,
    entry: context.id,
    place: { file: context.file, path },
  };
}

function buildDecision(written: Item<'decisions'>, index: number, context: Context): Decision {
  const path = ['decisions', index];
  const { names, report } = context;
  const options = (written.options ?? []).map((option, at) => ({
    option: option.option,
    figures: Object.entries(option.figures ?? {}).flatMap(([name, figure]) => {
      const value = claimOf(figure, null, [...path, 'options', at, 'figures', name], report);
      return value === null ? [] : [{ name, value }];
    }),
    note: option.note ?? null,
  }));
  const offered = options.map((option) => option.option);
  if (offered.length > 0 && !offered.includes(written.chose))
    report(m.choseNoneOffered(written.chose, offered), [...path, 'chose']);
  const holdsWhile = written['holds-while'] ?? null;
  const holdsPath = [...path, 'holds-while'];
  const holdsFormula =
    holdsWhile === null ? null : readFormula(holdsWhile, 'truth', null, names, holdsPath, report);
  if (written.undoes !== undefined) findTold(names, 'decision', written.undoes, [...path, 'undoes'], report);
  return {
    date: context.date,
    id: written.decision,
    question: written.question,
    options,
    chose: written.chose,
    because: written.because,
    system: systemOf(written.system, [...path, 'system'], context),
    restsOn: restsOnOf(written['rests-on'], [...path, 'rests-on'], context),
    holdsWhile,
    holdsFormula,
    undoes: written.undoes ?? null,
    entry: context.id,
    place: { file: context.file, path },
  };
}

function buildOpened(written: Item<'opens'>, index: number, context: Context): Opened {
  const path = ['opens', index];
  const { report } = context;
  return {
    date: context.date,
    id: written.item,
    what: written.what,
    system: systemOf(written.system, [...path, 'system'], context),
    size: optionalQuantity(written.size, 'time', [...path, 'size'], report),
    waitsOn: (written['waits-on'] ?? []).flatMap((text, at) =>
      waitsOnOf(text, [...path, 'waits-on', at], context),
    ),
    by: dayOf(written.by, [...path, 'by'], report),
    goal: written.goal ?? false,
    defect: written.defect ?? false,
    safety: written.safety ?? false,
    restsOn: restsOnOf(written['rests-on'], [...path, 'rests-on'], context),
    entry: context.id,
    place: { file: context.file, path },
  };
}

function waitsOnOf(text: string, path: Place['path'], { names, report }: Context): readonly WaitsOn[] {
  const [sort, id] = text.split(' ') as [WaitsOn['kind'], string];
  const slice = { offset: sort.length + 1, length: id.length };
  return findTold(names, sort, id, path, report, slice) ? [{ kind: sort, id }] : [];
}
