import { plainLine } from '../quantity/plain-line.js';
import type { YamlSlip } from '../read/slips.js';
import type { Code } from './codes.js';
import type { Said } from './problem.js';

/** Every sentence that the checker says, one function each: what was found, what was due, how to mend it. */

function say(code: Code, message: string, hint: string | null = null): Said {
  return { code, message, hint };
}

/** Joins names for a sentence: `a, b or c`. */
export function either(names: readonly string[], last = 'or'): string {
  const quoted = names.map((name) => `\`${name}\``);
  if (quoted.length <= 1) return quoted.join('');
  return `${quoted.slice(0, -1).join(', ')} ${last} ${quoted.at(-1)}`;
}

function itLooks(example: string | null): string | null {
  return example === null ? null : `It looks like this: \`${example}\``;
}

function didYouMean(name: string | null, otherwise: string): string {
  return name === null ? otherwise : `Did you mean \`${name}\`?`;
}

/** Keeps what a user wrote short enough for a sentence. */
export function brief(text: unknown): string {
  const written = typeof text === 'string' ? text : String(text);
  return plainLine(written, 58);
}

export const badDate = (written: string): Said =>
  say(
    'bad-date',
    `There is no such day as ${written}.`,
    'Correct the date; it is written year-month-day, such as `2026-04-18`.',
  );

export const badForm = (reason: string): Said => say('bad-form', sentence(reason));

/** @param days that the date may mean; none or several. */
export const dateForm = (reason: string, days: readonly string[]): Said =>
  say(
    'bad-form',
    sentence(reason),
    days.length < 2 ? null : `It may mean ${either(days)}; write the one that it is.`,
  );

export const shortFormFull = (point: string): Said =>
  say(
    'bad-form',
    'The short form has room for a point and its value, and for nothing else.',
    `Write it in full: \`{ point: ${brief(point)}, value: …, … }\`.`,
  );

export const blankMissing = (due: string): Said =>
  say('bad-form', 'Behind the colon of a field a plain blank is missing.', `Write \`${brief(due)}\`.`);

/** @param due what may be meant, likeliest first. */
export const cutNumber = (written: string, due: readonly string[]): Said =>
  say(
    'unknown-key',
    `\`${brief(written)}\` is read as two things here, because a comma ends a value in braces.`,
    `Write ${either(due.map(brief))}.`,
  );

/** @param due the whole text in quotes. */
export const cutText = (rest: string, due: string): Said =>
  say(
    'unknown-key',
    `\`${brief(rest)}\` is read as a field of its own, because a comma ends a value in braces.`,
    `Put the whole text in quotes: ${due.length > 80 ? '`"…, …"`' : `\`${due}\``}.`,
  );

/** @param due the text in quotes that are some. */
export const curlyQuotes = (rest: string, due: string): Said =>
  say(
    'unknown-key',
    `\`${brief(rest)}\` is read as a field of its own: curly quotes are no quotes here, so that the comma between them ends the value.`,
    `Write straight ones: ${due.length > 80 ? '`"…, …"`' : `\`${due}\``}.`,
  );

export const valueForPoint = (value: string): Said =>
  say(
    'bad-form',
    `\`point\` takes the name of a point, and \`${brief(value)}\` is a value.`,
    `Write \`point: system.name, value: ${brief(value)}\` with the point's own name.`,
  );

/** @param list what is there, as a list. */
export const listDue = (found: string, list: string): Said =>
  say('wrong-type', `A list is due here, not ${found}.`, `Write \`${brief(list)}\`.`);

export const hyphenDue = (begun: string): Said =>
  say(
    'wrong-type',
    'A list is due here, and each of its items begins with a hyphen and a blank.',
    `Write \`${brief(begun)}\`, and what belongs to it below or in braces.`,
  );

/** @param names in full, by the systems of the entry. */
export const systemBefore = (names: readonly string[]): Said =>
  say(
    'bad-form',
    'The system that it belongs to stands in front of this name, with a full stop between.',
    `Write ${either(names)}.`,
  );

/** @param due the same name in the right form. */
export const nameForm = (due: string): Said =>
  say('bad-form', 'Names are written in small letters, with hyphens between words.', `Write \`${due}\`.`);

/** @param id of the system whose title was written. */
export const titleForName = (id: string): Said =>
  say('bad-form', 'This is the title of a system, and its short name is due.', `Write \`${id}\`.`);

export const tooLong = (letters: number): Said =>
  say('bad-form', `This has more than ${letters} letters.`, 'Shorten it; the prose below has room for more.');

export const badFormula = (message: string, hint: string | null): Said => say('bad-formula', message, hint);

export const badRequirement = (written: string): Said =>
  say(
    'bad-requirement',
    `\`${brief(written)}\` does not say what is required.`,
    'Write `>= 320 Ah`, `<= 50 mA`, `between 13.8 V and 14.4 V`, or a text that has to be found.',
  );

export const badWithin = (written: string): Said =>
  say(
    'bad-within',
    `\`${brief(written)}\` is neither a share nor an amount.`,
    'Write `5 %`, an amount with its unit, or both added: `0.5 % + 0.02 V`.',
  );

export const compareAtOpen = (written: string): Said =>
  say(
    'bad-within',
    `\`${brief(written)}\` does not say how far from it is near enough.`,
    'Write it as `20 °C within 5 K`.',
  );

export const bookMissing = (): Said =>
  say(
    'book-missing',
    'There is no `book.yaml` in this folder, so it is not a book.',
    'Run `ribband init` to make a new book, or name the folder that holds one.',
  );

export const choseNoneOffered = (chose: string, options: readonly string[]): Said =>
  say(
    'chose-none-offered',
    `“${brief(chose)}” is not one of the options of this decision.`,
    `The options are ${either(options.map(brief), 'and')}.`,
  );

export const clashOfReadings = (point: string, first: string, second: string): Said =>
  say(
    'clash-of-readings',
    `\`${point}\` is read twice in this entry: ${first} and ${second}.`,
    'Correct one, or say under what conditions each was taken.',
  );

export const cycleRestsOn = (loop: readonly string[]): Said =>
  say(
    'cycle-rests-on',
    loop.length <= 2 ? 'This value rests on itself.' : `This value rests on itself: ${loop.join(' → ')}.`,
    'Measure or state one of them instead of working it out from the others.',
  );

export const cycleWaitsOn = (loop: readonly string[]): Said =>
  say(
    'cycle-waits-on',
    loop.length <= 2
      ? 'This item waits on itself, so it can never be started.'
      : `These items wait on each other, so none can be started: ${loop.join(' → ')}.`,
    'Take out what need not be waited for.',
  );

export const dateInFuture = (date: string, today: string): Said =>
  say(
    'date-in-future',
    `The entry is dated ${date}, after today (${today}).`,
    'Correct the date, here and in the file name; work to come goes under `opens`.',
  );

export const dateNotInName = (date: string, inName: string): Said =>
  say(
    'date-not-in-name',
    `The entry is dated ${date}, but its file name begins with ${inName}.`,
    'Rename the file, or correct the date.',
  );

export const duplicateId = (sort: string, id: string, where: string): Said =>
  say(
    'duplicate-id',
    `There is already ${article(sort)} ${sort} called \`${id}\`, in ${where}.`,
    'Give this one a name of its own.',
  );

export const duplicateKey = (key: string): Said =>
  say(
    'duplicate-key',
    `The field \`${key}\` stands twice here.`,
    'Put both under one field, or take one out.',
  );

/** @param key the field, or the number of the item where a list has an empty one. */
export const emptyValue = (key: string | number): Said =>
  typeof key === 'number'
    ? say('empty-value', 'Nothing is written in this line of the list.', 'Write it, or take the line out.')
    : say('empty-value', `Nothing is written behind \`${key}\`.`, 'Write its value, or take the field out.');

/** @param other the file of the entry that says it, too. */
export const entryTwice = (what: 'readings' | 'words', other: string): Said =>
  say(
    'entry-twice',
    what === 'readings'
      ? `The readings of this day stand in ${other} as well, so that they count twice.`
      : `This entry is word for word like ${other}.`,
    'Take one of the two files out; if it was read twice, say so in a `note` on these readings.',
  );

export const farOff = (point: string, written: string, usual: string): Said =>
  say(
    'far-off',
    `${written} is far from what \`${point}\` has read before (${usual}).`,
    'Correct it; if it is right, say so in a `note` on this reading.',
  );

export const fileName = (path: string, due: string): Said =>
  say(
    'file-name',
    `An entry's file lies in the folder of its year and is named by its date and a few words in small letters, joined by hyphens; \`${path}\` is not.`,
    `Rename it, for instance \`${due}\`.`,
  );

export const fileTooLarge = (): Said =>
  say(
    'file-too-large',
    'This text file has more than 4 MB.',
    'Split it; long series of a logger do not belong in an entry.',
  );

/**
 * @param found what is found, in a sentence without a stop, @param fitted what was fitted, @param again what can be
 *   done, in the middle of a sentence
 */
export const fittedSince = (found: string, fitted: string, again: string): Said =>
  say('fitted-since', sentence(`${found}, and after that ${fitted}`), sentence(again));

export const frontMatterLanguage = (language: string): Said =>
  say(
    'front-matter-language',
    `Behind the three hyphens stands “${brief(language)}”: front matter is always plain YAML, and is never run as code.`,
    'Leave only the three hyphens on the first line.',
  );

export const frontMatterMissing = (): Said =>
  say(
    'front-matter-missing',
    'The file does not begin with front matter.',
    'Begin with a line `---` (three hyphens, of which a phone may make a long dash), then the fields, then a line `---`, then the prose.',
  );

export const frontMatterOpen = (): Said =>
  say(
    'front-matter-missing',
    'Front matter begins here but does not end.',
    'Close it with a line of three hyphens.',
  );

export const frontMatterTooLarge = (): Said =>
  say(
    'front-matter-too-large',
    'Front matter may have 64,000 letters; this has more.',
    'Split it, or keep long series elsewhere.',
  );

export const instrumentKind = (instrument: string, kind: string): Said =>
  say(
    'instrument-kind',
    `\`${instrument}\` is not said to measure ${kind}.`,
    "Correct `with`, or add the kind to the instrument's `measures` in book.yaml.",
  );

export const headingMissing = (heading: string, near: string | null): Said =>
  say(
    'heading-missing',
    `The prose has no heading \`${brief(heading)}\`, so that nothing would be hidden.`,
    didYouMean(near, 'Write a heading of the prose below as it stands there, without its `#`.'),
  );

export const intervalTwice = (): Said =>
  say(
    'bad-interval',
    'Two intervals stand here that are both of the calendar, or both hours.',
    'Give hours of the meter and an interval of the calendar, such as `[250 h, 12 months]`, or one alone.',
  );

export const itemNotOpen = (item: string, closedIn: string): Said =>
  say(
    'item-not-open',
    `\`${item}\` is not open any more: ${closedIn} closed it.`,
    'Take it out, or correct the name.',
  );

export const itemClosedTwice = (item: string): Said =>
  say('item-not-open', `\`${item}\` is closed twice in this entry.`, 'Take one of the two out.');

export const itemNotYetOpen = (item: string, openedIn: string): Said =>
  say(
    'item-not-open',
    `\`${item}\` is not open yet: it is opened by ${openedIn}, which is later.`,
    'Correct the date of one of the two entries.',
  );

export const linkInBook = (): Said =>
  say('link-in-book', 'This is a link, and links are not followed.', 'Put the file itself there.');

export const meterBackwards = (meter: string, now: string, before: string, on: string): Said =>
  say(
    'meter-backwards',
    `\`${meter}\` shows ${now}, but showed ${before} on ${on}.`,
    'Correct the reading; for a new meter say `replaced: true`, for one gone round `wrapped: true`.',
  );

/** @param example how its value looks, where the format says. */
export const missingField = (field: string, example: string | null): Said =>
  say(
    'missing-field',
    `The field \`${field}\` is missing.`,
    itLooks(example === null ? null : `${field}: ${example}`),
  );

export const nameTwice = (name: string, section: string): Said =>
  say(
    'duplicate-id',
    `\`${name}\` stands under \`${section}\` of this system already, and \`system.${name}\` has to mean one thing.`,
    'Give this one a name of its own.',
  );

export const nameNotFile = (name: string, file: string): Said =>
  say(
    'name-not-file',
    `The system is called \`${name}\`, but its file \`${file}\`.`,
    'Make the two the same.',
  );

export const needsNeverMet = (why: string, hint: string): Said => say('needs-never-met', why, hint);

/** @param found what it is read as: `a number`. */
export const needsQuotes = (found: string): Said =>
  say(
    'needs-quotes',
    `A text is due here, but without quotes this is read as ${found}.`,
    'Put it in double quotes, just as it stands.',
  );

export const notAllowed = (written: string, allowed: readonly string[], near: string | null): Said =>
  say(
    'not-allowed',
    `\`${brief(written)}\` is not one of the words allowed here.`,
    `${near === null ? '' : `Did you mean \`${near}\`? `}Allowed are ${either(allowed, 'and')}.`,
  );

export const ownerIsNoAudience = (): Said =>
  say(
    'not-allowed',
    'The owner sees everything, so that nothing can be hidden from `owner`.',
    'Call the audience something else, such as `buyer`.',
  );

export const notBoolean = (found: string): Said =>
  say('wrong-type', `True or false is due here, not ${found}.`, 'Write `true` or `false`, without quotes.');

export const notUtf8 = (): Said =>
  say('not-utf8', 'This file is not a text in UTF-8.', 'Save it as UTF-8 in your editor.');

export const outOfRange = (written: string, instrument: string, range: string): Said =>
  say(
    'out-of-range',
    `${written} is outside what \`${instrument}\` can show (${range}).`,
    'Correct the value, its unit or the instrument.',
  );

/** @param awaited whether the near one is on order or here, so that this move would be its next. */
export const partMisspelt = (part: string, move: string, near: string, awaited: boolean): Said =>
  say(
    'part-misspelt',
    `No entry so far tells of \`${part}\`, yet it ${move === 'arrived' ? 'arrives' : 'is fitted'}; \`${near}\` is ${awaited ? 'on its way or here' : 'known'}.`,
    `Did you mean \`${near}\`? If it is another one, say with \`what\` what it is.`,
  );

export const partNeverCame = (part: string): Said =>
  say(
    'part-never-came',
    `\`${part}\` is fitted, but no entry so far says that it arrived.`,
    'Add `move: arrived` above, or in the entry of the day it came.',
  );

export const partNotThere = (part: string, move: string, now: string, mend: string): Said =>
  say('part-not-there', `\`${part}\` cannot be ${move}: ${now}.`, mend);

export const photoAltMissing = (file: string): Said =>
  say(
    'photo-alt-missing',
    `The picture \`${brief(file)}\` has no words that say what it shows.`,
    'Say what it shows, for somebody who cannot see it.',
  );

/** @param unnamed a few pictures that are there and that no entry names. */
export const photoMissing = (file: string, near: string | null, unnamed: readonly string[] = []): Said =>
  say(
    'photo-missing',
    `The picture \`${brief(file)}\` is not in the book.`,
    didYouMean(
      near,
      unnamed.length === 0
        ? 'Put it under `photos/`, or correct the path.'
        : `No entry names ${either(unnamed)}: if it was renamed, write the new path. Else put it under \`photos/\`.`,
    ),
  );

/** @param near the path of a picture that is there, where only the slashes are wrong. */
export const photoPath = (file: string, near: string | null): Said =>
  say(
    'photo-path',
    `\`${brief(file)}\` is not a plain path under \`photos/\`.`,
    didYouMean(
      near,
      'Copy the picture into `photos/` and write its path with forward slashes, such as `photos/2026/label.jpg`.',
    ),
  );

/** @param near the name of the entry or system that is nearest, if any. */
export const linkNowhere = (url: string, near: string | null): Said =>
  say(
    'link-nowhere',
    `The link to \`${brief(url)}\` leads nowhere: it is no entry or system of the book, and no address.`,
    didYouMean(
      near === null ? null : `${near}.md`,
      'Links lead to the file of an entry or a system, or to an address that begins with `https://`.',
    ),
  );

export const photoRemote = (url: string): Said =>
  say(
    'photo-path',
    `The picture \`${brief(url)}\` lies outside the book.`,
    'Copy it into `photos/`, so that the book is whole by itself.',
  );

export const photoSort = (file: string): Said =>
  say('photo-sort', `\`${brief(file)}\` is not a JPEG, PNG or WebP picture.`, 'Export it as JPEG or PNG.');

export const photoUnreadable = (file: string): Said =>
  say(
    'photo-unreadable',
    `\`${brief(file)}\` is no JPEG, PNG or WebP picture inside, whatever its name says.`,
    'Copy it again from the camera, or export it anew as JPEG or PNG; a new name does not change it.',
  );

export const planName = (sort: string, name: string, near: string | null): Said =>
  say(
    'plan-name',
    `The plan has no ${sort} called \`${brief(name)}\`.`,
    didYouMean(near, `Add it, or correct the name.`),
  );

export const readingImplausible = (written: string, point: string, range: string): Said =>
  say(
    'reading-implausible',
    `${written} cannot be true at \`${point}\`, where ${range} is plausible.`,
    'Correct the value or its unit.',
  );

/** @param due the value that is most likely meant. */
export const impossible = (written: string, kind: string, range: string, due: string | null): Said =>
  say(
    'reading-implausible',
    `${written} cannot be true: a ${kind} is ${range}.`,
    due === null ? 'Correct the value or its unit.' : `Write \`${due}\` if that is what was read.`,
  );

export const readingOutsideEntry = (): Said =>
  say(
    'reading-outside-entry',
    'A reading is told here, but only entries tell readings: they have a day.',
    'Tell it in the entry of the day on which it was taken, or put a backslash before the colon.',
  );

/** A reading told in the prose without a value between square brackets. */
export const readingEmpty = (): Said =>
  say(
    'empty-value',
    'A reading is told here, but nothing stands in its square brackets, or they are not closed.',
    'Write the value between them: `:reading[9.6 V]{what="battery while cranking"}`.',
  );

/** @param written how it begins. */
export const readingSlip = (written: string): Said =>
  say(
    'reading-slip',
    `\`${brief(written)}[\` is plain text, and counts nowhere.`,
    'Write `:reading[` for a reading; where text is meant, put a backslash before the colon.',
  );

/** @param point null for a thing named in plain words. */
export const readingAfterUntil = (point: string, until: string, date: string): Said =>
  say(
    'reading-after-until',
    `What \`${point}\` is measured on was there until ${until}, and this reading is of ${date}: it is held against no limit.`,
    'Correct the day, name the point of what is there now, or take `until` from the point.',
  );

export const readingTwice = (point: string | null, written: string): Said =>
  say(
    'reading-twice',
    `${point === null ? 'This' : `\`${point}\``} is given a second time in this entry: ${written}.`,
    'Give it once, in the prose or under `measurements`.',
  );

/** Says of a row what is said, and that others are like it. */
export const andMoreRows = (said: Said, more: number): Said => ({
  ...said,
  message: `${said.message} ${more === 1 ? 'One more row of this file is' : `${more} more rows of this file are`} wrong in the same way.`,
});

export const seriesHeading = (): Said =>
  say(
    'series-heading',
    'A file of readings begins with the names of its two columns, and this does not.',
    'Write `time,value` or, with the unit, `time,value (V)`. `ribband take` brings a table of any form into this one.',
  );

export const seriesMissing = (file: string, near: string | null): Said =>
  say(
    'series-missing',
    `The file of readings \`${brief(file)}\` is not in the book.`,
    didYouMean(near, 'Make it with `ribband take`, or correct the path.'),
  );

export const seriesTaken = (file: string, point: string): Said =>
  say(
    'series-missing',
    `\`${brief(file)}\` holds the readings of \`${point}\` already.`,
    'Each point has a file of its own.',
  );

export const seriesRowColumns = (written: string): Said =>
  say(
    'series-row',
    `\`${brief(written)}\` is no row of readings.`,
    'Each row is a time, a comma and a number: `2026-04-18T10:20,61.3`.',
  );

export const seriesRowTime = (written: string): Said =>
  say(
    'series-row',
    `\`${brief(written)}\` is not a time.`,
    'Write it as `2026-04-18T10:20` or `2026-04-18T10:20:30`.',
  );

export const seriesRowValue = (written: string): Said =>
  say(
    'series-row',
    written === ',' ? 'There is no number in this row.' : `\`${brief(written)}\` is not a number.`,
    'Write the number alone, with a full stop for decimals; the unit stands in the first line.',
  );

export const seriesRowLate = (written: string, today: string): Said =>
  say(
    'series-row',
    `${written} lies after today (${today}).`,
    'Correct the time; the clock of the logger may have been wrong.',
  );

export const seriesRowOrder = (written: string): Said =>
  say(
    'series-order',
    `${written} is not later than the row before it.`,
    'Put the rows in order of time, each time once.',
  );

export const seriesUnused = (): Said =>
  say(
    'series-unused',
    'No point says that these are its readings.',
    'Name it in the system file, at its point: `series: series/NAME.csv`; or move it out.',
  );

/** @param headings of the table; empty where it has none. */
/** What UTF-8 makes of bytes that are none of it. */
const NO_LETTER = '\ufffd';

export const takeColumn = (column: string, near: string | null, headings: readonly string[]): Said =>
  say(
    'unknown-name',
    `The table has no column \`${brief(column)}\`.`,
    didYouMean(
      near?.includes(NO_LETTER) === true ? null : near,
      headings.some((heading) => heading.includes(NO_LETTER))
        ? 'The headings are not in UTF-8: write `encoding: latin1` in the map, as for older loggers, or save the table as UTF-8.'
        : headings.length === 0
          ? 'Without headings a column goes by its number, from 1.'
          : `Its columns are ${either(headings.slice(0, 24), 'and')}. If that looks wrong, see to \`delimiter\` and \`skip-lines\`.`,
    ),
  );

export const takeNoEntries = (point: string, name: string): Said =>
  say(
    'missing-field',
    `\`${point}\` names no file for a logger's readings, so that these would become entries, and the map has no \`entries\`.`,
    `For a file, name it at the point in its system file: \`series: series/${name}.csv\`. For entries, add \`entries: { title: Readings of the bank }\` to the map.`,
  );

export const takeNoSeries = (point: string, name: string): Said =>
  say(
    'missing-field',
    `\`${point}\` names no file for a logger's readings.`,
    `Name one at the point in its system file: \`series: series/${name}.csv\`; or take them into entries: \`to: entries\`.`,
  );

export const takeTimeForm = (form: string, why: string): Said =>
  say(
    'bad-form',
    `\`${brief(form)}\` is no form of a time: ${why}.`,
    'Write for instance `DD.MM.YYYY HH:mm` or `YYYY-MM-DD HH:mm:ss`.',
  );

export const seeNotListed = (file: string, near: string | null): Said =>
  say(
    'see-not-listed',
    `\`${brief(file)}\` is not among the photos of this entry.`,
    didYouMean(near, 'List it under `photos`.'),
  );

export const specWithoutBand = (spec: string): Said =>
  say(
    'spec-without-band',
    `\`${spec}\` states a number, but not how far a measured one may lie from it.`,
    'Add `within: 5 %`, or `means: at-least`, or a ± in the value.',
  );

export const spentOnUnchecked = (
  part: string,
  move: string,
  spec: string,
  standing: string,
  next: string,
): Said =>
  say('spent-on-unchecked', `\`${part}\` is ${move}, but rests on \`${spec}\`, which is ${standing}.`, next);

export const strayFile = (): Said =>
  say(
    'stray-file',
    'This is not part of the book and is passed over, with all that it tells.',
    'Give it the right name and place (an entry is `entries/YEAR/DATE-WORDS.md`, a system `systems/NAME.md`), or move it out.',
  );

export const systemNotListed = (system: string): Said =>
  say('system-not-listed', `\`${system}\` is not among the systems of this entry.`, 'Add it to `systems`.');

export const testReadingMissing = (test: string, names: readonly string[]): Said =>
  say(
    'test-reading-missing',
    `\`${test}\` lacks ${either(names, 'and')}, which it requires.`,
    'Add what was read.',
  );

export const textCutOff = (): Said =>
  say(
    'text-cut-off',
    'A `#` behind a blank begins a comment: this is not part of the text before it, and would be lost.',
    'Put the whole text in quotes. If it is a comment, put a blank behind the `#`.',
  );

export const tooDeep = (): Said =>
  say(
    'too-deep',
    'This is nested more than two dozen levels deep.',
    'Close the brackets that were left open, or correct the indentation.',
  );

export const undoesNothing = (why: string): Said =>
  say('undoes-nothing', why, 'Correct `undoes`, or the dates.');

const UNKNOWN = {
  system: ['unknown-system', 'There is no system', 'Systems are declared under `systems/`.'],
  point: ['unknown-point', 'There is no point', "Points are declared in the system's file under `points`."],
  spec: ['unknown-spec', 'There is no spec', "Specs are declared in the system's file under `specs`."],
  test: ['unknown-test', 'There is no test', "Tests are declared in the system's file under `tests`."],
  meter: ['unknown-meter', 'There is no meter', "Meters are declared in the system's file under `meters`."],
  upkeep: ['unknown-upkeep', 'There is no upkeep', "Upkeep is declared in the system's file under `upkeep`."],
  part: ['unknown-part', 'No entry tells of a part', 'Parts are told of in entries, under `parts`.'],
  item: ['unknown-item', 'No entry opens an item', 'Items are opened in entries, under `opens`.'],
  decision: [
    'unknown-decision',
    'No entry makes a decision',
    'Decisions are made in entries, under `decisions`.',
  ],
  instrument: ['unknown-instrument', 'There is no instrument', 'Instruments are listed in book.yaml.'],
  person: ['unknown-person', 'There is no person', 'People are listed in book.yaml under `people`.'],
  name: [
    'unknown-name',
    'There is no point, spec or derived value',
    'They are declared in the files under `systems/`.',
  ],
} as const satisfies Record<string, readonly [Code, string, string]>;

/** Sorts of things that can be named. */
export type Sort = keyof typeof UNKNOWN;

/** More names than these are no help in a sentence. */
const MOST_NAMES = 12;

/** @param known all names of the sort, where they are told: those of which a book has few. */
export const unknown = (
  sort: Sort,
  name: string,
  near: string | null,
  known: readonly string[] = [],
): Said => {
  const [code, text, otherwise] = UNKNOWN[sort];
  const are = known.length === 1 ? 'There is' : 'There are';
  const told = known.length === 0 || known.length > MOST_NAMES ? '' : `${are} ${either(known, 'and')}. `;
  return say(code, `${text} called \`${brief(name)}\`.`, didYouMean(near, `${told}${otherwise}`));
};

export const unknownKey = (key: string, near: string | null, known: readonly string[]): Said =>
  say(
    'unknown-key',
    `There is no field \`${brief(key)}\` here.`,
    didYouMean(
      near,
      known.length === 0 ? 'Take it out.' : `The fields here are ${either(known.slice(0, 24), 'and')}.`,
    ),
  );

export const unitForKind = (unit: string, kind: string): Said =>
  say('unknown-kind', `\`${brief(unit)}\` is a unit, not a kind of quantity.`, `Its kind is \`${kind}\`.`);

/** A word that is only part of the name of several kinds. */
export const kindOpen = (written: string, kinds: readonly string[]): Said =>
  say(
    'unknown-kind',
    `\`${brief(written)}\` can be more than one kind of quantity.`,
    written === 'pressure'
      ? 'Write `gauge-pressure` for what a gauge shows, which is nought in open air, or `absolute-pressure` for a barometer.'
      : `Write ${either(kinds)}.`,
  );

export const unknownKind = (kind: string, near: string | null): Said =>
  say(
    'unknown-kind',
    `There is no kind of quantity called \`${brief(kind)}\`.`,
    didYouMean(near, 'The reference of the format lists the kinds.'),
  );

export const unknownReading = (
  name: string,
  test: string,
  near: string | null,
  known: readonly string[],
): Said =>
  say(
    'unknown-reading',
    `\`${test}\` does not require a reading called \`${brief(name)}\`.`,
    didYouMean(near, `It requires ${either(known, 'and')}.`),
  );

export const unreadable = (): Said =>
  say(
    'unreadable',
    'This file or folder cannot be opened.',
    'Look at its permissions, and whether another program holds it.',
  );

export const wrongEnding = (due: string): Said =>
  say(
    'wrong-ending',
    'This file is passed over, so what it tells is missing from the record: its name has to end in `.md`.',
    `Rename it to \`${due}\`, or move it out.`,
  );

export const wrongKind = (message: string, hint: string | null): Said => say('wrong-kind', message, hint);

/** @param example how it looks, where the format says. */
export const wrongType = (due: string, found: string, example: string | null): Said =>
  say('wrong-type', `${capital(due)} is due here, not ${found}.`, itLooks(example));

export const yamlAlias = (): Said =>
  say(
    'yaml-alias',
    'Anchors (`&`) and aliases (`*`) are not used in a book.',
    'Write the value out; a text that begins with such a sign goes into quotes.',
  );

const SLIPS: Readonly<Record<YamlSlip, readonly [what: string, mend: string]>> = {
  'behind-value': [
    'This stands behind a value that has ended already.',
    'Put the whole text in one pair of quotes, or take this out.',
  ],
  'bracket-open': [
    'A bracket or brace is opened here, but not closed.',
    'Close it at its end; a text with a bracket or a comma in it goes into quotes.',
  ],
  'colon-in-text': [
    'A text with a colon in it has to be in quotes, or the colon looks like that of a field.',
    'Put the text behind the first colon in quotes; several fields in one line go into braces: `{ part: lamp, move: fitted }`.',
  ],
  'comma-missing': [
    'Between two fields in braces, or two items in brackets, a comma is missing here.',
    'Add it; a text with a colon, a comma or a bracket in it goes into quotes.',
  ],
  escape: [
    'A backslash in double quotes begins a special sign, and there is none such.',
    'Put the text in single quotes, or write the backslash twice.',
  ],
  indentation: [
    'This line is not indented like the lines that it belongs to.',
    'Give it as many blanks in front as they have; fields of one group stand below each other.',
  ],
  'no-colon': [
    'This is neither a field with its value nor an item of a list.',
    'A field is a name, a colon, a blank and the value; an item begins with a hyphen and a blank.',
  ],
  'quote-open': ['A quote is opened here, but not closed.', 'Close it at the end of the text.'],
  'second-part': [
    'A second part begins here, and a file has only one.',
    'Take out the line; a text that begins with hyphens goes into quotes.',
  ],
  'sign-first': ['A text that begins with this sign has to be in quotes.', 'Put the whole text in quotes.'],
  stray: [
    'This cannot be read as YAML: nothing of the sort is due here.',
    'Look at the quotes, brackets and commas before it; a text with such a sign in it goes into quotes.',
  ],
  tab: ['A tab stands in front of this line.', 'Put blanks in its place: YAML is indented by blanks only.'],
};

export const yamlSyntax = (slip: YamlSlip): Said => say('yaml-syntax', ...SLIPS[slip]);

export const yamlTag = (): Said =>
  say(
    'yaml-tag',
    'Tags (`!`) are not used in a book.',
    'Take it out; a text that begins with `!` goes into quotes.',
  );

function article(noun: string): string {
  return /^[aeiou]/.test(noun) ? 'an' : 'a';
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function sentence(text: string): string {
  const begun = capital(text.trim());
  return /[.!?]$/.test(begun) ? begun : `${begun}.`;
}
