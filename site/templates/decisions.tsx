import type { VNode } from 'preact';
import type { Verdict } from '../../src/quantity/index.js';
import type { Outcome } from '../../src/reckon/model.js';
import type { TemplateProps } from '../../src/render/make-page.js';
import type {
  DecisionRow,
  DecisionsView,
  DecisionView,
  HoldingView,
} from '../../src/render/pages/decisions.js';
import { count } from '../../src/render/words.js';
import { DataTable, Day, Go, Leaf, Masthead, OutcomeTag, Ref, Refs, Rests } from './pieces.js';

/** All decisions. */
export function Decisions({ view }: TemplateProps<DecisionsView>): VNode {
  return (
    <>
      <Masthead
        kind={<p>{count(view.fallen.length + view.standing.length + view.undone.length, 'decision')}</p>}
        title="Decisions"
      />
      {view.fallen.length > 0 && (
        <Leaf
          heading="To be made anew"
          id="fallen"
          note={view.fallen.length === 1 ? 'one does not hold' : `${view.fallen.length} do not hold`}
        >
          {view.fallen.map((decision) => (
            <DecisionText decision={decision} level={3} entry anchor />
          ))}
        </Leaf>
      )}
      {view.standing.length > 0 && (
        <Leaf heading="That stand" id="hold" note={`${view.standing.length}, newest first`}>
          {view.standing.map((decision) => (
            <DecisionText decision={decision} level={3} entry anchor />
          ))}
        </Leaf>
      )}
      {view.undone.length > 0 && (
        <Leaf heading="Taken back" id="taken-back" note={view.undone.length}>
          {view.undone.map((decision) => (
            <DecisionText decision={decision} level={3} entry anchor />
          ))}
        </Leaf>
      )}
    </>
  );
}

/** One decision: the question, the answer, why, what there was to choose from, and what it rests on. */
export function DecisionText(props: {
  decision: DecisionView;
  level: 3;
  entry: boolean;
  anchor?: boolean;
}): VNode {
  const { decision } = props;
  return (
    <div class="decision" id={props.anchor === true ? decision.id : undefined}>
      <h3>{decision.question}</h3>
      <p class="soft">
        <Ref to={decision.system} />
        {props.entry && (
          <>
            {', '}
            <Go to={decision.entry}>
              <Day on={decision.date} />
            </Go>
          </>
        )}
      </p>
      <p>
        <strong>Chosen: {decision.chose}.</strong> {decision.because}
      </p>
      {decision.undoneBy !== null && (
        <p>
          <strong>Taken back</strong> by <Ref to={decision.undoneBy} />
        </p>
      )}
      {decision.undoes !== null && (
        <p>
          Takes back: <Ref to={decision.undoes} />
        </p>
      )}
      {decision.options.length > 0 && <Options decision={decision} />}
      {decision.holdsWhile !== null && (
        <p>
          Holds while <code>{decision.holdsWhile}</code>
          {decision.holding !== null && (
            <>
              {': '}
              <HoldingWords holding={decision.holding} />
            </>
          )}
        </p>
      )}
      {decision.restsOn.length > 0 && <RestsOn decision={decision} />}
    </div>
  );
}

/** Decisions in short, each leading to the whole of it. */
export function DecisionTable({ label, rows }: { label: string; rows: readonly DecisionRow[] }): VNode {
  return (
    <DataTable
      label={label}
      on="stack"
      columns={[
        { head: 'Question' },
        { head: 'Chosen', kind: 'text' },
        { head: 'Hangs on', kind: 'text' },
        { head: 'Day', kind: 'day' },
      ]}
      rows={rows.map((row) => ({
        cells: [
          <Ref to={row.question} />,
          <>
            {row.chose}
            {row.undoneBy !== null && (
              <small class="line">
                <strong>Taken back</strong> by <Ref to={row.undoneBy} />
              </small>
            )}
          </>,
          <HangsOn row={row} />,
          <Go to={row.entry}>
            <Day on={row.date} />
          </Go>,
        ],
      }))}
    />
  );
}

function HangsOn({ row }: { row: DecisionRow }): VNode {
  return (
    <>
      {row.holdsWhile !== null && (
        <p>
          <code>{row.holdsWhile}</code>
          {row.holding !== null && (
            <>
              {': '}
              <HoldingWords holding={row.holding} />
            </>
          )}
        </p>
      )}
      {row.restsOn.length > 0 && <Rests on={row.restsOn} />}
      {row.holdsWhile === null && row.restsOn.length === 0 && <span class="soft">nothing on record</span>}
    </>
  );
}

const VERDICT: Readonly<Record<Verdict, readonly [Outcome | null, string]>> = {
  holds: ['pass', 'holds'],
  fails: ['fail', 'does not hold'],
  undecided: ['undecided', 'undecided'],
  unknown: [null, 'cannot say'],
};

/** Whether it still holds, in a word. */
export function HoldingTag({ verdict }: Pick<HoldingView, 'verdict'>): VNode {
  const [outcome, word] = VERDICT[verdict];
  return outcome === null ? <span class="soft">{word}</span> : <OutcomeTag outcome={outcome} word={word} />;
}

/** Whether it still holds; where not, since when, and by which reading. */
export function HoldingWords({ holding }: { holding: HoldingView }): VNode {
  const { verdict, turned, missing } = holding;
  return (
    <>
      <HoldingTag verdict={verdict} />
      {turned !== null && (
        <>
          {' since '}
          <Day on={turned.date} />
          {', by '}
          <Ref to={turned.what} />
          {' in '}
          <Ref to={turned.entry} />
        </>
      )}
      {missing.length > 0 && (
        <>
          {': no value is known of '}
          <Refs to={missing} />
        </>
      )}
    </>
  );
}

function Options({ decision }: { decision: DecisionView }): VNode {
  const withNotes = decision.options.some(({ note }) => note !== null);
  return (
    <DataTable
      label={`Options: ${decision.question}`}
      on="stack"
      columns={[
        { head: 'Option' },
        ...decision.figures.map((head) => ({ head, kind: 'value' as const })),
        ...(withNotes ? [{ head: 'Note', kind: 'text' as const }] : []),
      ]}
      rows={decision.options.map(({ option, chosen, cells, note }) => ({
        cells: [
          chosen ? (
            <>
              <strong>{option}</strong> <span class="mark-word">chosen</span>
            </>
          ) : (
            option
          ),
          ...cells,
          ...(withNotes ? [note] : []),
        ],
      }))}
    />
  );
}

function RestsOn({ decision }: { decision: DecisionView }): VNode {
  return (
    <div class="rests">
      <p class="label">Rests on</p>
      <Rests on={decision.restsOn} />
    </div>
  );
}
