import type { Differences } from '../../seal/compare.js';
import { groupLines } from '../../seal/groups.js';
import type { Recalled } from '../../seal/recall.js';
import type { Link } from '../links.js';
import { count, dayWords } from '../words.js';
import type { ChangeGroup, ChangesView } from './changes.js';

/** A seal that is compared, and how much of its state can still be told. */
export interface SealedSide {
  /** Where it was found, for people. */
  readonly file: string;
  /** Day on which it says it was made. */
  readonly made: string;
  readonly hash: string;
  /** What there is to say of its signature, in a sentence. */
  readonly signature: string;
  /** Entries under it: path and date. */
  readonly entries: readonly Dated[];
  readonly recalled: Recalled;
}

interface Dated {
  readonly path: string;
  readonly date: string;
}

/** Two states of which the earlier one is under seal. */
export interface SealedComparison {
  readonly from: SealedSide;
  /** Null where the later state is the book as it lies there. */
  readonly to: SealedSide | null;
  readonly differences: Differences;
  /** Entries of the later state. */
  readonly entries: readonly Dated[];
  /** An entry's title and where it is shown, by its path as it is now; null for one that is not there any more. */
  readonly entryAt: (path: string) => Link | null;
}

/** Entries that one of two states has and the other has not, or has otherwise. */
export interface EntriesMoved {
  readonly altered: readonly Dated[];
  readonly gone: readonly Dated[];
  /** Not under the earlier seal, though dated before the day on which that was made. */
  readonly late: readonly Dated[];
  readonly since: readonly Dated[];
}

/** Sorts the entries that differ by what became of them. */
export function entriesMoved({ from, entries, differences }: SealedComparison): EntriesMoved {
  const [added, changed, removed] = [differences.added, differences.changed, differences.removed].map(
    (paths) => new Set(paths),
  );
  const come = entries.filter(({ path }) => added?.has(path));
  return {
    altered: entries.filter(({ path }) => changed?.has(path)),
    gone: from.entries.filter(({ path }) => removed?.has(path)),
    late: come.filter(({ date }) => date < from.made),
    since: come.filter(({ date }) => date >= from.made),
  };
}

/** Puts what the seals show in front of what became of the book, and says what cannot be told from them. */
export function withSeals(view: ChangesView, compared: SealedComparison): ChangesView {
  const { from, to } = compared;
  const moved = entriesMoved(compared);
  return {
    ...view,
    title:
      to === null
        ? `What changed since the seal of ${dayWords(from.made)}`
        : `What changed between the seals of ${dayWords(from.made)} and ${dayWords(to.made)}`,
    from: from.made,
    sealed: sentencesOf(compared, moved),
    groups: [...groupsOf(compared, moved), ...view.groups],
    doubts: doubtsOf(compared, moved),
  };
}

function sentencesOf({ from, to, differences }: SealedComparison, moved: EntriesMoved): readonly string[] {
  const { altered, gone, late, since } = moved;
  const isEntry = new Set([...altered, ...gone, ...late, ...since].map(({ path }) => path));
  const others = (paths: readonly string[]) => paths.filter((path) => !isEntry.has(path)).length;
  const said = ({ file, made, hash }: SealedSide) =>
    `${file}, made ${dayWords(made)} (SHA-256 ${groupLines(hash).join(' ')})`;
  const otherwise = [
    ['altered', others(differences.changed)],
    ['new', others(differences.added)],
    ['gone', others(differences.removed)],
    ['renamed, entries among them', differences.renamed.length],
  ] as const;
  const kept = from.entries.length - altered.length - gone.length;
  return [
    `Held against each other: the seal ${said(from)}, and ${to === null ? 'the book as it lies here' : `the seal ${said(to)}`}.`,
    `Of the ${count(from.entries.length, 'entry', 'entries')} under the ${to === null ? '' : 'earlier '}seal, ${kept} ${kept === 1 ? 'is' : 'are'} the same to the last bit, ${altered.length} altered after sealing, ${gone.length} no longer there.`,
    `${count(late.length + since.length, 'entry', 'entries')} ${late.length + since.length === 1 ? 'is' : 'are'} new${late.length === 0 ? '' : `, ${late.length} of them dated before the day of that seal`}.`,
    otherwise.every(([, files]) => files === 0)
      ? 'No other file (of a system, a plan, a picture) differs.'
      : `Of the other files (systems, plans, pictures): ${otherwise
          .flatMap(([word, files]) => (files === 0 ? [] : [`${files} ${word}`]))
          .join(', ')}.`,
  ];
}

function groupsOf(
  { differences, entryAt }: SealedComparison,
  { altered, gone, late, since }: EntriesMoved,
): readonly ChangeGroup[] {
  const text = (words: string): Link => ({ text: words, href: null });
  const row = ({ path, date }: Dated) => [entryAt(path) ?? text(path), text(dayWords(date)), text(path)];
  const isEntry = new Set([...altered, ...gone, ...late, ...since].map(({ path }) => path));
  const others = (word: string, paths: readonly string[]) =>
    paths.filter((path) => !isEntry.has(path)).map((path) => [text(path), text(word)]);
  const columns = ['Entry', 'Date', 'File'];
  const groups: readonly ChangeGroup[] = [
    {
      id: 'altered',
      heading: 'Entries altered after sealing',
      columns,
      rows: altered.map(row),
    },
    {
      id: 'gone',
      heading: 'Entries sealed and no longer there',
      columns: ['File', 'Date'],
      rows: gone.map(({ path, date }) => [text(path), text(dayWords(date))]),
    },
    {
      id: 'late',
      heading: 'Entries dated before the seal and not under it',
      columns,
      rows: late.map(row),
    },
    { id: 'since', heading: 'Entries since the seal', columns, rows: since.map(row) },
    {
      id: 'other-files',
      heading: 'Other files',
      columns: ['File', 'What became of it'],
      rows: [
        ...others('altered', differences.changed),
        ...others('gone', differences.removed),
        ...differences.renamed.map(({ from, to }) => [text(from), text(`now ${to}`)]),
        ...others('new', differences.added),
      ],
    },
  ];
  return groups.filter(({ rows }) => rows.length > 0);
}

function doubtsOf({ from, to }: SealedComparison, moved: EntriesMoved): readonly string[] {
  const sides = to === null ? [from] : [from, to];
  const altered = [...new Set(sides.flatMap(({ recalled }) => recalled.altered))];
  const gone = [...new Set(sides.flatMap(({ recalled }) => recalled.gone))];
  return [
    `A seal holds hashes, not texts. ${
      altered.length === 0 && gone.length === 0
        ? 'Here all that was sealed is still there as it was, so both states are told from the very texts that were sealed.'
        : `${[
            altered.length === 0
              ? ''
              : `What ${altered.length === 1 ? `${altered[0]} said when it was sealed` : `the ${altered.length} altered files said when they were sealed`} is not known: both states are told by what is written there now`,
            gone.length === 0
              ? ''
              : `what ${gone.length === 1 ? `${gone[0]}` : `the ${gone.length} files that are gone`} said is in neither of them`,
          ]
            .filter((part) => part !== '')
            .join('; ')
            .replace(/^what/, 'What')}. An older copy of the book, held against the seal, would show it.`
    }`,
    ...sides.map(({ file, signature }) => `${file}: ${signature}`),
    `That the seal of ${dayWords(from.made)} was made on that day: its day is by the clock of whoever made it. Only a hash that lay elsewhere at the time shows that.`,
    ...(moved.late.length === 0
      ? []
      : [
          'Why entries are dated before a seal that does not have them: they may have been written down late, or put in afterwards.',
        ]),
    'That what was written was true when it was written.',
  ];
}
