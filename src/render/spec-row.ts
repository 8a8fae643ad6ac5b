import type { Basis } from '../check/model.js';
import { instrumentCaveat } from '../reckon/instruments.js';
import type { Evidence, SpecState, Standing } from '../reckon/model.js';
import type { Link, Links } from './links.js';
import type { Site } from './site-context.js';
import { type ShownValue, showClaim, showMeasured } from './values.js';
import { datesInWords } from './words.js';

/** A spec as a row: what is stated, how it stands, and what decided that. */
export interface SpecRow {
  readonly spec: Link;
  readonly system: Link;
  readonly name: string;
  readonly standing: Standing;
  readonly stated: string;
  /** `within 5 %`, `at least`; null for a text. */
  readonly band: string | null;
  readonly basis: Basis;
  readonly source: string | null;
  readonly needs: Basis;
  readonly found: {
    readonly value: ShownValue;
    readonly basis: Basis;
    readonly date: string;
    readonly entry: Link;
  } | null;
  readonly because: string;
  /** What is against the evidence that decided, beside what it says; null for nothing. */
  readonly caveat: string | null;
  readonly lapsesOn: string | null;
}

/** One spec, with links as seen from a page. */
export function specRow(site: Site, links: Links, state: SpecState): SpecRow {
  const { spec, deciding } = state;
  return {
    spec: links.spec(spec.ref),
    system: links.system(spec.system),
    name: spec.name,
    standing: state.standing,
    stated: showClaim(spec.claim, site.display),
    band: spec.bandWritten,
    basis: spec.basis,
    source: spec.source,
    needs: spec.needs,
    found:
      deciding === null
        ? null
        : {
            value: showMeasured(deciding.value, deciding.uncertainty, site.display),
            basis: deciding.basis,
            date: deciding.date,
            entry: links.entry(deciding.entry),
          },
    because: datesInWords(state.because),
    caveat: caveatOf(site, deciding),
    lapsesOn: state.lapsesOn,
  };
}

function caveatOf({ reckoning }: Site, deciding: Evidence | null): string | null {
  const caveat = deciding === null ? null : instrumentCaveat(reckoning.book.instruments, deciding);
  return caveat === null ? null : datesInWords(caveat);
}
