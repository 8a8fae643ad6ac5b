import { inUnit, spreadIn } from '../../quantity/index.js';
import type { Agreement, SpecState } from '../../reckon/model.js';
import type { Site } from '../site-context.js';
import { showClaim, showMeasured } from '../values.js';
import { dayWords } from '../words.js';

/** What is stated, the band in which a value agrees, and each piece of evidence with its ±, in one unit. */
export interface IntervalChart {
  readonly unit: string;
  readonly claim: number;
  readonly claimWords: string;
  readonly low: number | null;
  readonly high: number | null;
  readonly rows: readonly {
    readonly label: string;
    readonly value: number;
    readonly spread: number | null;
    readonly agreement: Agreement;
    readonly words: string;
  }[];
  readonly alternative: string;
}

/** As many pieces of evidence as a chart shows; the table beside it has them all. */
const MOST_ROWS = 10;

const AGREES: Readonly<Record<Agreement, string>> = {
  conforms: 'agrees',
  'does-not-conform': 'does not agree',
  undecided: 'undecided',
};

/** The chart of a spec's evidence; null for a text, or where no evidence is a number. */
export function intervalChart(site: Site, { spec, evidence }: SpecState): IntervalChart | null {
  if (spec.claim.type !== 'quantity' || spec.band === null) return null;
  const { kind, unit, si } = spec.claim.quantity;
  const scaled = (value: number | null) => (value === null ? null : inUnit(value, kind, unit));
  const rows = evidence.slice(0, MOST_ROWS).flatMap((piece) => {
    if (piece.value.type !== 'quantity') return [];
    return [
      {
        label: `${dayWords(piece.date)}, ${piece.basis}`,
        value: inUnit(piece.value.quantity.si, kind, unit),
        spread: piece.uncertainty.si === null ? null : spreadIn(piece.uncertainty.si, kind, unit),
        agreement: piece.agreement,
        words: showMeasured(piece.value, piece.uncertainty, site.display).text,
      },
    ];
  });
  if (rows.length === 0) return null;
  const claimWords = showClaim(spec.claim, site.display);
  const told = rows.map((row) => `${row.label}: ${row.words}, ${AGREES[row.agreement]}`).join('; ');
  return {
    unit,
    claim: inUnit(si, kind, unit),
    claimWords,
    low: scaled(spec.band.low),
    high: scaled(spec.band.high),
    rows,
    alternative: `Stated ${claimWords}. ${told}.`,
  };
}
