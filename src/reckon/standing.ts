import { BASES } from '../../schemas/common.js';
import type { Basis, Claim, Reading, Spec, Statement, Uncertainty } from '../check/model.js';
import { judge, printInterval } from '../quantity/index.js';
import { addInterval } from './calendar.js';
import type { Agreement, Evidence, SpecState, Standing } from './model.js';

/**
 * The standing of a spec: what is to be made of it today.
 *
 * A measured value is a value with a half-width U. Whether it agrees with what is stated is decided by
 * interval, as JCGM 106:2012 does in clause 8 where the guard band is U itself: the whole of value ± U inside
 * the allowed band *conforms* (guarded acceptance, 8.3.2); wholly outside it *does not conform* (guarded
 * rejection, 8.3.3); anything between is *undecided*, and the remedy is a better measurement, not a toss. An
 * unknown U is never taken for zero certainty or for none: the value is then judged alone (simple acceptance,
 * 8.2), and the evidence says that its uncertainty is unknown.
 *
 * Which evidence decides:
 * 1. evidence at or above the basis that the spec needs, and no weaker than the claim; of that, the newest
 *    (the stronger of one day, the last of one entry);
 * 2. where there is none, evidence that is only one of the two; of that, the newest. What is stronger than the
 *    claim but less than is needed can speak against it, and is too weak to prove it; what is as good as is
 *    needed but weaker than the claim can prove it, and is too weak to speak against it.
 * So where a measurement is needed a label never outweighs one, and what was measured last outweighs what was
 * measured before. The claim is no evidence for itself.
 */

/**
 * Evidence from before the spec was stated is left out, since it was of something else: what was there before.
 *
 * @param readings readings of the spec's point, in any order; of one entry, in the order of the entry.
 * @param statements statements that name the spec, likewise.
 * @param asOf the day, `YYYY-MM-DD`; nothing later may be among the evidence.
 */
export function standingOf(
  spec: Spec,
  readings: readonly Reading[],
  statements: readonly Statement[],
  asOf: string,
): SpecState {
  // Turned round, so that of one entry the last comes first: sorting keeps it there.
  const evidence = [
    ...readings.map((reading) => fromReading(reading, spec)).reverse(),
    ...statements.map((statement) => fromStatement(statement, spec)).reverse(),
  ]
    .filter(({ date }) => spec.since === null || date >= spec.since)
    .sort(strongestFirst);
  return standingBased(spec, evidence, asOf);
}

/**
 * The same from evidence that was gathered already.
 *
 * @param evidence as `standingOf` gives it, or what of it was there on an earlier day.
 */
export function standingBased(spec: Spec, evidence: readonly Evidence[], asOf: string): SpecState {
  return { ...standingBy(spec, decide(spec, evidence), asOf), evidence };
}

/** How a spec stands by a piece of evidence. */
export type Stands = Omit<SpecState, 'evidence'>;

/**
 * How a spec stood on any day, for many days: its evidence is weighed once.
 *
 * @param evidence as `standingOf` gives it.
 */
export function standingsOver(spec: Spec, evidence: readonly Evidence[]): (day: string) => Stands {
  const { proof, pool } = weighed(spec, [...evidence].sort(newestFirst));
  return (day) => {
    const known = ({ date }: Evidence) => date <= day;
    return standingBy(spec, proof.find(known) ?? pool.find(known) ?? null, day);
  };
}

function standingBy(spec: Spec, deciding: Evidence | null, asOf: string): Stands {
  const lapsesOn =
    deciding?.agreement === 'conforms' && spec.againEvery !== null && reaches(deciding.basis, spec.needs)
      ? addInterval(deciding.date, spec.againEvery)
      : null;
  const standing = verdictOn(spec, deciding, lapsesOn, asOf);
  const holds = standing === 'contradicted' && deciding !== null ? deciding.value : spec.claim;
  return { spec, standing, deciding, holds, lapsesOn, because: explain(spec, standing, deciding, lapsesOn) };
}

/** Whether a basis is as strong as another, or stronger. */
export function reaches(basis: Basis, needed: Basis): boolean {
  return BASES.indexOf(basis) >= BASES.indexOf(needed);
}

function strongestFirst(a: Evidence, b: Evidence): number {
  return (
    (a.basis === b.basis ? 0 : BASES.indexOf(b.basis) - BASES.indexOf(a.basis)) ||
    compare(b.date, a.date) ||
    compare(b.entry, a.entry)
  );
}

function newestFirst(a: Evidence, b: Evidence): number {
  return (
    compare(b.date, a.date) || BASES.indexOf(b.basis) - BASES.indexOf(a.basis) || compare(b.entry, a.entry)
  );
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

function decide(spec: Spec, evidence: readonly Evidence[]): Evidence | null {
  const { proof, pool } = weighed(spec, evidence);
  return (proof.length > 0 ? proof : pool).reduce<Evidence | null>(
    (newest, one) => (newest === null || newestFirst(one, newest) < 0 ? one : newest),
    null,
  );
}

/** Evidence that decides, and what decides where there is none of that. */
function weighed(spec: Spec, evidence: readonly Evidence[]) {
  const isProof = ({ basis }: Evidence) => reaches(basis, spec.needs);
  return {
    proof: evidence.filter((one) => isProof(one) && reaches(one.basis, spec.basis)),
    pool: evidence.filter((one) => isProof(one) || isStronger(one.basis, spec)),
  };
}

function isStronger(basis: Basis, { basis: claimed }: Spec): boolean {
  return BASES.indexOf(basis) > BASES.indexOf(claimed);
}

function verdictOn(spec: Spec, deciding: Evidence | null, lapsesOn: string | null, asOf: string): Standing {
  if (deciding === null) return 'unverified';
  if (deciding.agreement === 'does-not-conform')
    return reaches(deciding.basis, spec.basis) ? 'contradicted' : 'unverified';
  if (deciding.agreement === 'undecided') return 'undecided';
  if (!reaches(deciding.basis, spec.needs)) return 'unverified';
  return lapsesOn !== null && asOf > lapsesOn ? 'lapsed' : 'verified';
}

function fromReading(reading: Reading, spec: Spec): Evidence {
  const value: Claim = { type: 'quantity', quantity: reading.quantity };
  const { date, basis, uncertainty, by, with: instrument, see, note, entry } = reading;
  return {
    date,
    basis,
    value,
    uncertainty,
    agreement: agreementOf(spec, value, uncertainty),
    by,
    with: instrument,
    see,
    note,
    entry,
    from: 'reading',
  };
}

function fromStatement(statement: Statement, spec: Spec): Evidence {
  const { date, basis, says, uncertainty, by, with: instrument, see, note, entry } = statement;
  return {
    date,
    basis,
    value: says,
    uncertainty,
    agreement: agreementOf(spec, says, uncertainty),
    by,
    with: instrument,
    see,
    note,
    entry,
    from: 'statement',
  };
}

/** Texts agree when they are the same but for case and the blanks around and between words. */
export function agreementOf(spec: Spec, value: Claim, uncertainty: Uncertainty): Agreement {
  if (spec.claim.type === 'text')
    return value.type === 'text' && sameText(value.text, spec.claim.text) ? 'conforms' : 'does-not-conform';
  if (value.type === 'text' || spec.band === null) return 'undecided';
  const judged = judge({ si: value.quantity.si, siUncertainty: uncertainty.si }, spec.band);
  return judged === 'fails' ? 'does-not-conform' : judged;
}

/** Whether two texts say the same: trimmed, blanks made one, case folded, characters in one normal form. */
export function sameText(a: string, b: string): boolean {
  return fold(a) === fold(b);
}

function fold(text: string): string {
  return text.normalize('NFKC').trim().replaceAll(/\s+/g, ' ').toLowerCase();
}

const WEAK: Readonly<Record<Basis, string>> = {
  told: 'was only told',
  printed: 'stands only in a paper',
  marked: 'was only read off the item',
  measured: 'was measured',
  witnessed: 'was witnessed',
};

const NEEDED: Readonly<Record<Basis, string>> = {
  told: 'nobody has confirmed it',
  printed: 'no paper says so yet',
  marked: 'nobody has read it off the item',
  measured: 'nobody has measured it',
  witnessed: 'no third party has witnessed it',
};

function explain(spec: Spec, standing: Standing, deciding: Evidence | null, lapsesOn: string | null): string {
  const on = deciding === null ? '' : `${deciding.basis} on ${deciding.date}`;
  switch (standing) {
    case 'verified':
      return lapsesOn === null ? `Agrees: ${on}.` : `Agrees: ${on}; holds until ${lapsesOn}.`;
    case 'contradicted':
      return `Does not agree: ${on}.`;
    case 'undecided':
      return `Cannot be decided: ${on}, but the uncertainty reaches across the limit.`;
    case 'lapsed':
      return `Agreed when ${on}, but that is too long ago: due again every ${spec.againEvery === null ? '' : printInterval(spec.againEvery)}.`;
    case 'unverified':
      if (deciding === null) return `It ${WEAK[spec.basis]}; ${NEEDED[spec.needs]}.`;
      return deciding.agreement === 'does-not-conform'
        ? `Does not agree (${on}), but the claim ${WEAK[spec.basis]}, which is stronger.`
        : `Agrees so far (${on}), but ${NEEDED[spec.needs]}.`;
  }
}
