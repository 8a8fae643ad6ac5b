import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { WriteView } from '../../src/render/pages/write.js';
import { Masthead } from './pieces.js';

/** The place in which the form is put together; and without script, how an entry is written by hand. */
export function Write({ view }: TemplateProps<WriteView>): VNode {
  return (
    <>
      <Masthead kind={<p>{view.subject}</p>} title="Write an entry">
        <noscript>
          <p class="lead">
            The form needs script, which is off here. An entry is a text file, and can be written by hand as
            well:
          </p>
          <ol>
            <li>
              Make a file <code>entries/YEAR/YEAR-MONTH-DAY-a-few-words.md</code> in the book, or have{' '}
              <code>ribband new</code> make one.
            </li>
            <li>
              Begin it with a line <code>---</code>, then <code>date</code>, <code>title</code> and{' '}
              <code>systems</code>, then what was measured and done, then a line <code>---</code>, then your
              own words. The <a href={view.reference}>reference of the format</a> has every field with an
              example.
            </li>
            <li>
              <code>ribband check</code> tells what is wrong with it.
            </li>
          </ol>
        </noscript>
      </Masthead>
      <div id="write" />
    </>
  );
}
