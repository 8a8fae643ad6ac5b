import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type {
  CodeView,
  FileView,
  QuantitiesView,
  ReferenceIndexView,
} from '../../src/render/pages/reference.js';
import { count } from '../../src/render/words.js';
import { DataTable, Leaf, Masthead, Ref, Ticked } from './pieces.js';

/** The list of everything in the format reference. */
export function ReferenceIndex({ view }: TemplateProps<ReferenceIndexView>): VNode {
  return (
    <>
      <Masthead kind={<p>For whoever writes the book</p>} title="Format reference" />
      <Leaf heading="Files" id="files">
        <DataTable
          label="Kinds of file"
          on="stack"
          columns={[{ head: 'File' }, { head: 'What it holds', kind: 'text' }]}
          rows={view.files.map(({ file, about }) => ({ cells: [<Ref to={file} />, about] }))}
        />
      </Leaf>
      <Leaf heading="Quantities" id="quantities">
        <p>
          <a href={view.quantities}>{count(view.kinds, 'kind')} of quantity and the units that fit</a>
        </p>
      </Leaf>
      <Leaf heading="Problems" id="problems" note={`${view.codes.length} that the checker can find`}>
        <DataTable
          label="Problems"
          on="stack"
          columns={[{ head: 'Code' }, { head: 'Severity' }, { head: 'Problem', kind: 'text' }]}
          rows={view.codes.map(({ code, severity, title }) => ({
            cells: [<Ref to={code} />, severity, title],
          }))}
        />
      </Leaf>
    </>
  );
}

function Back({ index }: { index: string }): VNode {
  return (
    <p>
      <a href={index}>Format reference</a>
    </p>
  );
}

/** One kind of file with all its fields. */
export function FilePage({ view }: TemplateProps<FileView>): VNode {
  return (
    <>
      <Masthead kind={<Back index={view.index} />} title={view.title}>
        <p class="lead">{view.about}</p>
      </Masthead>
      <Leaf heading="Fields" id="fields" note={count(view.fields.length, 'field')}>
        <dl class="fields">
          {view.fields.map((field) => (
            <div class={`depth-${Math.min(field.depth, 3)}`}>
              <dt>
                <code>{field.path}</code>
                {field.due && <span class="mark-word">required</span>}
              </dt>
              <dd>
                {field.about}
                {field.unit !== null && <span class="soft"> In: {field.unit}.</span>}
                {field.choice.length > 0 && <span class="soft"> One of: {field.choice.join(', ')}.</span>}
                {field.example !== null && (
                  <span class="example">
                    <code>
                      {field.path.slice(field.path.lastIndexOf('.') + 1)}: {field.example}
                    </code>
                  </span>
                )}
              </dd>
            </div>
          ))}
        </dl>
      </Leaf>
    </>
  );
}

/** One problem that the checker can find. */
export function CodePage({ view }: TemplateProps<CodeView>): VNode {
  return (
    <>
      <Masthead kind={<Back index={view.index} />} title={view.title}>
        <p class="soft">
          <code>{view.code}</code>, {view.severity === 'error' ? 'an error' : 'a warning'}
        </p>
      </Masthead>
      <Leaf heading="What" id="what">
        <div class="prose">
          <p>
            <Ticked text={view.what} />
          </p>
        </div>
      </Leaf>
      <Leaf heading="Why it matters" id="why">
        <div class="prose">
          <p>
            <Ticked text={view.why} />
          </p>
        </div>
      </Leaf>
      <Leaf heading="How to mend it" id="mend">
        <div class="prose">
          <p>
            <Ticked text={view.mend} />
          </p>
        </div>
      </Leaf>
    </>
  );
}

/** All kinds of quantity. */
export function QuantitiesPage({ view }: TemplateProps<QuantitiesView>): VNode {
  return (
    <>
      <Masthead kind={<Back index={view.index} />} title="Quantities and units">
        <p class="lead">
          A kind is more than a dimension: torque is not energy, gauge pressure is not absolute pressure. The
          first unit of each is the commonest.
        </p>
      </Masthead>
      <Leaf heading="Kinds" id="kinds" note={view.kinds.length}>
        <DataTable
          label="Kinds of quantity"
          on="stack"
          columns={[
            { head: 'Name' },
            { head: 'What it is', kind: 'text' },
            { head: 'Units that fit', kind: 'text' },
            { head: 'SI', kind: 'value' },
          ]}
          rows={view.kinds.map(({ kind, about, siUnit, units }) => ({
            id: kind,
            cells: [<code>{kind}</code>, about, units.join(', '), siUnit],
          }))}
        />
      </Leaf>
    </>
  );
}
