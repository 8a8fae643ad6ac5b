import type { Role } from './folder.js';
import type { PathPart } from './thorough.js';

/**
 * Where in the files of a book names stand: which field declares one, which field names one. Everything that the
 * editor does with names (completing, going to, renaming), and everything that a copy for an audience must not name
 * any more, comes from this one table.
 */

/** What a name is a name of. Everything that a system declares shares one set: `system.name`. */
export type Space =
  | 'ref'
  | 'requirement'
  | 'system'
  | 'person'
  | 'instrument'
  | 'part'
  | 'item'
  | 'decision'
  | 'case'
  | 'supply';

/** Which of the things that a system declares a field may name. */
export type RefSort = 'point' | 'meter' | 'spec' | 'test' | 'upkeep' | 'value';

/** What a field holds. */
export type Field =
  | {
      readonly holds: 'name';
      readonly space: Exclude<Space, 'ref' | 'requirement'>;
      readonly declares: boolean;
    }
  /** `local`: inside its own system's file a name may stand alone. */
  | { readonly holds: 'ref'; readonly sort: RefSort; readonly local: boolean }
  | { readonly holds: 'declared-ref' }
  | { readonly holds: 'formula'; readonly local: boolean }
  /** Names of what a test requires: of its own in a system file, of the test named beside it in an entry. */
  | { readonly holds: 'requirement'; readonly declares: boolean }
  /** `part NAME`, `item NAME`, `decision NAME`. */
  | { readonly holds: 'waits-on' };

type Row = readonly [pattern: string, field: Field];

const names = (space: Exclude<Space, 'ref' | 'requirement'>): Field => ({
  holds: 'name',
  space,
  declares: false,
});
const declares = (space: Exclude<Space, 'ref' | 'requirement'>): Field => ({
  holds: 'name',
  space,
  declares: true,
});
const ref = (sort: RefSort): Field => ({ holds: 'ref', sort, local: false });
const local = (sort: RefSort): Field => ({ holds: 'ref', sort, local: true });
const DECLARED: Field = { holds: 'declared-ref' };
const FORMULA: Field = { holds: 'formula', local: false };
const LOCAL_FORMULA: Field = { holds: 'formula', local: true };

/** Patterns: steps with slashes between, `*` for any one step, `@` at the end for the key instead of the value. */
const TABLE: Readonly<Record<Role, readonly Row[]>> = {
  book: [
    ['people/*@', declares('person')],
    ['instruments/*@', declares('instrument')],
    ['audiences/*/hides-systems/*', names('system')],
    ['copy/waits-on-hidden/*', names('item')],
  ],
  system: [
    ['system', declares('system')],
    ['points/*@', DECLARED],
    ['meters/*@', DECLARED],
    ['specs/*@', DECLARED],
    ['derived/*@', DECLARED],
    ['tests/*@', DECLARED],
    ['upkeep/*@', DECLARED],
    ['specs/*/point', local('point')],
    ['derived/*/from', LOCAL_FORMULA],
    ['derived/*/correlated/*/between/*', local('value')],
    ['tests/*/requires/*@', { holds: 'requirement', declares: true }],
    ['upkeep/*/meter', local('meter')],
  ],
  entry: [
    ['systems/*', names('system')],
    ['hours/*/by', names('person')],
    ['hours/*/on', names('system')],
    ['meters/*/meter', ref('meter')],
    ['measurements/*/point', ref('point')],
    ['statements/*/spec', ref('spec')],
    ['tests/*/test', ref('test')],
    ['tests/*/readings/*@', { holds: 'requirement', declares: false }],
    ...['measurements', 'statements', 'tests'].flatMap((list): Row[] => [
      [`${list}/*/by`, names('person')],
      [`${list}/*/with`, names('instrument')],
    ]),
    ...['measurements', 'parts', 'decisions', 'opens'].map(
      (list): Row => [`${list}/*/system`, names('system')],
    ),
    ['parts/*/part', declares('part')],
    ['decisions/*/decision', declares('decision')],
    ['decisions/*/holds-while', FORMULA],
    ['decisions/*/undoes', names('decision')],
    ['opens/*/item', declares('item')],
    ['opens/*/waits-on/*', { holds: 'waits-on' }],
    ...['parts', 'decisions', 'opens'].map((list): Row => [`${list}/*/rests-on/*`, ref('value')]),
    ['closes/*', names('item')],
    ['done/*', ref('upkeep')],
  ],
  'power-plan': [
    ['cases/*@', declares('case')],
    ['cases/*/without/*', names('supply')],
    ['sources/*@', declares('supply')],
    ['stores/*@', declares('supply')],
    ['sources/*/fills/*', names('supply')],
    ['sources/*/drains', names('supply')],
    ['sources/*/runs/*@', names('case')],
    ['loads/*/from', names('supply')],
    ['loads/*/uses/*@', names('case')],
    ...['continuous', 'apparent', 'short-time/power', 'fuel'].map(
      (key): Row => [`sources/*/${key}`, FORMULA],
    ),
    ['stores/*/capacity', FORMULA],
    ['stores/*/acceptance/*/current', FORMULA],
    ['loads/*/running', FORMULA],
    ['loads/*/starting', FORMULA],
    ...['sources', 'stores', 'loads'].flatMap((group): Row[] => [
      [`${group}/*/system`, names('system')],
      [`${group}/*/rests-on/*`, ref('value')],
    ]),
  ],
  'weights-plan': [
    ['weights/*/system', names('system')],
    ['weights/*/rests-on/*', ref('value')],
    ['hydrostatics/rests-on/*', ref('value')],
  ],
};

interface Split {
  readonly steps: readonly string[];
  readonly part: PathPart;
  readonly field: Field;
}

function split(rows: readonly Row[]): readonly Split[] {
  return rows.map(([pattern, field]) => ({
    steps: pattern.replace(/@$/, '').split('/'),
    part: pattern.endsWith('@') ? 'key' : 'value',
    field,
  }));
}

const SPLIT: Readonly<Record<Role, readonly Split[]>> = {
  book: split(TABLE.book),
  system: split(TABLE.system),
  entry: split(TABLE.entry),
  'power-plan': split(TABLE['power-plan']),
  'weights-plan': split(TABLE['weights-plan']),
};

/** What the field at a path holds, where that is names; null for any other. */
export function fieldAt(role: Role, path: readonly (string | number)[], part: PathPart): Field | null {
  // A reading in the short form has its point for a key.
  if (role === 'entry' && part === 'key' && path.length === 3 && path[0] === 'measurements') {
    return String(path[2]).includes('.') ? ref('point') : null;
  }
  const found = SPLIT[role].find(
    (row) =>
      row.part === part &&
      row.steps.length === path.length &&
      row.steps.every((step, index) => step === '*' || step === String(path[index])),
  );
  return found?.field ?? null;
}
