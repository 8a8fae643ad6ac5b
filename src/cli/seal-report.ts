import type { Paint } from '../check/report/text.js';
import { plainLine } from '../quantity/plain-line.js';
import { count } from '../render/words.js';
import { type Before, type Holding, holds, type OpenedSeal } from '../seal/check.js';
import type { Differences } from '../seal/compare.js';
import type { Delays } from '../seal/delays.js';
import { groupLines } from '../seal/groups.js';
import { PROVES, PROVES_NOT, sealSummary } from '../seal/summary.js';

/** What `ribband seal --check` has found. */
export interface CheckReport {
  readonly opened: OpenedSeal;
  /** The digits of the hash that were given, and whether the seal's begins so; null where none were. */
  readonly hash: { readonly digits: string; readonly agrees: boolean } | null;
  readonly before: readonly Before[];
  readonly holding: Holding;
  /** Null where the book is not kept in git, and for a site. */
  readonly delays: Delays | null;
  /** Days that count as in good time. */
  readonly allowed: number;
}

/** The report for a person. */
export function reportText(report: CheckReport, paint: Paint): string {
  const { opened, hash, before, holding, delays } = report;
  const { seal, file } = opened;
  const { files, made, hash: own } = sealSummary(seal, opened.hash);
  const entries = seal.of === 'site' ? '' : `, ${seal.entries.length} of them entries`;
  return [
    `${file}: seal of the ${seal.of} of ${plainLine(seal.subject)}, made ${made}, ${count(files, 'file')}${entries}.`,
    'Hash of the seal (its SHA-256):',
    ...groupLines(own).map((line) => `  ${line}`),
    ...hashLines(hash, paint),
    signatureLine(opened, paint),
    ...(seal.previous === null || before.length > 0
      ? before.map(({ file: name, why }) => paint('error', `Seal before, ${plainLine(name)}: ${why}.`))
      : [`The seals before it, from ${seal.previous.file} back, are whole and in line.`]),
    '',
    ...(holds(holding)
      ? [paint('strong', 'Nothing differs: every file is, to the last bit, as it was sealed.')]
      : [paint('error', 'Not as it was sealed:'), ...differenceLines(holding.differences, paint)]),
    ...holding.unreadable.map(
      ({ path, why }) => `  ${paint('error', 'unread')}   ${plainLine(path)}: ${why}`,
    ),
    ...(delays === null ? [] : ['', ...delayLines(delays, report.allowed)]),
    '',
    'What a seal proves where nothing differs:',
    ...PROVES.map((line) => `  ${line}`),
    'What it does not prove:',
    ...PROVES_NOT.map((line) => `  ${line}`),
    '',
  ].join('\n');
}

function hashLines(hash: CheckReport['hash'], paint: Paint): readonly string[] {
  if (hash === null) return [];
  const { digits, agrees } = hash;
  if (!agrees) return [paint('error', 'This is not the hash that you gave: it is another seal.')];
  return [
    digits.length === 64
      ? 'It is the hash that you gave.'
      : `Its first ${digits.length} digits are those that you gave.`,
  ];
}

/** What there is to say of the signature of a seal. */
export function signatureLine({ signature }: OpenedSeal, paint: Paint): string {
  if (signature.state === 'none')
    return 'Not signed: whoever can change the files can make another seal. Compare the hash with one that lay elsewhere.';
  if (signature.state === 'missing')
    return paint('error', `The signature by the key ${signature.due} is missing.`);
  if (signature.state === 'bad') return paint('error', `The signature does not hold: ${signature.why}.`);
  const by = `Signed with the key ${signature.type} ${signature.fingerprint}`;
  if (signature.isNamed === true) return `${by}, which is one that you named.`;
  if (signature.isNamed === false) return paint('error', `${by}, which is none of those that you named.`);
  return `${by}. Whose key that is you have to know: ask for its fingerprint, or name it with --signer.`;
}

/** What differs, a line each, the gravest first. */
export function differenceLines(differences: Differences, paint: Paint): readonly string[] {
  const { changed, removed, added, renamed, redated, between } = differences;
  const line = (word: string, text: string) => `  ${paint('error', word.padEnd(8))} ${text}`;
  const dates = new Map(
    redated.map(({ path, from, to }) => [path, `, moved in the chain from ${from} to ${to}`]),
  );
  const slipped = new Map(
    between.map(({ path, date }) => [path, `, dated ${date}, among entries that were sealed`]),
  );
  return [
    ...removed.map((path) => line('removed', plainLine(path))),
    ...changed.map((path) => line('changed', plainLine(path) + (dates.get(path) ?? ''))),
    ...renamed.map(({ from, to }) => line('renamed', `${plainLine(from)} is now ${plainLine(to)}`)),
    ...added.map((path) => line('added', plainLine(path) + (slipped.get(path) ?? ''))),
  ];
}

const MOST_LISTED = 20;

function delayLines(
  { known, unknown, medianDays, worstDays, late, early, isCutShort }: Delays,
  allowed: number,
) {
  const all = known + unknown.length;
  if (medianDays === null || worstDays === null)
    return ['When it was written down: no entry is committed to git.'];
  const lines = [
    `When it was written down, by git: ${known} of ${count(all, 'entry', 'entries')} committed; half of them within ${count(medianDays, 'day')} of their date, the last after ${worstDays}.`,
    'The days of commits are set by whoever commits; they show something only where the history lay with somebody else meanwhile.',
  ];
  if (isCutShort)
    lines.push('The history here is cut short (a shallow clone): it says too late a day for what is older.');
  return [
    ...lines,
    ...listed(
      `Later than ${count(allowed, 'day')}`,
      late.map(({ path, days }) => `${plainLine(path)}: ${days} days`),
    ),
    ...listed(
      'Before the day they tell of',
      early.map(({ path, days }) => `${plainLine(path)}: ${count(-days, 'day')}`),
    ),
    ...listed(
      'Not committed',
      unknown.map((path) => plainLine(path)),
    ),
  ];
}

function listed(heading: string, lines: readonly string[]): readonly string[] {
  if (lines.length === 0) return [];
  const more = lines.length - MOST_LISTED;
  return [
    `${heading}, ${lines.length}:`,
    ...lines.slice(0, MOST_LISTED).map((line) => `  ${line}`),
    ...(more > 0 ? [`  and ${more} more`] : []),
  ];
}
