import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { DownloadsView, FileRow, SourcesView } from '../../src/render/pages/downloads.js';
import { DataTable, Leaf, Masthead } from './pieces.js';

/** The book in open forms, to be taken away: what each file holds, and how to use it. */
export function Downloads({ view }: TemplateProps<DownloadsView>): VNode {
  const { tables, loggers, whole, sources, calendar, feed, subscribe } = view;
  return (
    <>
      <Masthead kind={<p>the same record</p>} title="Downloads">
        <p class="lead">Everything in this site, in files that other programs read.</p>
      </Masthead>
      <Leaf heading="Calendar" id="calendar">
        <Files label="Calendar" files={[calendar]} />
        {subscribe === null ? (
          <p>
            Copy the address of this file and give it to your calendar as one to subscribe to; it then follows
            the book as often as the site is built. Opened once, the file adds what is due now. Taken again,
            it moves what has moved and makes no doubles.
          </p>
        ) : (
          <p>
            Give this address to your calendar as one to subscribe to: <code>{subscribe.calendar}</code>. It
            then follows the book as often as the site is built. Opened once, the file adds what is due now.
            Taken again, it moves what has moved and makes no doubles.
          </p>
        )}
        <p class="soft">
          Each thing is an event of a whole day that takes no time. What is overdue stands on the day as of
          which this site shows the book.
        </p>
      </Leaf>
      <Leaf heading="Feed" id="feed">
        <Files label="Feed" files={[feed]} />
        {subscribe === null ? (
          <p>
            Give the address of this file to a feed reader. The book does not say where its site lies (
            <code>address</code> in <code>book.yaml</code>), so the links in the feed count from the feed’s
            own address; most readers follow them.
          </p>
        ) : (
          <p>
            Give this address to a feed reader: <code>{subscribe.feed}</code>
          </p>
        )}
      </Leaf>
      <Leaf heading="Tables" id="tables">
        <Files label="Tables" files={tables} />
        <p class="soft">
          CSV in UTF-8 with commas, a point as decimal mark and days as 2026-04-18: say so where a spreadsheet
          asks. A text that a spreadsheet would take for a formula has an apostrophe before it.
        </p>
      </Leaf>
      {loggers.length > 0 && (
        <Leaf heading="Loggers" id="loggers">
          <Files label="Loggers" files={loggers} />
          <p class="soft">Times are those of the logger’s clock and carry no zone.</p>
        </Leaf>
      )}
      <Leaf heading="The whole book" id="whole">
        <Files label="The whole book" files={whole} />
      </Leaf>
      <Leaf heading="Sources" id="sources">
        <Sources sources={sources} />
      </Leaf>
    </>
  );
}

function Sources({ sources: { file, size, photos, isCopy, asOf } }: { sources: SourcesView }): VNode {
  if (file === null)
    return (
      <p>
        The files that this book is written in are too large to lie in a site ({size}; most hosts take no file
        of more than 100 MB). Whoever keeps the book has them.
      </p>
    );
  return (
    <>
      <Files label="Sources" files={[file]} />
      <p>
        Unpacked into an empty folder, this is the book itself{isCopy && ', as this copy has it'}: a folder of
        plain texts{photos > 0 && ' and pictures'} that anything can read. There,{' '}
        <code>ribband build --as-of {asOf}</code> makes this site again, the same to the last byte with the
        same version of the tool.
      </p>
      <p class="soft">
        {isCopy
          ? 'What was left out of this copy is in none of the files. '
          : 'The texts are as they were written, with every comment and with what is kept from others. '}
        {photos > 0 &&
          'The pictures are those that the site shows, in full size; where and with what they were taken is not in them.'}
      </p>
    </>
  );
}

function Files({ label, files }: { label: string; files: readonly FileRow[] }): VNode {
  return (
    <DataTable
      label={label}
      look="files"
      on="stack"
      columns={[
        { head: 'File', kind: 'name' },
        { head: 'Holds', kind: 'text' },
        { head: 'Size', kind: 'value' },
      ]}
      rows={files.map(({ name, href, holds, size }) => ({
        cells: [
          <a href={href} download>
            {name}
          </a>,
          holds,
          size,
        ],
      }))}
    />
  );
}
