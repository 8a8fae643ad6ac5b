import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { ResultRow, TestDetail, TestsView } from '../../src/render/pages/tests.js';
import { count } from '../../src/render/words.js';
import { DataTable, Day, Go, Leaf, Masthead, OutcomeTag, Ref } from './pieces.js';
import { ResultTag } from './rows.js';

/** All tests: how each went last, then each with all its runs. */
export function Tests({ view }: TemplateProps<TestsView>): VNode {
  return (
    <>
      <Masthead kind={<p>{count(view.tests.length, 'test')}</p>} title="Tests">
        <p class="soft">The outcome of a test is computed from what was read, never typed.</p>
      </Masthead>
      <Leaf heading="Last outcomes" id="last">
        <LastTable view={view} />
      </Leaf>
      {view.tests.map((test) => (
        <Leaf heading={test.title} id={test.ref} note={<Ref to={test.system} />}>
          <TestText test={test} />
        </Leaf>
      ))}
    </>
  );
}

function LastTable({ view }: { view: TestsView }): VNode {
  return (
    <DataTable
      label="Last outcome of each test"
      on="stack"
      columns={[
        { head: 'Test' },
        { head: 'System' },
        { head: 'Outcome', kind: 'name' },
        { head: 'Done', kind: 'day' },
      ]}
      rows={view.latest.map(({ test, system, last }) => ({
        cells: [
          <Ref to={test} />,
          <Ref to={system} />,
          last === null ? <span class="soft">never done</span> : <ResultTag result={last} />,
          last === null ? (
            ''
          ) : (
            <Go to={last.entry}>
              <Day on={last.date} />
            </Go>
          ),
        ],
      }))}
    />
  );
}

/** A test: what it asks for, how it is done, and how it went. */
export function TestText({ test }: { test: TestDetail }): VNode {
  return (
    <>
      <p>
        Requires{' '}
        {test.requires.map(([name, written], index) => (
          <>
            {index > 0 && ', '}
            {name} <strong class="value">{written}</strong>
          </>
        ))}
        {test.againEvery !== null && `; again every ${test.againEvery}`}.
      </p>
      {test.steps.length > 0 && (
        <ol class="steps">
          {test.steps.map((step) => (
            <li>{step}</li>
          ))}
        </ol>
      )}
      {test.results.length === 0 ? <p class="soft">Never done.</p> : <RunsTable test={test} />}
    </>
  );
}

/** The runs of a test below each other, one column for each thing that it requires. */
function RunsTable({ test }: { test: TestDetail }): VNode {
  return (
    <DataTable
      label={`Runs of ${test.title}`}
      on="scroll"
      columns={[
        { head: 'Done', kind: 'day' },
        { head: 'Outcome', kind: 'name' },
        ...test.requires.map(([name, written]) => ({ head: `${name} (${written})`, kind: 'value' as const })),
        { head: 'How', kind: 'text' },
      ]}
      rows={test.results.map((result) => ({
        cells: [
          <Go to={result.entry}>
            <Day on={result.date} />
          </Go>,
          <ResultTag result={result} />,
          ...test.requires.map(([name]) => <Read run={result} name={name} />),
          [result.taken, result.note].filter((text) => text !== null).join('; '),
        ],
      }))}
    />
  );
}

/** What one run read for one requirement; marked where it did not pass. */
function Read({ run, name }: { run: ResultRow; name: string }): VNode {
  const requirement = run.requirements.find((found) => found.name === name);
  if (requirement === undefined) return <span class="soft">not read</span>;
  const text = requirement.value?.text ?? 'not read';
  return requirement.outcome === 'pass' ? (
    <span>{text}</span>
  ) : (
    <OutcomeTag outcome={requirement.outcome} word={text} />
  );
}
