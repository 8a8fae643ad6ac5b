import type { Taken } from './child.js';
import type { Measured } from './measure.js';
import type { Stages } from './stages.js';

/** What was measured, as tables for a terminal. */

interface Row {
  readonly what: string;
  readonly measured: string;
  readonly ratio: number | null;
  /** The same ratio of processor time. */
  readonly cpu: number | null;
  readonly target: number | null;
}

const seconds = (value: number) => `${value.toFixed(2)} s`;
const megabytes = (value: number) => `${Math.round(value)} MB`;

/** The figures to reach for one size: what was measured, against what, and what is due. */
export function figures(measured: Measured): string {
  const { entries, bare, cold, nothing, one, checkCold, checkWarm, yaml, stages, live } = measured;
  const largest = entries >= 10_000;
  const warmDue = largest ? 0.25 : entries >= 2000 ? 0.35 : null;
  const big = entries >= 2000 ? 2.5 : null;
  const against = (what: string, taken: Taken, base: Taken, target: number | null): Row => {
    const ratio = taken.seconds / base.seconds;
    return { what, measured: seconds(taken.seconds), ratio, cpu: taken.cpu / base.cpu, target };
  };
  const share = (what: string, value: number, base: number, target: number | null): Row => {
    return { what, measured: seconds(value), ratio: value / base, cpu: null, target };
  };
  const plain = (what: string, text: string): Row => {
    return { what, measured: text, ratio: null, cpu: null, target: null };
  };
  const memory = { measured: megabytes(cold.peak), ratio: cold.peak / 1024, cpu: null, target: 1 };
  const rows: readonly Row[] = [
    plain('bare Eleventy, whole process', `${seconds(bare.seconds)}, ${megabytes(bare.peak)}`),
    against('build, cold', cold, bare, big),
    against('build, warm, nothing changed', nothing, bare, warmDue),
    against('build, warm, one entry changed', one, bare, warmDue),
    plain('js-yaml alone, front matter only', seconds(yaml / 1000)),
    share('check, cold, whole process', checkCold.seconds, yaml / 1000, largest ? 2.5 : null),
    share('check, warm, whole process', checkWarm.seconds, yaml / 1000, largest ? 1 : null),
    share('reckoning, of a cold check', stages.reckon / 1000, checkCold.seconds, largest ? 0.25 : null),
    share('live: entry saved to its page, of 0.4 s', live.entry / 1000, 0.4, 1),
    share('live: entry saved to page and home', live.home / 1000, 0.4, 1),
    { what: 'peak memory of a cold build, of 1 GB', ...memory },
  ];
  const columns = `${''.padEnd(62)}${'ratio'.padStart(8)}${'of CPU'.padStart(8)}`;
  return [heading(measured), columns, ...rows.map(line)].join('\n');
}

function heading({ entries, stages }: Measured): string {
  const { pages, readings, specs, dependents } = stages;
  return `${entries} entries, ${readings} readings, ${specs} specs, ${dependents} dependents, ${pages} pages`;
}

function line({ what, measured, ratio, cpu, target }: Row): string {
  const shown = (value: number | null) => (value === null ? '' : value.toFixed(2)).padStart(8);
  const missed = target !== null && ratio !== null && ratio > target;
  const due = target === null ? '' : `at most ${target.toFixed(2)}${missed ? '  NOT REACHED' : ''}`;
  return `  ${what.padEnd(42)}${measured.padStart(18)}${shown(ratio)}${shown(cpu)}  ${due}`.trimEnd();
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
