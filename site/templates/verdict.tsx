import type { VNode } from 'preact';
import type { Outcome } from '../../src/reckon/model.js';
import type { PowerVerdict } from '../../src/reckon/power/model.js';
import { OutcomeTag, Sign } from './pieces.js';

const LOOK: Readonly<Record<Exclude<PowerVerdict, 'cannot-say'>, Outcome>> = {
  works: 'pass',
  fails: 'fail',
  undecided: 'undecided',
};

/** Whether something of a plan works: shape, colour and word. */
export function VerdictTag({ verdict }: { verdict: PowerVerdict }): VNode {
  if (verdict !== 'cannot-say') return <OutcomeTag outcome={LOOK[verdict]} word={verdict} />;
  return (
    <span class="tag unverified">
      <Sign shape="unverified" />
      cannot say
    </span>
  );
}

const SHAPE: Readonly<Record<PowerVerdict, string>> = {
  works: 'verified',
  fails: 'contradicted',
  undecided: 'undecided',
  'cannot-say': 'unverified',
};

/** The same by its shape alone, with the word for whoever does not see it. */
export function VerdictSign({ verdict }: { verdict: PowerVerdict }): VNode {
  return (
    <span class={`cell-sign ${SHAPE[verdict]}`}>
      <Sign shape={SHAPE[verdict]} />
      <span class="quiet">{verdict === 'cannot-say' ? 'cannot say' : verdict}</span>
    </span>
  );
}
