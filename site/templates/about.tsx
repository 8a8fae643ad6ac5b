import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { AboutView, NotFoundView } from '../../src/render/pages/about.js';
import { count, dayWords } from '../../src/render/words.js';
import { DataTable, Day, Leaf, Masthead, StandingTag } from './pieces.js';

/** What the words of the record mean, for somebody who has to judge it. */
export function About({ view }: TemplateProps<AboutView>): VNode {
  const since = view.first === null ? '' : ` since ${dayWords(view.first)}`;
  return (
    <>
      <Masthead kind={<p>For whoever has to judge it</p>} title="About this record">
        <div class="prose">
          <p>
            This is the record of the work on {view.subject}: {count(view.entries, 'entry', 'entries')} and{' '}
            {count(view.readings, 'reading')}
            {since}, as of {dayWords(view.asOf)}. Every figure leads back to the entry in which it was
            written.
          </p>
          {view.copy === null ? null : <p>{view.copy}</p>}
          <p>
            The record keeps what somebody <em>stated</em> apart from what was <em>found</em>. A statement is
            called a spec. For each spec it says on what basis it was made, what bears on it since, and how it
            stands.
          </p>
        </div>
      </Masthead>
      <Leaf heading="Basis" id="basis" note="from weakest to strongest">
        <DataTable
          label="Bases"
          on="stack"
          columns={[{ head: 'Word' }, { head: 'How somebody knows', kind: 'text' }]}
          rows={view.bases.map(([basis, means]) => ({ cells: [basis, means] }))}
        />
      </Leaf>
      <Leaf heading="Standing" id="standing">
        <DataTable
          label="Standings"
          on="stack"
          columns={[
            { head: 'Word', kind: 'value' },
            { head: 'What it means', kind: 'text' },
          ]}
          rows={view.standings.map(([standing, means]) => ({
            cells: [<StandingTag standing={standing} />, means],
          }))}
        />
      </Leaf>
      <Leaf heading="How it is decided" id="decided">
        <div class="prose">
          <p>
            Every measured value stands for an interval: the value plus and minus its uncertainty. The
            uncertainty is the one that was written down, or else follows from the accuracy of the instrument;
            where neither is known the record says so and does not take it for nought.
          </p>
          <p>
            An interval wholly inside what is allowed agrees, one wholly outside does not, and one that
            straddles the limit is undecided, after JCGM 106:2012, clause 8. Tests are judged by the same
            rule, so that their outcomes are computed from what was read.
          </p>
          <p>
            A third party is somebody other than the owner (a surveyor, a yard, a laboratory); what they
            measured counts as witnessed, also where they tested their own work.
          </p>
        </div>
      </Leaf>
      {view.people.length > 0 && <People view={view} />}
      {view.instruments.length > 0 && <Instruments view={view} />}
    </>
  );
}

function People({ view }: { view: AboutView }): VNode {
  return (
    <Leaf heading="People" id="people">
      <DataTable
        label="People"
        on="stack"
        columns={[{ head: 'Name' }, { head: 'Role' }, { head: 'Third party' }, { head: 'Licence' }]}
        rows={view.people.map(({ name, role, thirdParty, licence }) => ({
          cells: [name, role, thirdParty ? 'yes' : 'no', licence],
        }))}
      />
    </Leaf>
  );
}

function Instruments({ view }: { view: AboutView }): VNode {
  return (
    <Leaf heading="Instruments" id="instruments">
      <DataTable
        label="Instruments"
        on="stack"
        columns={[
          { head: 'Instrument' },
          { head: 'Serial' },
          { head: 'Last compared', kind: 'day' },
          { head: 'Measures', kind: 'text' },
        ]}
        rows={view.instruments.map(({ name, serial, checked, abilities }) => ({
          cells: [
            name,
            serial,
            checked === null ? 'not on record' : <Day on={checked} />,
            abilities.join('; '),
          ],
        }))}
      />
    </Leaf>
  );
}

/** For an address that leads nowhere. */
export function NotFound({ view }: TemplateProps<NotFoundView>): VNode {
  return (
    <Masthead kind={<p>404</p>} title="There is no such page">
      <p class="lead">
        The page may have been renamed with its entry. Start from{' '}
        <a href={view.home}>what needs looking at now</a>, or <a href={view.readings}>look for a reading</a>.
      </p>
    </Masthead>
  );
}
