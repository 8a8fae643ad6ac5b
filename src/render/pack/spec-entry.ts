import type { Evidence, SpecState } from '../../reckon/model.js';
import type { Link } from '../links.js';
import type { Site } from '../site-context.js';
import { type SpecRow, specRow } from '../spec-row.js';
import { showClaim, showMeasured } from '../values.js';
import { instrumentWords, takenBy, uncheckedAt } from './who.js';

/** A spec as the pack tells it: what is stated, how it stands, and the evidence. */
export interface SpecEntry extends SpecRow {
  readonly id: string;
  readonly since: string | null;
  /** What it is to be taken for from now on, where the claim is contradicted. */
  readonly holds: string | null;
  /** What decides first, then the others, newest first. */
  readonly evidence: readonly EvidenceLine[];
  /** Older pieces that are not shown. */
  readonly more: number;
}

/** One piece of evidence. */
export interface EvidenceLine {
  readonly value: ReturnType<typeof showMeasured>;
  readonly agreement: Evidence['agreement'];
  readonly basis: Evidence['basis'];
  readonly date: string;
  readonly entry: Link;
  /** `clamp meter (± 2 % + 0.3 A), Wil Harrock`. */
  readonly how: string | null;
  readonly note: string | null;
}

/** As many pieces of evidence as a spec is shown with. */
const MOST = 3;

/** One spec with its evidence. */
export function specEntry(site: Site, id: string, state: SpecState): SpecEntry {
  const { spec, deciding, evidence } = state;
  const sorted = deciding === null ? evidence : [deciding, ...evidence.filter((piece) => piece !== deciding)];
  return {
    ...specRow(site, site.top, state),
    id,
    since: spec.since,
    holds: state.standing === 'contradicted' ? showClaim(state.holds, site.display) : null,
    evidence: sorted.slice(0, MOST).map((piece) => evidenceLine(site, piece)),
    more: Math.max(0, sorted.length - MOST),
  };
}

function evidenceLine(site: Site, piece: Evidence): EvidenceLine {
  const quantity = piece.value.type === 'quantity' ? piece.value.quantity : null;
  const how = [
    instrumentWords(site, piece.with, quantity),
    takenBy(site, piece),
    uncheckedAt(site, piece),
  ].filter((word) => word !== null);
  return {
    value: showMeasured(piece.value, piece.uncertainty, site.display),
    agreement: piece.agreement,
    basis: piece.basis,
    date: piece.date,
    entry: site.top.entry(piece.entry),
    how: how.length === 0 ? null : how.join(', '),
    note: piece.note,
  };
}
