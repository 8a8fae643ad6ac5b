import type { Command, OptionInfo } from './command.js';

const AS_OF: OptionInfo = {
  name: 'as-of',
  value: 'DATE',
  about: 'Show the state of the book on that day (YYYY-MM-DD); today where left out.',
};

const FOR: OptionInfo = {
  name: 'for',
  value: 'AUDIENCE',
  about:
    'For whom: owner (who sees everything, the usual), public, buyer, surveyor, or another audience of book.yaml. What is hidden from them is not in it.',
};

const AS_JSON: OptionInfo = {
  name: 'as',
  value: 'FORM',
  choices: ['text', 'json'],
  about: 'text (for a person) or json.',
};

const WHICH_BOOK =
  'BOOK is the folder in which book.yaml lies. Where it is left out: the current folder, the one folder in it that has a book.yaml, or the next one above that has.';

/** All commands, in the order in which somebody meets them. */
export const COMMANDS: readonly Command[] = [
  {
    name: 'init',
    operands: '[DIR]',
    maxOperands: 1,
    summary: 'Start a new book.',
    about: [
      'Makes a small book: book.yaml, one system and a first entry, and the schemas by which an editor completes and explains the fields. DIR is made if need be; the current folder where left out.',
      'Nothing is ever overwritten: if one of the files is there already, nothing is written at all.',
    ],
    options: [
      {
        name: 'name',
        value: 'NAME',
        about: 'What the book is about; the name of the folder where left out.',
      },
    ],
    examples: [{ run: 'ribband init log --name "Marram"', does: 'start the book of a boat in ./log' }],
    load: async () => (await import('./init.js')).init,
  },
  {
    name: 'new',
    operands: '[BOOK]',
    maxOperands: 1,
    summary: 'Write an entry.',
    about: [
      'Asks on a terminal for what is not given: the day (Enter for today), systems worked on lately first; of each the points with their last values, the tests with their cautions before them, open items and upkeep; then hours, parts, decisions, what is left to do, pictures and your words. Of a part that is ordered, a job with a size and a decision it asks what they rest on, and says where nobody has checked that. At the end any answer can be changed. Each answer is checked as it is typed, the whole before it is written. Ctrl-C at any question keeps what you have said; --resume goes on.',
      'With title and system (or what implies it) given, nothing is asked. An entry that says no more than that gets comments with what can be filled in. Nothing is ever overwritten; with an error nothing is written at all. Prints the path.',
      WHICH_BOOK,
    ],
    options: [
      { name: 'title', value: 'TITLE', about: 'What the entry is about.' },
      {
        name: 'system',
        value: 'SYSTEM',
        many: true,
        about: 'A system that was worked on, by its short name or its title; the main one first.',
      },
      {
        name: 'date',
        value: 'DATE',
        about: 'Day of the work (2026-04-18, 18 April 2026, yesterday); today where left out.',
      },
      {
        name: 'reading',
        value: 'POINT=VALUE',
        many: true,
        about:
          'A reading, with its unit; behind it `, with=INSTRUMENT`, conditions `, ambient=19 °C`, `, note=…`.',
      },
      {
        name: 'meter',
        value: 'METER=HOURS',
        many: true,
        about: 'What a meter shows; `, replaced` for a new one.',
      },
      {
        name: 'test',
        value: 'TEST: NAME=VALUE, …',
        many: true,
        about: 'A test that was done, with what was read. Read its cautions first.',
      },
      {
        name: 'part',
        value: 'PART=MOVE',
        many: true,
        about:
          'A part ordered, arrived, fitted, removed …; behind it `, what=…`, `, cost=18 EUR`, `, from=…`, `, due=DATE`, `, mass=…`, `, serial=…`; `, rests-on=SPEC` for what it was chosen by.',
      },
      {
        name: 'hours',
        value: 'PERSON=TIME',
        many: true,
        about: 'Who worked how long; `, on=SYSTEM` for one of several.',
      },
      { name: 'close', value: 'ITEM', many: true, about: 'An open item that is done with this entry.' },
      {
        name: 'open',
        value: 'WHAT',
        many: true,
        about: 'Work that is left to do; `, by=DATE`, `, size=6 h`, `, rests-on=SPEC` behind it.',
      },
      {
        name: 'done',
        value: 'UPKEEP',
        many: true,
        about: 'Upkeep that was carried out, as system.name or by its words.',
      },
      {
        name: 'photo',
        value: 'PATH=WORDS',
        many: true,
        about: 'A picture to take into the book, without what a camera hides in it, and what it shows.',
      },
      { name: 'text', value: 'TEXT', about: 'What you did and saw, in your own words.' },
      { name: 'text-file', value: 'FILE', about: 'The same from a file; `-` for the standard input.' },
      { name: 'resume', value: null, about: 'Go on with the entry that was not finished.' },
    ],
    examples: [
      { run: 'ribband new', does: 'ask for all of it' },
      {
        run: 'ribband new log --title "Capacity test" --reading "house-dc.capacity=318 ± 6 Ah" --close test-house-bank',
        does: 'ask nothing',
      },
      { run: 'ribband new --resume', does: 'go on where you stopped' },
    ],
    load: async () => (await import('./new.js')).newEntry,
  },
  {
    name: 'take',
    operands: 'FILE [BOOK]',
    maxOperands: 2,
    summary: 'Take in a table of readings.',
    about: [
      'Turns a table, of a spreadsheet or of a logger, into the file of readings that a point names under `series`, or into entries, one a day. A map in YAML says which column is what; its schema is schemas/json/take-map.schema.json of this package, and its fields stand in the format reference.',
      'What is there already is not taken again, so that the same table, or a longer one, can be taken once more. A value that contradicts one that is there is refused; nothing is ever overwritten. Ends with 1 where a row could not be read or contradicts another, with 0 where rows were refused by the rules of the map alone.',
      WHICH_BOOK,
    ],
    options: [
      { name: 'map', value: 'FILE', about: 'The map, a YAML file.' },
      {
        name: 'dry-run',
        value: null,
        about: 'Tell what would be written and which rows would be refused, and write nothing.',
      },
    ],
    examples: [
      {
        run: 'ribband take logger.csv log --map logger-map.yaml --dry-run',
        does: 'see what it would do',
      },
      { run: 'ribband take logger.csv log --map logger-map.yaml', does: 'do it' },
    ],
    load: async () => (await import('./take.js')).take,
  },
  {
    name: 'check',
    operands: '[BOOK]',
    maxOperands: 1,
    summary: 'Tell what is wrong in a book.',
    about: [
      'Checks every file and shows every problem with its place and how to mend it. Ends with 0 where there is no error, with 1 where there is; warnings alone are no error.',
      WHICH_BOOK,
    ],
    options: [
      {
        name: 'format',
        value: 'FORMAT',
        choices: ['text', 'json', 'sarif', 'github'],
        about: 'text (for a person), json, sarif (SARIF 2.1.0) or github (annotations of a code host).',
      },
      { name: 'fix', value: null, about: 'Mend what has one safe mend, then tell what is left.' },
      { name: 'quiet', value: null, about: 'Print problems and nothing else.' },
    ],
    examples: [
      { run: 'ribband check', does: 'check the book here' },
      { run: 'ribband check log --fix', does: 'mend what is safe to mend' },
      { run: 'ribband check log --format sarif > problems.sarif', does: 'for other programs' },
    ],
    load: async () => (await import('./check.js')).check,
  },
  {
    name: 'build',
    operands: '[BOOK]',
    maxOperands: 1,
    summary: 'Make the site of a book.',
    about: [
      'Checks the book and makes its site: plain files that work from any host, in any folder, and straight from disk. If the book has an error the problems are shown and the old site stays as it was.',
      WHICH_BOOK,
    ],
    options: [
      {
        name: 'seal',
        value: null,
        about:
          'Seal it: seal.json with the SHA-256 of every published file, SHA256SUMS for other tools, and a page by which the site checks itself.',
      },
      {
        name: 'key',
        value: 'FILE',
        about: 'With --seal: sign the seal with that SSH key, as `ribband seal` does.',
      },
      {
        name: 'out',
        value: 'DIR',
        about:
          'Folder for the site; _site where left out, _site-buyer for the buyer and so on. It is replaced whole.',
      },
      FOR,
      AS_OF,
      {
        name: 'path-prefix',
        value: '/PATH/',
        about: 'Folder of the host in which the site will lie; only its page for wrong addresses needs it.',
      },
      {
        name: 'check-links',
        value: null,
        about:
          'Then look up every link and picture of the site; ends with 1 where one is dead. Addresses outside are only counted.',
      },
    ],
    examples: [
      { run: 'ribband build log', does: 'make ./_site' },
      {
        run: 'ribband build log --for buyer',
        does: 'make ./_site-buyer, without what a buyer is not to see',
      },
      { run: 'ribband build log --out public --as-of 2025-06-01', does: 'the book as it was on that day' },
    ],
    load: async () => (await import('./build.js')).build,
  },
  {
    name: 'pack',
    operands: '[BOOK]',
    maxOperands: 1,
    summary: 'Print the whole record as a PDF.',
    about: [
      'Makes one PDF of the book as it stands: what is checked, by whom and how, what is only claimed, what is wrong, unknown and due, then every system with its evidence. With page numbers, outline and language, for paper and for the screen; the site has the same as a page, pack/index.html.',
      'An installed Chromium, Chrome or Edge prints it: the one that CHROMIUM_PATH names, or else one in the usual places. An older PDF takes the new one in its place; any other file is left alone. If the book has an error the problems are shown and nothing is written.',
      WHICH_BOOK,
    ],
    options: [
      { name: 'pdf', value: 'FILE', about: 'The PDF to write; NAME-pack.pdf here where left out.' },
      {
        name: 'paper',
        value: 'PAPER',
        choices: ['a4', 'letter'],
        about: 'a4 (the usual) or letter.',
      },
      {
        name: 'entries',
        value: null,
        about: 'With all that the entries tell, and not their titles alone.',
      },
      FOR,
      AS_OF,
    ],
    examples: [
      { run: 'ribband pack log --pdf marram.pdf', does: 'print the book as it is today' },
      {
        run: 'ribband pack log --pdf marram.pdf --paper letter --as-of 2025-12-31',
        does: 'as it was then, on Letter paper',
      },
      {
        run: 'ribband pack log --for surveyor --entries',
        does: 'for a surveyor, with what every entry tells',
      },
    ],
    load: async () => (await import('./pack.js')).pack,
  },
  {
    name: 'serve',
    operands: '[BOOK]',
    maxOperands: 1,
    summary: 'Show the site while you write.',
    about: [
      'Shows the site of a book on this machine and on no other; pages load again by themselves when a file is saved, and problems are shown in the page. Its page “Write” puts entries into the book, for who has the word that is shown. Ctrl-C ends it.',
      WHICH_BOOK,
    ],
    options: [
      {
        name: 'host',
        value: 'ADDRESS',
        about:
          'One address of this machine in your network, for a phone to reach it; this machine alone where left out. Everybody in that network can then read the book; writing needs the word that is shown.',
      },
      { name: 'port', value: 'N', about: 'Port to listen on; the first free one from 8080 where left out.' },
      FOR,
      AS_OF,
    ],
    examples: [{ run: 'ribband serve log', does: 'then open the address that it prints' }],
    load: async () => (await import('./serve/serve.js')).serve,
  },
  {
    name: 'export',
    operands: '[BOOK]',
    maxOperands: 1,
    summary: 'Print the book in a form for other programs.',
    about: [
      'Prints, where nothing else is asked for, one JSON document with entries, systems, points, readings, specs with their standing, tests, parts, items, decisions and hours. Its schema is schemas/json/export.schema.json of this package. A book with an error is not exported.',
      'With --as: a table as CSV (readings, tests, parts, part-moves, upkeep, upkeep-done), what the columns of the tables are (table-metadata, by CSV on the Web), what is due as a calendar (iCalendar), the diary as a feed (Atom), or particulars, specs and last readings as linked data (JSON-LD). A built site carries all of these; its page Downloads leads to them.',
      WHICH_BOOK,
    ],
    options: [
      {
        name: 'as',
        value: 'FORM',
        choices: [
          ...['json', 'readings', 'tests', 'parts', 'part-moves', 'upkeep', 'upkeep-done'],
          ...['table-metadata', 'calendar', 'feed', 'linked-data'],
        ],
        about: 'json (the whole book), a table, or one of the other forms.',
      },
      FOR,
      AS_OF,
    ],
    examples: [
      { run: 'ribband export log > marram.json', does: 'the whole book in one file' },
      { run: 'ribband export log --for surveyor', does: 'what a surveyor may see of it' },
      { run: 'ribband export log --as readings > readings.csv', does: 'a table for a spreadsheet' },
      { run: 'ribband export log --as calendar > due.ics', does: 'what is due, for a calendar' },
    ],
    load: async () => (await import('./export.js')).exportBook,
  },
  {
    name: 'seal',
    operands: '[BOOK]',
    maxOperands: 1,
    summary: 'Seal a book, so that later change shows.',
    about: [
      'Writes seals/DATE.json into the book: the SHA-256 of every file of it, the entries chained in the order of their dates. Seals are never overwritten; each names the hash of the one before. With a key it is signed, by the ssh-keygen that is installed.',
      'With --check it holds the book against its newest seal, or a site that was built with `build --seal` against its own, and names every file that was changed, added, removed, renamed or put at another date; where the book is kept in git it tells how long after its date each entry was written down. Ends with 0 where all is as it was sealed, with 1 where anything differs.',
      'A seal does not prove that what was written is true; nor when it was sealed, unless its hash lay elsewhere at the time.',
      WHICH_BOOK,
    ],
    options: [
      { name: 'check', value: null, about: 'Hold the book, or the folder of a site, against its seal.' },
      { name: 'since', value: 'SEAL', about: 'Tell what came, went and was changed since that seal.' },
      {
        name: 'key',
        value: 'FILE',
        about: 'Sign with that SSH key: a private one, or the .pub file of one that an agent holds.',
      },
      {
        name: 'seal',
        value: 'FILE',
        about: 'With --check or --since: that seal instead of the newest; one kept elsewhere is worth more.',
      },
      {
        name: 'signer',
        value: 'FILE',
        about:
          'With --check: the .pub file, or list of allowed signers, by one of which it has to be signed.',
      },
      {
        name: 'hash',
        value: 'HASH',
        about: 'With --check: the hash as it was printed or read out, whole or its first half.',
      },
      {
        name: 'later-than',
        value: 'DAYS',
        about:
          'With --check: list entries that came into git later than that after their date; 14 where left out.',
      },
    ],
    examples: [
      { run: 'ribband seal log --key ~/.ssh/id_ed25519', does: 'seal and sign' },
      { run: 'ribband seal log --check', does: 'see whether anything was changed since' },
      { run: 'ribband seal log --check --signer owner.pub', does: 'and whether that key has signed it' },
      { run: 'ribband seal log --since seals/2025-11-25.json', does: 'what is new since last year' },
    ],
    load: async () => (await import('./seal.js')).seal,
  },
  {
    name: 'find',
    operands: '[BOOK] [WORDS...]',
    maxOperands: 100,
    summary: 'Find a reading, part or decision again.',
    about: [
      'Searches every reading, statement, part, piece of work, decision and test. Words come in any order; slips of the pen and other forms of a word are forgiven. Limits all have to hold; numbers compare in any unit of their kind, by the value as read. Limits can stand among the words too: `insulation below 20 MΩ`, `between 30 and 40 mm in stern-gear`, `seacock since 2025`, `anything under 12 V in March`. Small words of a question, and words that the book has nowhere, are left out.',
      'The best come first, then the newest, each with its file and line; what a logger has read comes after what somebody wrote. Ends with 1 where nothing is found. The first word is the book if it is the folder of one; else it is the one here, as with the other commands.',
    ],
    options: [
      {
        name: 'sort',
        value: 'SORT',
        about: 'Only readings, statements, parts, items, decisions or tests.',
      },
      { name: 'system', value: 'ID', about: 'Only what belongs to that system; its id or title.' },
      { name: 'point', value: 'REF', about: 'Only that point: `house-dc.capacity`, or its name or title.' },
      { name: 'quantity', value: 'KIND', about: 'Only values of that kind: `length`, `voltage`.' },
      { name: 'below', value: 'VALUE', about: 'Only values below that.' },
      { name: 'above', value: 'VALUE', about: 'Only values above that.' },
      { name: 'between', value: 'A and B', about: 'Only values from A to B: `30 and 35 mm`.' },
      { name: 'since', value: 'DATE', about: 'Only from that year, month or day on.' },
      { name: 'until', value: 'DATE', about: 'Only to the end of that year, month or day.' },
      {
        name: 'under',
        value: 'CONDITION',
        about: 'Only what was measured under it: `ambient`, `ambient below 10 °C`.',
      },
      {
        name: 'standing',
        value: 'STANDING',
        about: 'Only of specs that stand so: verified, contradicted, undecided, lapsed, unverified.',
      },
      { name: 'outcome', value: 'OUTCOME', about: 'Only tests that came out so: pass, fail, undecided.' },
      { name: 'entry', value: 'ID', about: 'Only from that entry, or from those whose names begin so.' },
      {
        name: 'as',
        value: 'FORM',
        choices: ['text', 'json', 'csv'],
        about: 'text (for a person), json or csv.',
      },
      FOR,
      AS_OF,
    ],
    examples: [
      { run: 'ribband find seacock --below "40 mm" --since 2024', does: 'small seacocks of late' },
      {
        run: 'ribband find log insulation below 20 MΩ',
        does: 'the same in plain words, of the book in ./log',
      },
      { run: 'ribband find --sort parts --system engine --as csv', does: 'for a spreadsheet' },
    ],
    load: async () => (await import('./find.js')).find,
  },
  {
    name: 'due',
    operands: '[BOOK]',
    maxOperands: 2,
    summary: 'Tell what is overdue and what comes due.',
    about: [
      'Upkeep by hours and by calendar, checks and tests that lapse, open work with a day, parts on order, instruments to be calibrated: what is overdue first, then by day. Ends with 1 where something is overdue.',
      WHICH_BOOK,
    ],
    options: [
      { name: 'within', value: 'TIME', about: 'Only what comes due within that time, such as `60 days`.' },
      AS_OF,
      AS_JSON,
    ],
    examples: [
      { run: 'ribband due log', does: 'everything that has a day' },
      { run: 'ribband due log --within "60 days"', does: 'what cannot wait' },
    ],
    load: async () => (await import('./due.js')).due,
  },
  {
    name: 'changes',
    operands: '[BOOK]',
    maxOperands: 1,
    summary: 'Tell what changed from one day to another.',
    about: [
      'Compares the book as it stood before the first day with the book at the end of the last: findings that came up or were settled, specs that stand otherwise and by what evidence, tests that came out otherwise, limits crossed, upkeep and work done, parts, money, hours and decisions. In plain sentences and small tables, as for the yearly letter to an insurer; a built site has such a page for each year, reached from that year of the log.',
      'With --from-seal the earlier state is the one under a seal: only files that it covers are in it, whatever date others bear. Entries altered after sealing, taken out, and put in with a date before the seal are named; what cannot be told from a seal is said.',
      WHICH_BOOK,
    ],
    options: [
      {
        name: 'from',
        value: 'DATE',
        about: 'First day (YYYY-MM-DD); the first of the year of the last day where left out.',
      },
      { name: 'to', value: 'DATE', about: 'Last day (YYYY-MM-DD); today where left out.' },
      {
        name: 'from-seal',
        value: 'SEAL',
        about:
          'What changed since this seal of the book: a file, kept elsewhere too, or the day of one in it.',
      },
      {
        name: 'to-seal',
        value: 'SEAL',
        about: 'Until this seal; where left out, the book as it lies there.',
      },
      {
        name: 'out',
        value: 'DIR',
        about: 'Make a page of it in this folder as well, to be printed or sent.',
      },
      FOR,
      AS_JSON,
    ],
    examples: [
      { run: 'ribband changes log --from 2025-06-01 --to 2025-12-31', does: 'half a year' },
      { run: 'ribband changes log', does: 'this year until today' },
      { run: 'ribband changes log --from-seal ~/marram-2025.json', does: 'since a seal that you kept' },
    ],
    load: async () => (await import('./changes.js')).changesCommand,
  },
  {
    name: 'suppose',
    operands: '[BOOK] NAME=VALUE ...',
    maxOperands: 50,
    summary: 'Tell what would change if a value were another.',
    about: [
      'Reckons the book with other values for some specs or points and prints only what changes: standings, values worked out from them, decisions, limits, and the work and parts that rest on them. The book itself is not touched.',
      WHICH_BOOK,
    ],
    options: [
      AS_OF,
      AS_JSON,
      {
        name: 'out',
        value: 'DIR',
        about: 'Make a page in this folder as well, with before and after side by side.',
      },
    ],
    examples: [
      { run: 'ribband suppose log house-dc.bank-capacity="318 Ah"', does: 'one value' },
      {
        run: 'ribband suppose log a.b="1 V" c.d="2 kW" --as json',
        does: 'several at once, for other programs',
      },
    ],
    load: async () => (await import('./suppose.js')).supposeCommand,
  },
  {
    name: 'language-server',
    operands: '',
    maxOperands: 0,
    summary: 'Help an editor while you type.',
    about: [
      'Answers an editor over standard input and output by the Language Server Protocol: problems while you type, by the same checks as `check`; points, units, items and parts of this book with their last values; what is known of a name under the pointer; the way to where something begins; another name for something, in the whole book. The editor starts it; how to set one up stands in README.md.',
      'It finds the book of every file that is opened by itself, and writes nothing.',
    ],
    options: [
      { name: 'stdio', value: null, about: 'What it does anyway; many editors put it behind the name.' },
    ],
    examples: [{ run: 'ribband language-server', does: 'as an editor starts it' }],
    load: async () => (await import('./language-server.js')).languageServer,
  },
];
