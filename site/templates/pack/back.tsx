import type { VNode } from 'preact';
import type { Basis } from '../../../src/check/model.js';
import type { Standing } from '../../../src/reckon/model.js';
import { CAUTIONS_DEFER, type Caution } from '../../../src/render/cautions.js';
import type { SealView } from '../../../src/render/pack/seal.js';
import { METHODS } from '../../../src/render/pack/standards.js';
import type { PackView } from '../../../src/render/pack/view.js';
import { BASIS_MEANS, capital, dayWords, STANDING_MEANS, STANDING_ORDER } from '../../../src/render/words.js';
import { CautionFacts } from '../cautions.js';
import { Prose, Ref, StandingTag } from '../pieces.js';
import { PackTable } from './table.js';

/** What stands behind the systems: people, instruments, standards, cautions, words, entries, seal. */

/** Who did the work, and under which licence where one is due. */
export function People({ view }: { view: PackView }): VNode {
  return (
    <>
      <p>
        Those who are named in the record. A third party is somebody other than the owner, such as a surveyor,
        a yard or a fitter; what they measure counts as witnessed, also where they test their own work. That
        they did it is the owner's word, unless their own paper is among the evidence.
      </p>
      <PackTable
        caption="People"
        columns={[
          { head: 'Name' },
          { head: 'What they are' },
          { head: 'Third party', kind: 'narrow' },
          { head: 'Licence' },
          { head: 'Hours', kind: 'narrow' },
          { head: 'Named with evidence', kind: 'narrow' },
        ]}
        rows={view.people.map((person) => ({
          cells: [
            person.name,
            person.role ?? '',
            person.thirdParty ? 'yes' : 'no',
            person.licence ?? '',
            person.hours ?? '',
            person.evidence === 0 ? '' : `${person.evidence} times`,
          ],
        }))}
      />
      <p>
        Work on gas and on mains is where many places ask for a licence; what is asked here is for the reader
        to know.{' '}
        {view.isWorkLeftOut
          ? 'Working time is left out of this copy, so that only tests tell who was there: nothing follows from a name or a day that is missing here.'
          : 'This is who worked on those systems, and the licence that is on record.'}
      </p>
      <PackTable
        caption={view.isWorkLeftOut ? 'Who tested gas and mains' : 'Who worked on gas and mains'}
        columns={[{ head: 'Who' }, { head: 'System' }, { head: 'Licence on record' }, { head: 'Days' }]}
        rows={view.licensed.map(({ name, system, licence, dates }) => ({
          cells: [
            name,
            <Ref to={system} />,
            licence ?? <strong>none</strong>,
            dates.map(dayWords).join(', '),
          ],
        }))}
      />
    </>
  );
}

/** With what it was measured. */
export function Instruments({ view }: { view: PackView }): VNode {
  return (
    <>
      <p>
        Where a reading has no ± of its own, that of its instrument is taken. An instrument that was never
        compared with another is as good as its maker says, and no better.
      </p>
      <PackTable
        caption="Instruments that were used"
        columns={[
          { head: 'Instrument' },
          { head: 'Serial number' },
          { head: 'Accuracy' },
          { head: 'Last compared' },
          { head: 'Used', kind: 'narrow' },
        ]}
        rows={view.instruments.map((row) => ({
          cells: [
            row.name,
            row.serial,
            row.accuracy.length === 0
              ? 'not known'
              : row.accuracy.map((words) => <span class="line">{words}</span>),
            <>
              {row.checked === null ? 'not on record' : dayWords(row.checked)}
              {row.againEvery !== null && `, every ${row.againEvery}`}
              {row.overdue && <strong class="mark"> overdue</strong>}
            </>,
            `${row.used} ×`,
          ],
        }))}
      />
    </>
  );
}

/** By what it is reckoned, and what the record itself refers to. */
export function Standards({ view }: { view: PackView }): VNode {
  return (
    <>
      <PackTable
        caption="Methods of this pack"
        columns={[{ head: 'What' }, { head: 'By' }]}
        rows={METHODS.map(([what, source]) => ({ cells: [what, source] }))}
      />
      {view.standards.length === 0 ? (
        <p>
          The entries name no standard by its number. Requirements of tests are those that the owner has
          written into the record; where a source is known it stands beside the spec.
        </p>
      ) : (
        <p>The entries name: {view.standards.join('; ')}.</p>
      )}
    </>
  );
}

/** The usual cautions for the dangers of the systems. */
export function CautionList({ cautions }: { cautions: readonly Caution[] }): VNode {
  return (
    <>
      <p>
        <strong>{CAUTIONS_DEFER}</strong>
      </p>
      {cautions.map(({ title, facts }) => (
        <div class="caution">
          <CautionFacts title={title} facts={facts} />
        </div>
      ))}
    </>
  );
}

const BASES = Object.entries(BASIS_MEANS) as readonly (readonly [Basis, string])[];

/** The words and signs of the pack. */
export function HowToRead(): VNode {
  return (
    <>
      <p>
        A <em>spec</em> is something stated that may be true or not. Its <em>basis</em> is how somebody knows;
        its <em>standing</em> is what the record makes of it today, by comparing the whole of a value and its
        uncertainty with what is stated. Standings have a sign each, so that they can be told without colour.
      </p>
      <PackTable
        caption="Standings"
        columns={[{ head: 'Standing', kind: 'narrow' }, { head: 'Means' }]}
        rows={STANDING_ORDER.map((standing: Standing) => ({
          cells: [<StandingTag standing={standing} />, STANDING_MEANS[standing]],
        }))}
      />
      <PackTable
        caption="Bases, from the weakest to the strongest"
        columns={[{ head: 'Basis', kind: 'narrow' }, { head: 'Means' }]}
        rows={BASES.map(([basis, means]) => ({ cells: [basis, capital(means)] }))}
      />
      <p>
        A value is written with its unit and, where it is known, its uncertainty: 318 ± 6 Ah lies between 312
        and 324 Ah. “By instrument” says that the uncertainty is that of the instrument, “± not known” that
        nothing tells it; it is never taken for zero. Numbers behind the word “entry” are those of the list of
        entries. Where nobody is named beside a value, and one person alone logged hours that day, that person
        is given; where several did, nobody is.
      </p>
      <p>
        In a figure a disc is a reading inside its limits, a square one outside, half a disc one that is
        undecided, a ring one that cannot be compared with the others. The bar through a reading is its
        uncertainty. The field beyond a limit is grey; a trend is drawn only where a test shows that there is
        one. The grey band about its line, left out where it would fill the figure, is where one more reading
        would lie 95 times in 100.
      </p>
    </>
  );
}

/** Every entry of the record, by its number: with what it tells, or by its title. */
export function Entries({ view, prose }: { view: PackView; prose: ReadonlyMap<string, string> }): VNode {
  if (view.entries.some((entry) => entry.prose !== null))
    return (
      <>
        {view.entries.map((entry) => (
          <article class="entry-told" id={entry.place}>
            <h3>
              {entry.number}. {entry.title}
            </h3>
            <p class="facts-line">
              {[dayWords(entry.date), entry.systems].filter((text) => text !== '').join(' · ')}
            </p>
            <Told html={prose.get(entry.place) ?? ''} />
          </article>
        ))}
      </>
    );
  return (
    <PackTable
      caption="The entries of the record"
      columns={[
        { head: 'No.', kind: 'narrow' },
        { head: 'Day', kind: 'narrow' },
        { head: 'Entry' },
        { head: 'Systems' },
      ]}
      rows={view.entries.map((entry) => ({
        id: entry.place,
        cells: [String(entry.number), dayWords(entry.date), entry.title, entry.systems],
      }))}
    />
  );
}

function Told({ html }: { html: string }): VNode {
  return html === '' ? (
    <p class="soft">Nothing is told besides what the systems show.</p>
  ) : (
    <Prose html={html} />
  );
}

/** Whether the copy is sealed, and how to check it. */
export function Seal({ seal }: { seal: SealView }): VNode {
  if (seal.seal === null) {
    return (
      <>
        <p>
          <strong>This copy carries no seal.</strong> Nothing in it shows whether the record was changed after
          it was written, nor whether this copy is the one that the owner handed over. Ask for a sealed copy
          where that matters.
        </p>
        <p>
          With or without a seal, a record shows what somebody wrote down. It never shows that what was
          written was true.
        </p>
      </>
    );
  }
  const { hash, made, files, signedBy } = seal.seal;
  return (
    <>
      <p>
        The book was sealed on {dayWords(made)}
        {files === null ? '' : ` over ${files} files`},{' '}
        {signedBy === null ? 'not signed' : `signed with the key ${signedBy}`}. What was written after that
        day is not under it. The hash that stands for all of it:
      </p>
      <p class="hash">{hash}</p>
      <ol>
        {seal.steps.map((step) => (
          <li>{step}</li>
        ))}
      </ol>
      <p>
        A seal shows that nothing was changed since it was made. It does not show that what was written was
        true, nor, without somebody else's word on the day, when it was made.
      </p>
    </>
  );
}
