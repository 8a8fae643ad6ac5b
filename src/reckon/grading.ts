import type { Hazard } from '../check/model.js';

/** How findings are graded: the grades, the rules, and the dangers that raise a grade. */

/** How soon something should be settled, the most pressing first. */
export const GRADES = ['before-use', 'soon', 'when-convenient'] as const;
export type Grade = (typeof GRADES)[number];

/** Why something is listed. */
export const FINDING_RULES = [
  'failed-test',
  'limit-crossed',
  'false-limit',
  'safety-upkeep',
  'safety-item',
  'defect',
  'false-claim',
  'lapsed',
  'overdue-item',
] as const;
export type FindingRule = (typeof FINDING_RULES)[number];

/** What a rule says: what it lists, its grade, and whether a danger of the system raises it. */
export interface RuleInfo {
  readonly lists: string;
  readonly grade: Grade;
  /** The highest grade to which a danger raises it. */
  readonly raisedTo: Grade;
}

/**
 * The rules. They are ours: no standard grades the findings of a record. They know only what the book says and
 * look at every fact alike, so that the same book always gives the same list.
 */
export const RULE_INFO: Readonly<Record<FindingRule, RuleInfo>> = {
  'failed-test': {
    lists: 'a test that failed when it was last done',
    grade: 'soon',
    raisedTo: 'before-use',
  },
  'limit-crossed': {
    lists: 'a point whose last reading lies out of its limits',
    grade: 'soon',
    raisedTo: 'before-use',
  },
  'false-limit': {
    lists: 'a stated least or most that the evidence shows not to be kept',
    grade: 'soon',
    raisedTo: 'before-use',
  },
  'safety-upkeep': {
    lists: 'overdue upkeep that somebody’s safety hangs on',
    grade: 'before-use',
    raisedTo: 'before-use',
  },
  'safety-item': {
    lists: 'open work until which somebody can be hurt',
    grade: 'before-use',
    raisedTo: 'before-use',
  },
  defect: { lists: 'an open defect', grade: 'soon', raisedTo: 'before-use' },
  'false-claim': {
    lists: 'a claim that the evidence contradicts; a step higher where other things rest on it',
    grade: 'when-convenient',
    raisedTo: 'soon',
  },
  lapsed: {
    lists: 'a check or test that is out of date, in a system that can hurt somebody in use',
    grade: 'when-convenient',
    raisedTo: 'soon',
  },
  'overdue-item': {
    lists: 'other open work that is past its day',
    grade: 'when-convenient',
    raisedTo: 'when-convenient',
  },
};

/**
 * Dangers that a fault in use can set free. The others (lifting, hot work, work aloft, enclosed spaces,
 * coatings) are dangers of working on a thing and raise nothing.
 */
const IN_USE: ReadonlySet<Hazard> = new Set([
  'mains-ac',
  'dc-battery',
  'fuel',
  'gas',
  'exhaust',
  'flooding',
  'steering-loss',
  'rig-failure',
]);

/** The dangers among some that a fault in use can set free, each once. */
export function dangersInUse(hazards: readonly Hazard[]): readonly Hazard[] {
  return [...new Set(hazards)].filter((hazard) => IN_USE.has(hazard));
}

/**
 * The grade of something by a rule: that of the rule, one step higher where dangers raise it, and one more where
 * something else does; never above what the rule allows.
 */
export function gradeBy(rule: FindingRule, dangers: readonly Hazard[], more = false): Grade {
  const { grade, raisedTo } = RULE_INFO[rule];
  const steps = Number(dangers.length > 0) + Number(more);
  return GRADES[Math.max(GRADES.indexOf(raisedTo), GRADES.indexOf(grade) - steps)] as Grade;
}
