import type { VNode } from 'preact';
import type { TemplateProps } from '../../src/render/make-page.js';
import type { AmountRow, HoursView } from '../../src/render/pages/hours.js';
import { capital } from '../../src/render/words.js';
import { DataTable, Leaf, Masthead, Ref } from './pieces.js';

/** Hours and money, by system, by month and by whom. */
export function Hours({ view }: TemplateProps<HoursView>): VNode {
  return (
    <>
      <Masthead kind={view.total === null ? undefined : <p>{view.total} in all</p>} title="Hours and money">
        <p class="soft">Money is added within one currency only.</p>
      </Masthead>
      {view.total !== null && (
        <Leaf heading="Hours" id="hours" note={view.total}>
          <div class="amounts">
            <Amounts title="By system" of="Hours" rows={view.bySystem} />
            <Amounts title="By month" of="Hours" rows={view.byMonth} />
            <Amounts title="By person" of="Hours" rows={view.byPerson} />
          </div>
        </Leaf>
      )}
      {view.money.map((money) => (
        <Leaf heading={`Money, ${money.currency}`} id={`money-${money.currency}`} note={money.total}>
          <div class="amounts">
            <Amounts title="By system" of={money.currency} rows={money.bySystem} />
            <Amounts title="By month" of={money.currency} rows={money.byMonth} />
            <Amounts title="By supplier" of={money.currency} rows={money.bySupplier} />
          </div>
        </Leaf>
      ))}
    </>
  );
}

/** A list of amounts with a bar for each. */
function Amounts({
  title,
  of,
  rows,
}: {
  title: string;
  of: string;
  rows: readonly AmountRow[];
}): VNode | null {
  if (rows.length === 0) return null;
  return (
    <div>
      <h3>{title}</h3>
      <DataTable
        label={`${of} ${title.toLowerCase()}`}
        on="scroll"
        columns={[
          { head: capital(title.replace('By ', '')) },
          { head: of, kind: 'number' },
          { head: 'Of the largest' },
        ]}
        rows={rows.map((row) => ({
          cells: [
            <Ref to={row.label} />,
            row.amount,
            <svg class="bar" viewBox="0 0 100 6" preserveAspectRatio="none" aria-hidden="true">
              <rect width={row.share * 100} height="6" />
            </svg>,
          ],
        }))}
      />
    </div>
  );
}
