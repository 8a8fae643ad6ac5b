import type { Measured } from './measure.js';
import type { Stages } from './stages.js';

/** What was measured, as tables for a terminal. */

interface Row {
  readonly what: string;
  readonly measured: string;
  readonly ratio: number | null;
  readonly target: number | null;
}

const seconds = (value: number) => `${value.toFixed(2)} s`;
const megabytes = (value: number) => `${Math.round(value)} MB`;

/** The figures to reach for one size: what was measured, against what, and what is due. */
export function figures(measured: Measured): string {
  const { entries, bare, cold, nothing, one, checkCold, checkWarm, yaml, live } = measured;
  const largest = entries >= 10_000;
  const warmDue = largest ? 0.25 : entries >= 2000 ? 0.35 : null;
  const big = entries >= 2000 ? 2.5 : null;
  const of = (what: string, value: number, against: number, target: number | null): Row => {
    return { what, measured: seconds(value), ratio: value / against, target };
  };
  const plain = (what: string, text: string): Row => ({ what, measured: text, ratio: null, target: null });
  const rows = [
    plain('bare Eleventy, whole process', `${seconds(bare.seconds)}, ${megabytes(bare.peak)}`),
    of('build, cold', cold.seconds, bare.seconds, big),
    of('build, warm, nothing changed', nothing.seconds, bare.seconds, warmDue),
    of('build, warm, one entry changed', one.seconds, bare.seconds, warmDue),
    plain('js-yaml alone, front matter only', seconds(yaml / 1000)),
    of('check, cold, whole process', checkCold.seconds, yaml / 1000, largest ? 2.5 : null),
    of('check, warm, whole process', checkWarm.seconds, yaml / 1000, largest ? 1 : null),
    of('reckoning, of a cold check', measured.stages.reckon / 1000, checkCold.seconds, largest ? 0.25 : null),
    {
      what: 'live: entry saved to its page, ms of 400',
      measured: seconds(live.entry / 1000),
      ratio: live.entry / 400,
      target: 1,
    },
    {
      what: 'live: entry saved to page and home',
      measured: seconds(live.home / 1000),
      ratio: live.home / 400,
      target: 1,
    },
    {
      what: 'peak memory of a cold build, of 1 GB',
      measured: megabytes(cold.peak),
      ratio: cold.peak / 1024,
      target: 1,
    },
  ];
  return [heading(measured), ...rows.map(line)].join('\n');
}

function heading({ entries, stages }: Measured): string {
  const { pages, readings, specs, dependents } = stages;
  return `${entries} entries, ${readings} readings, ${specs} specs, ${dependents} dependents, ${pages} pages`;
}

function line({ what, measured, ratio, target }: Row): string {
  const shown = ratio === null ? '' : ratio.toFixed(2);
  const due =
    target === null
      ? ''
      : `at most ${target.toFixed(2)}${ratio !== null && ratio > target ? '  NOT REACHED' : ''}`;
  return `  ${what.padEnd(42)}${measured.padStart(18)}${shown.padStart(8)}  ${due}`.trimEnd();
}

const PHASES = [
  'read',
  'parse',
  'schema',
  'check',
  'reckon',
  'keys',
  'render',
] as const satisfies readonly (keyof Stages)[];

/** Where the time of a cold build goes, the stages called one after the other in one process. */
export function phases({ stages, cold }: Measured): string {
  const total = PHASES.reduce((sum, phase) => sum + stages[phase], 0);
  const shares = PHASES.map(
    (phase) => `${phase} ${Math.round(stages[phase])} ms (${Math.round((100 * stages[phase]) / total)} %)`,
  );
  const rest = cold.seconds * 1000 - total;
  return `  stages: ${shares.join(', ')}; starting, writing and caching about ${Math.round(Math.max(0, rest))} ms`;
}

/** How stages grow from one size to the next, against n log n. */
export function growth(all: readonly Measured[]): string {
  const rows = all.slice(1).map((larger, index) => {
    const smaller = all[index] as Measured;
    const nLogN = (larger.entries * Math.log(larger.entries)) / (smaller.entries * Math.log(smaller.entries));
    const grown = (of: (measured: Measured) => number) => (of(larger) / of(smaller)).toFixed(1).padStart(8);
    return [
      `${smaller.entries} to ${larger.entries}`.padEnd(18),
      nLogN.toFixed(1).padStart(8),
      grown(({ stages }) => stages.reckon),
      grown(({ stages }) => stages.check),
      grown(({ checkCold }) => checkCold.seconds),
      grown(({ cold }) => cold.seconds),
      grown(({ bare }) => bare.seconds),
    ].join('');
  });
  const head = [
    'growth'.padEnd(18),
    ...['n log n', 'reckon', 'rules', 'check', 'build', 'bare'].map((name) => name.padStart(8)),
  ].join('');
  return [head, ...rows].join('\n');
}
