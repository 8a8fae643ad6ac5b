import type { Severity } from './diagnostic.js';

/**
 * Every problem that the checker can find, with what it means. A code, once published, keeps its meaning.
 * The format reference is made from this table, one page a code.
 */

export interface CodeInfo {
  readonly severity: Severity;
  /** A few words, as a heading. */
  readonly title: string;
  /** What the checker has seen. */
  readonly what: string;
  /** Why it matters. */
  readonly why: string;
  /** How to mend it. */
  readonly mend: string;
}

function error(title: string, what: string, why: string, mend: string): CodeInfo {
  return { severity: 'error', title, what, why, mend };
}

function warning(title: string, what: string, why: string, mend: string): CodeInfo {
  return { severity: 'warning', title, what, why, mend };
}

const NAMES_WHY =
  'A name that leads nowhere hides what was meant: the reading would be missing from its graph, the proof from its spec.';
const NAMES_MEND = 'Correct the name (the nearest known one is given), or declare it where it belongs.';

const TABLE = {
  'ambiguous-unit': error(
    'Unit with more than one meaning',
    'A unit such as `gal`, `ton` or `oz` stands for different amounts in different countries or trades.',
    'A US gallon is 3.785 L and an imperial one 4.546 L: a tank wrong by a fifth.',
    'Write one of the exact units that the message offers, such as `US gal` or `imp gal`.',
  ),
  'bad-date': error(
    'No such day',
    'A date has the right form, but the calendar has no such day.',
    'Order in time is what a log is made of; a day that never was cannot be placed.',
    'Correct the date. It is written year-month-day: `2026-04-18`.',
  ),
  'bad-form': error(
    'Not written in the form that is due',
    'A name, a date, a path or another text with a fixed form is written in another.',
    'The form is what lets the tool read it without guessing.',
    'Write it as the message shows.',
  ),
  'bad-formula': error(
    'Formula that cannot be read',
    'A formula has a slip in it, or compares or adds kinds of quantity that do not go together.',
    'A formula decides whether a decision still stands; it may not be guessed at.',
    'Correct it at the mark. A minus has a space on both sides, since names contain hyphens.',
  ),
  'bad-interval': error(
    'Not an interval',
    'An interval of time is not one: it is written as `6 months`, `2 years`, `10 days`, or hours of a meter as `250 h`.',
    'What is due cannot be worked out from it.',
    'Write a whole number and days, weeks, months or years; hours only for upkeep by a meter.',
  ),
  'bad-money': error(
    'Not an amount of money',
    'Money is an amount and a currency code: `1480.00 EUR`.',
    'Money without its currency cannot be added up.',
    'Write the amount with a full stop before the cents, a space, and three capitals for the currency.',
  ),
  'bad-number': error(
    'Number that cannot be read',
    'A number is written in a way that can be read in two ways, or in none: `1,250 mm`.',
    'A comma is a decimal mark to some and a thousands mark to others.',
    'Use a full stop for decimals and nothing, or a space, between thousands.',
  ),
  'bad-requirement': error(
    'Requirement that cannot be read',
    'What a test requires is neither a comparison with a unit nor a text.',
    'The outcome of the test is computed from it.',
    'Write `>= 320 Ah`, `>= 13.8 V and <= 14.4 V`, `between 13.8 V and 14.4 V`, or a text that has to be found.',
  ),
  'bad-within': error(
    'Allowance that cannot be read',
    'How far a value may lie off, or how accurate an instrument is, is not a share or an amount: `5 %`, `10 Ah`, `0.5 % + 0.02 V`.',
    'Whether a reading agrees with a claim is decided by it.',
    'Write a percentage, or an amount in the unit of the value, or both joined by a plus.',
  ),
  'book-missing': error(
    'No book.yaml',
    'The folder has no `book.yaml`.',
    'Without it there is no subject, and nobody to have done the work.',
    'Run `ribband init` in an empty folder, or write a `book.yaml` with `book` and `subject`.',
  ),
  'chose-none-offered': error(
    'Chosen, but not among the options',
    'What was chosen is not one of the options that the decision lists.',
    'Somebody who reads it later cannot see what was decided for and against.',
    'Use the words of one option, or add the option.',
  ),
  'clash-of-readings': error(
    'The same point read twice with different values',
    'One entry gives the same point two values under the same conditions: in `measurements` and in a test, or twice.',
    'One of them is a slip, and nobody can say later which.',
    'Correct the wrong one; if both are right, say under what conditions each was taken.',
  ),
  'cycle-rests-on': error(
    'Rests on itself',
    'A derived value rests, through others, on itself.',
    'Nothing can be worked out from a circle.',
    'Break the circle at the place where one of them is measured or stated.',
  ),
  'cycle-waits-on': error(
    'Items that wait on each other',
    'Open items wait on each other in a circle, so that none can be started.',
    'A plan with a circle in it never ends.',
    'Take out the link that is not really needed.',
  ),
  'date-in-future': error(
    'Date in the future',
    'The entry is dated after today.',
    'A log tells what was done. Work to come belongs under `opens`.',
    'Correct the date, in the file and in its name.',
  ),
  'date-not-in-name': error(
    'Name and date differ',
    "The entry's date is not the one that its file name begins with.",
    'Files are found and sorted by their name.',
    'Rename the file, or correct the date: `entries/2026/2026-04-18-capacity-test.md`.',
  ),
  'duplicate-id': error(
    'Name used twice',
    'Two things of one sort have the same name.',
    'Whatever refers to the name could mean either.',
    'Give the later one a name of its own, such as the old one with the year behind it.',
  ),
  'duplicate-key': error(
    'Field written twice',
    'A field stands twice in the same place.',
    'Only one of the two could count, and it would be chance which.',
    'Put both under one field, or take one out.',
  ),
  'empty-value': error(
    'Field without a value',
    'A field is there, but nothing is written behind it.',
    'An empty field looks like something forgotten.',
    'Write the value, or take the field out.',
  ),
  'entry-twice': warning(
    'Entry given twice',
    'An entry has the same prose, or the same readings under the same conditions, as another one of its day.',
    'A file that was copied and forgotten has its readings, hours and costs count twice.',
    'Take one of the two out, or put both into one. If it was really read twice, say so in a `note` on the readings.',
  ),
  'far-off': warning(
    'Far from the readings before it',
    'A reading lies absurdly far from all that were taken at this point before.',
    'Most such readings are a slip of the pen, of the decimal point or of the unit.',
    'Correct it; if it is right, say so in its `note`, which silences this warning.',
  ),
  'file-name': error(
    'File name of another form',
    "An entry's file is named by its date and a few words, in small letters joined by hyphens, and lies in the folder of its year.",
    'So that a folder of a thousand entries is in order by itself.',
    'Rename it: `entries/2026/2026-04-18-capacity-test.md`.',
  ),
  'file-too-large': error(
    'File too large',
    'A text file of the book has more than 4 MB.',
    'No entry is that long; most likely something else was pasted into it.',
    'Split it, or keep long tables in a file of their own.',
  ),
  'fitted-since': warning(
    'Fitted since it was found',
    'A test failed, a limit is crossed or a spec is contradicted by what was found on a day, and a part was fitted in the same system after that day.',
    'The evidence may be of a thing that is no longer there. Only you know whether it is; until you say so, the finding stays as it is.',
    'Measure or test it again. Where it is another thing now, write `since` with the day of that at the point or the spec: what was found before is then told of the thing before.',
  ),
  'front-matter-language': error(
    'Front matter in another language',
    'The opening fence names a language. Front matter is YAML, and is never run as code.',
    'Front matter that could run would make it unsafe to open the book of a stranger.',
    'Write three hyphens alone on the first line, and YAML below.',
  ),
  'front-matter-missing': error(
    'No front matter',
    'The file does not begin with a line of three hyphens, or the closing line of three hyphens is missing.',
    'Without it there is no date, no system and no reading.',
    'Begin with `---`, then `date`, `title` and `systems`, then `---`, then the prose.',
  ),
  'front-matter-too-large': error(
    'Front matter too large',
    'Front matter or a plan has more than 64,000 letters.',
    'Nothing written by hand is that long; most likely logger data was pasted in.',
    'Split the entry, or keep long series elsewhere.',
  ),
  'heading-missing': error(
    'No such heading',
    'A heading that is named under `private-sections` is not in the prose.',
    'What is below it would be shown to everybody, and whoever named it believes it hidden.',
    'Write the heading as it stands in the prose, without its `#`.',
  ),
  'instrument-kind': warning(
    'Not among what the instrument measures',
    'The instrument is not said to measure this kind of quantity.',
    'Either the wrong instrument is named, or its range and accuracy are not known to the book.',
    "Correct `with`, or add the kind to the instrument's `measures` in book.yaml.",
  ),
  'item-not-open': error(
    'Closed, but not open',
    'The entry closes an item that was closed before, or that is opened only later.',
    'Somebody has lost count: of the work, or of the dates.',
    'Take it out, or correct the dates of the two entries.',
  ),
  'link-in-book': error(
    'A link instead of a file',
    'A file or folder of the book is a symbolic link.',
    'A link can lead outside the book, and a book has to be whole by itself.',
    'Put the file itself there.',
  ),
  'link-nowhere': warning(
    'Link that leads nowhere',
    'A link in the prose leads to no entry and no system of the book, and not out of it either.',
    'The site shows its words alone: whoever reads them cannot follow.',
    'Name the file of an entry or a system, such as `[the test](2026-04-18-capacity-test.md)`, or a whole address.',
  ),
  'meter-backwards': error(
    'Meter runs backwards',
    'A meter shows less than it did in an earlier entry.',
    'Hours between services are counted from it.',
    'Correct the reading; if the meter was replaced or has gone round, say `replaced: true` or `wrapped: true`.',
  ),
  'missing-field': error(
    'Field missing',
    'A field that has to be there is not.',
    'The rest cannot be understood without it.',
    'Add it. The message shows how it looks.',
  ),
  'name-not-file': error(
    "Name and file's name differ",
    "A system's name is not that of its file.",
    'The system is looked for under its name.',
    'Make them the same.',
  ),
  'needs-never-met': error(
    'Can never be checked',
    'A spec needs a basis that nothing in this book can reach.',
    'It would stay unverified for ever, whatever is done.',
    'Lower `needs`, or add what it takes: a third party among `people`, or a `point` with readings.',
  ),
  'needs-quotes': error(
    'Text that is read as a number',
    'A text that looks like a number, or like yes or no, is taken for one, and loses zeros and digits on the way.',
    'Serial number 007 would become 7.',
    'Put it in double quotes.',
  ),
  'no-unit': error(
    'Value without a unit',
    'A number stands alone where a unit is due.',
    'A number without a unit is what sinks the use of a record years later.',
    'Write the unit. The message lists those that fit.',
  ),
  'not-allowed': error(
    'Not one of the words allowed',
    'A field that takes one of a few words has another.',
    'Everything else is computed from these words.',
    'Use one of the words in the message.',
  ),
  'not-utf8': error(
    'Not a text in UTF-8',
    'The file is not text in UTF-8: it may have been saved in an older encoding, or not be a text at all.',
    'Letters such as ä, ± and Ω would be lost.',
    'Save it as UTF-8 in your editor.',
  ),
  'not-a-quantity': error(
    'Not a value with a unit',
    'Where a number with a unit is due, there is something else.',
    'It can be neither compared nor drawn.',
    'Write a number and a unit: `12.71 V`, `318 ± 6 Ah`, `27 1/2 in`.',
  ),
  'out-of-range': error(
    'Outside what the instrument can show',
    'The reading lies outside the range of the instrument it was taken with.',
    'The instrument cannot have shown it.',
    'Correct the value, its unit or the instrument.',
  ),
  'part-misspelt': warning(
    'Part with a name like another',
    'A part arrives or is fitted of which no entry so far tells, and whose name is like that of one that is known.',
    'A misspelt name makes a second part: the first stays on order for ever, and its cost and weight are not found again.',
    'Correct the name. If it is really another part, say with `what` what it is, where it first appears.',
  ),
  'part-never-came': error(
    'Fitted before it came',
    'A part is fitted of which no entry so far says that it arrived.',
    'What is fitted has to have come from somewhere; lead times are counted from it.',
    'Add its arrival (or `arrived` in the same entry, above), or correct the name.',
  ),
  'part-not-there': error(
    'Not there to be taken out',
    'A part is removed, moved, returned, sold or scrapped that is not there at that time.',
    'The list of what is aboard, and what it weighs, would be wrong.',
    'Correct the name. For something that was aboard from the beginning, say once that it is `fitted`, in the first entry.',
  ),
  'photo-alt-missing': error(
    'Picture without words',
    'A picture has no words that say what it shows.',
    'Whoever cannot see it, or has only the printed page, learns nothing from it; search finds nothing.',
    'Say what it shows: `alt: Label of the old bank, dated 2017`.',
  ),
  'photo-missing': error(
    'Picture not found',
    'A picture that is named is not in the book.',
    'Proof that is not there proves nothing.',
    'Put the file under `photos/`, or correct the path. Capital letters count.',
  ),
  'photo-path': error(
    'Path that leads out of the book',
    'A path to a picture is not a plain path under `photos/`: it goes up with `..`, begins at the root of a disk, or has backslashes.',
    'A book has to be whole by itself, and must never publish a file from beside it.',
    'Copy the file into `photos/` and write its path with forward slashes: `photos/2026/label.jpg`.',
  ),
  'photo-sort': error(
    'Not a picture that can be shown',
    'The file is not a JPEG, PNG or WebP picture by its name.',
    'Other formats cannot be shown everywhere, or can carry code.',
    'Export it as JPEG or PNG.',
  ),
  'photo-unreadable': error(
    'Picture that cannot be opened',
    'The file has the name of a picture, but cannot be opened as one: it is broken, cut short, of another sort than its name says, or far too large.',
    'Proof that nobody can look at proves nothing.',
    'Copy it again from the camera, or export it anew as JPEG or PNG.',
  ),
  'plan-name': error(
    'Plan names what is not there',
    'A plan names a case, source, store, system or value that does not exist.',
    'The plan would be reckoned without it.',
    NAMES_MEND,
  ),
  'reading-after-until': warning(
    'Reading of what is no longer there',
    'A reading is dated after the last day on which what its point is measured on was there.',
    'It is kept, but held against no limit and compared with nothing: a fault that it shows would not be found.',
    'Correct the day, name the point of what is there now, or take `until` from the point.',
  ),
  'reading-implausible': error(
    'Cannot be true',
    'A reading lies outside what its point declares plausible, or a value outside what can be true of anything: a specific gravity of 1265.',
    'Such a reading is a slip of the pen or of the unit.',
    "Correct it, or widen `plausible` in the system's file.",
  ),
  'reading-outside-entry': error(
    'Reading told outside an entry',
    "A system's prose tells a reading, as only the prose of an entry can.",
    'A reading has a day, and a system file has none: it would be counted nowhere.',
    'Tell it in the entry of its day. To show the form itself, put a backslash before the colon.',
  ),
  'reading-slip': warning(
    'Looks like a reading, but is none',
    'The prose of an entry has something like `:Reading[9.6 V]`, `: reading[9.6 V]` or `::reading[9.6 V]`, which is plain text.',
    'What was measured would stand in the prose and be counted nowhere.',
    'Write `:reading[` in small letters and without a blank. To show the form itself, put a backslash before the colon.',
  ),
  'reading-twice': error(
    'The same reading given twice',
    'A reading that is told in the prose of an entry is given in the same entry once more.',
    'It would count twice, and when one of the two is corrected the other stays wrong.',
    'Give it once, in the prose or under `measurements`; if it was read twice, say in its conditions how the two differ.',
  ),
  'see-not-listed': error(
    'Shown by a picture that the entry does not list',
    '`see` names a file that is not among the photos of its entry.',
    'The proof would not be shown.',
    'List the picture under `photos` of the same entry.',
  ),
  'series-heading': error(
    'No heading over the readings of a logger',
    'A file under `series/` does not begin with the line `time,value` or `time,value (UNIT)`.',
    'Without it nobody can tell whether the numbers are those that are meant.',
    'Write the heading, or bring the table into the right form with `ribband take`.',
  ),
  'series-missing': error(
    'File of readings not found',
    "A point names a file of readings that is not in the book, or that is another point's.",
    'Its readings would be missing, or be those of something else.',
    'Make the file with `ribband take`, or correct the path. Each point has a file of its own.',
  ),
  'series-order': error(
    'Readings of a logger not in order of time',
    'A row of a file of readings is not later than the one before it.',
    'Of two readings at one time one would have to be dropped, and it would be chance which.',
    'Put the rows in order, each time once. Where a clock was set back in autumn, leave out the hour that came twice.',
  ),
  'series-row': error(
    'Row of readings that cannot be read',
    'A row of a file of readings is not a time, a comma and a number, or lies in the future.',
    'It is left out, and the rest would look complete.',
    'Write the row as `2026-04-18T10:20,61.3`, or take it out.',
  ),
  'series-unused': warning(
    'Readings of no point',
    'A file lies under `series/` that no point of a system names.',
    'It is neither shown nor checked.',
    'Name it at its point in the system file (`series: series/NAME.csv`), or move it out.',
  ),
  'spec-without-band': error(
    'No allowance given',
    'A spec states a number, but not how far a measured value may lie from it and still agree.',
    'No measurement ever hits a number exactly; without an allowance every spec would be contradicted.',
    'Add `within: 5 %`, or `means: at-least`, or a ± in the value.',
  ),
  'spent-on-unchecked': warning(
    'Spent on what is not checked',
    'A part is ordered or fitted that rests on a spec which nobody has checked, or which a measurement contradicts.',
    'If the claim is wrong, so is the part: the money is spent before the measurement is made.',
    'Check the spec first. The warning goes when it is verified, or when the part is returned or sold.',
  ),
  'stray-file': warning(
    'File that is not part of the book',
    'A file or folder lies in the book but is nothing that the format knows.',
    'It may be an entry with a wrong ending or in a wrong place, which would be missing from the record.',
    'Give it its right name and place (`entries/YEAR/DATE-WORDS.md`, `systems/NAME.md`), or move it out.',
  ),
  'system-not-listed': error(
    "System not among the entry's systems",
    'Something in the entry belongs to a system that the entry does not list under `systems`.',
    "The entry would be missing from that system's history.",
    'Add the system to `systems`.',
  ),
  'test-reading-missing': error(
    'Reading of a test missing',
    'A test that was done lacks a reading that it requires.',
    'Its outcome cannot be computed.',
    'Add the reading, or leave the test out and give the readings under `measurements`.',
  ),
  'text-cut-off': error(
    'Text cut off at a #',
    'A text without quotes is followed by a blank and a `#` that stands right before a letter or a digit, as in `Battery #3 looked at`.',
    'In YAML that `#` begins a comment: the rest of the text would be missing from the record, without a word.',
    'Put the whole text in quotes. A comment has a blank behind its `#`: `12.7 V # after the night`.',
  ),
  'too-deep': error(
    'Nested too deeply',
    'Front matter is nested more than two dozen levels deep.',
    'No field of the format goes that deep; most likely brackets were left open.',
    'Close the brackets, or correct the indentation.',
  ),
  'undoes-nothing': error(
    'Takes back what was not decided',
    'A decision takes back one that is later, is taken back already, or is itself.',
    'Which of them stands would be left open.',
    'Correct `undoes`, or the dates.',
  ),
  'unknown-decision': error(
    'Unknown decision',
    'A decision is named that no entry makes.',
    NAMES_WHY,
    NAMES_MEND,
  ),
  'unknown-instrument': error(
    'Unknown instrument',
    'An instrument is named that book.yaml does not list.',
    NAMES_WHY,
    NAMES_MEND,
  ),
  'unknown-item': error('Unknown item', 'An item is named that no entry opens.', NAMES_WHY, NAMES_MEND),
  'unknown-key': error(
    'Unknown field',
    'A field is written that the format does not have.',
    'A misspelt field would be passed over without a word, and what it says be lost.',
    'Correct its name (the nearest known one is given), or put what it says into the prose.',
  ),
  'unknown-kind': error(
    'Unknown kind of quantity',
    'A kind of quantity is named that the tool does not know.',
    'Units and comparisons hang on the kind.',
    'Use one of the kinds in the reference; the nearest is given.',
  ),
  'unknown-meter': error(
    'Unknown meter',
    "A meter is named that its system's file does not declare.",
    NAMES_WHY,
    NAMES_MEND,
  ),
  'unknown-name': error(
    'Unknown name',
    'A name is used that is neither point, spec nor derived value of the book.',
    NAMES_WHY,
    NAMES_MEND,
  ),
  'unknown-part': error('Unknown part', 'A part is named that no entry tells of.', NAMES_WHY, NAMES_MEND),
  'unknown-person': error(
    'Unknown person',
    'A person is named that book.yaml does not list under `people`.',
    NAMES_WHY,
    NAMES_MEND,
  ),
  'unknown-point': error(
    'Unknown point',
    "A point is named that its system's file does not declare.",
    NAMES_WHY,
    NAMES_MEND,
  ),
  'unknown-reading': error(
    'Reading that the test does not have',
    'A test is given a reading that it does not require.',
    NAMES_WHY,
    NAMES_MEND,
  ),
  'unknown-spec': error(
    'Unknown spec',
    "A spec is named that its system's file does not declare.",
    NAMES_WHY,
    NAMES_MEND,
  ),
  'unknown-system': error(
    'Unknown system',
    'A system is named that has no file under `systems/`.',
    NAMES_WHY,
    NAMES_MEND,
  ),
  'unknown-test': error(
    'Unknown test',
    "A test is named that its system's file does not declare.",
    NAMES_WHY,
    NAMES_MEND,
  ),
  'unknown-unit': error(
    'Unknown unit',
    'A unit is written that the tool does not know.',
    'A value in an unknown unit can be neither compared nor drawn.',
    'Correct the unit; the nearest known one is given. Capital letters count: mA is not MA.',
  ),
  'unknown-upkeep': error(
    'Unknown upkeep',
    "Upkeep is named that its system's file does not declare.",
    NAMES_WHY,
    NAMES_MEND,
  ),
  unreadable: error(
    'File that cannot be opened',
    'A file or folder of the book cannot be opened.',
    'What it says is missing from the record.',
    'Look at its permissions, and whether another program holds it.',
  ),
  'wrong-ending': error(
    'Entry or system with another ending',
    'A file under `entries/` or `systems/` looks like a text of the book, but its name does not end in `.md`, in small letters.',
    'It is passed over: what it tells is missing from the record.',
    'Give it the ending `.md`. What is no entry and no system belongs elsewhere, outside these folders.',
  ),
  'wrong-kind': error(
    'Another kind of quantity',
    'A value is given in a unit of another kind: a voltage in amperes, a torque in joules, an absolute pressure where a gauge pressure is due.',
    'The two cannot be compared, however alike they look.',
    'Correct the unit, or the kind that the point or spec declares.',
  ),
  'wrong-type': error(
    'Another shape than is due',
    'A list is written where one value is due, or the other way round.',
    'It cannot be read as what it was meant to be.',
    'Write it in the shape that the message shows.',
  ),
  'yaml-alias': error(
    'Anchor or alias',
    'Front matter uses an anchor (`&`) or an alias (`*`).',
    'A book needs none, and a few lines of them can unfold to gigabytes.',
    'Write the value out; a text that begins with `&` or `*` goes into quotes.',
  ),
  'yaml-syntax': error(
    'Not well-formed YAML',
    'Front matter cannot be read as YAML.',
    'Nothing of it can be trusted until it can.',
    'Look at the mark: most often it is a missing quote around a text with a colon, or an indentation that slipped.',
  ),
  'yaml-tag': error(
    'Tag',
    'Front matter uses a tag (`!`).',
    'A book needs none, and a tag can change what a value means.',
    'Take it out; a text that begins with `!` goes into quotes.',
  ),
} satisfies Record<string, CodeInfo>;

/** The code of a problem. */
export type Code = keyof typeof TABLE;

/** All codes with what they mean. */
export const CODES: Readonly<Record<Code, CodeInfo>> = TABLE;

/** All codes, in order. */
export const ALL_CODES = Object.keys(TABLE) as readonly Code[];
