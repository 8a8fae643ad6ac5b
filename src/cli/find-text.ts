import stringWidth from 'string-width';
import type { Paint } from '../check/report/text.js';
import type { DisplayPreference } from '../quantity/index.js';
import type { BookRecord } from '../reckon/records.js';
import { showMeasured } from '../render/values.js';
import { OUTCOME_WORD } from '../render/words.js';
import { conditionsOf, type Hit } from './find-hits.js';

/** How hits are set. */
export interface Setting {
  readonly paint: Paint;
  /** Columns of the terminal; null for lines as long as they are. */
  readonly width: number | null;
}

/** A value wider than this takes the room of the columns behind it. */
const WIDEST_VALUE = 26;
/** A text in less than this says nothing. */
const NARROWEST = 8;
const DAY = 10;
const GAP = '  ';

/**
 * Two lines a hit: day, value, what, where and how it stands; below them the file and line, and what is said
 * around it. Texts that do not fit are cut; the place never is, since an editor reads it.
 */
export function hitsAsText(
  hits: readonly Hit[],
  display: DisplayPreference,
  { paint, width }: Setting,
): string {
  const values = hits.map(({ record }) => valueText(record, display));
  const room = width === null ? WIDEST_VALUE : Math.min(WIDEST_VALUE, (width - DAY) >> 1);
  const valueWidth = Math.min(room - GAP.length, Math.max(0, ...values.map((value) => stringWidth(value))));
  return hits
    .map((hit, at) => {
      const state = stateOf(hit.record);
      const taken = DAY + valueWidth + 2 * GAP.length;
      const left = width === null ? Number.POSITIVE_INFINITY : width - taken;
      // Where there is no room for how it stands, it goes to the line below.
      const beside = left - stringWidth(state) - GAP.length >= NARROWEST ? state : '';
      const cells = [
        paint('strong', (hit.record.date ?? 'no day').padEnd(DAY)),
        fitted(values[at] ?? '', valueWidth),
        cut(whatText(hit), beside === '' ? left : left - stringWidth(beside) - GAP.length),
        ...(beside === '' ? [] : [paint(lookOf(hit.record), beside)]),
      ];
      return `${cells.join(GAP).trimEnd()}\n${second(hit, beside === state ? null : state, paint, width)}\n`;
    })
    .join('');
}

function whatText({ record: { title, sort }, systemTitle }: Hit): string {
  return `${title} (${systemTitle})${sort === 'reading' ? '' : ` ${sort}`}`;
}

function second(
  { record, file, line, entryTitle }: Hit,
  state: string | null,
  paint: Paint,
  width: number | null,
): string {
  const place = `${file}:${line}`;
  const says = record.quantity === null ? null : record.says;
  const around = [state, says, record.note, conditionsOf(record) || null, record.how, entryTitle];
  const told = around
    .filter((text) => text !== null)
    .join('; ')
    .replace(/\s+/g, ' ');
  const left = width === null ? Number.POSITIVE_INFINITY : width - 2 * GAP.length - stringWidth(place);
  const rest = left < NARROWEST ? '' : `${GAP}${paint('faint', cut(told, left))}`;
  return `${GAP}${paint('mark', place)}${rest}`;
}

function valueText({ quantity, uncertainty, says }: BookRecord, display: DisplayPreference): string {
  if (quantity === null) return (says ?? '').replace(/\s+/g, ' ');
  const known = uncertainty ?? { si: null, from: 'unknown' as const };
  return showMeasured({ type: 'quantity', quantity }, known, display).text;
}

function stateOf({ sort, outcome, limit, standing, state }: BookRecord): string {
  if (outcome !== null) return OUTCOME_WORD[outcome];
  if (sort === 'statement') return standing ?? '';
  if (limit === 'outside') return 'out of limits';
  return limit === 'undecided' ? 'undecided' : (state ?? '');
}

function lookOf({ outcome, limit, standing, sort }: BookRecord): Parameters<Paint>[0] {
  if (outcome === 'fail' || limit === 'outside' || (sort === 'statement' && standing === 'contradicted'))
    return 'error';
  return outcome === 'undecided' || limit === 'undecided' ? 'warning' : 'faint';
}

/** A text in just so many columns. */
function fitted(text: string, width: number): string {
  const short = cut(text, width);
  return short + ' '.repeat(Math.max(0, width - stringWidth(short)));
}

const letters = new Intl.Segmenter(undefined, { granularity: 'grapheme' });

/** A text in no more than so many columns, with `…` where something is cut off. Wide letters count two. */
function cut(text: string, width: number): string {
  if (stringWidth(text) <= width) return text;
  let [short, used] = ['', 0];
  for (const { segment } of letters.segment(text)) {
    const wide = stringWidth(segment);
    if (used + wide > width - 1) break;
    short += segment;
    used += wide;
  }
  return `${short.trimEnd()}…`;
}
