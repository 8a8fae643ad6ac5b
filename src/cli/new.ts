import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { countWords, reportText } from '../check/report/text.js';
import { type BookFacts, bookFacts } from '../reckon/facts.js';
import { reckon } from '../reckon/reckon.js';
import { findBook, seenFrom } from './book-root.js';
import { paintFor } from './colour.js';
import type { Given, Run } from './command.js';
import { COMMANDS } from './commands.js';
import { dayGiven, todayOf } from './day.js';
import type { Ask, Effects } from './effects.js';
import { usage } from './help.js';
import { guide } from './new/guide.js';
import { type Begun, forgetDraft, freeDraft, type Kept, keepDraft, keptDrafts } from './new/kept.js';
import { fromOptions } from './new/options.js';
import { reopened } from './new/reopen.js';
import { checkFolder } from './pipeline.js';
import { asSeenFrom } from './problems.js';
import { EXIT, Refusal } from './refusal.js';
import { refreshSchemas } from './schema-copies.js';
import { type Brought, type Taken, takeEntry } from './take-entry.js';

/** `ribband new`: asks for an entry or takes it from options, checks it, writes it, and prints where it lies. */
export const newEntry: Run = async (given, effects) => {
  const root = findBook(given.operands[0], effects);
  const today = todayOf(effects);
  if (given.has('resume')) return resume(given, root, today, effects);
  const date = dayGiven(given, 'date', effects) ?? today;
  if (date > today) throw new Refusal(`${date} is still to come; a log tells what was done.`);
  const { book, diagnostics } = await checkFolder(root, today);
  if (book === null) return tellBroken(root, diagnostics, effects);
  const begun = await fromOptions(given, date, reckon(book, date), effects);
  const isWhole = begun.draft.title !== '' && begun.draft.systems.length > 0;
  // Where title and systems are both said nothing is asked: a script at a terminal is not stopped by a question.
  if (isWhole) return tell(await take(root, today, begun), { root, effects });
  if (effects.ask === null) throw new Refusal(lacking(begun, [...book.systems.keys()]));
  const [unfinished] = keptDrafts(root);
  if (unfinished !== undefined)
    effects.err(`${wordsFor(unfinished)} is not finished; \`--resume\` goes on with it.\n`);
  return goOn({ file: freeDraft(root), begun }, effects.ask, { root, today, effects });
};

interface Setting {
  readonly root: string;
  readonly today: string;
  readonly effects: Effects;
}

/** Goes on with the entry that was begun last. */
async function resume(given: Given, root: string, today: string, effects: Effects): Promise<number> {
  const more = COMMANDS.find(({ name }) => name === 'new')?.options.find(
    ({ name }) => name !== 'resume' && given.has(name),
  );
  if (more !== undefined)
    throw new Refusal(`\`--resume\` goes on with a draft as it is; \`--${more.name}\` is for a new one.`);
  const [kept, ...others] = keptDrafts(root);
  if (kept === undefined)
    throw new Refusal('There is no draft to go on with.', '`ribband new` begins an entry.');
  if (effects.ask === null)
    throw new Refusal('`--resume` asks questions, and there is no terminal to ask at.');
  effects.err(
    `Going on with ${wordsFor(kept)}.${others.length > 0 ? ` ${others.length} more ${others.length === 1 ? 'is' : 'are'} kept.` : ''}\n`,
  );
  return goOn(kept, effects.ask, { root, today, effects });
}

function wordsFor({ begun: { draft } }: Kept): string {
  return draft.title === '' ? `the entry of ${draft.date}` : `“${draft.title}” of ${draft.date}`;
}

/** Asks what is open and writes the entry; what the checker refuses is asked again. */
async function goOn(start: Kept, ask: Ask, { root, today, effects }: Setting): Promise<number> {
  const { book, diagnostics } = await checkFolder(root, today);
  if (book === null) return tellBroken(root, diagnostics, effects);
  const known = new Map<string, BookFacts>();
  const factsOn = (date: string) => {
    const facts = known.get(date) ?? bookFacts(reckon(book, date));
    known.set(date, facts);
    return facts;
  };
  const say = (text: string) => effects.err(`\n${text}\n\n`);
  const asking = { ask, factsOn, say, today, cwd: effects.cwd };
  let kept = start;
  for (;;) {
    const keep = (begun: Begun) => {
      kept = { file: start.file, begun };
      if (isWorthKeeping(begun, today)) keepDraft(kept);
    };
    const begun = await guide(kept.begun, asking, keep);
    if (begun === null) return tellKept(kept, effects);
    const taken = await take(root, today, begun);
    if (taken.ok) forgetDraft(kept);
    const code = tell(taken, { root, effects });
    if (taken.ok) return code;
    const again = askAgain(begun, taken.problems);
    if (again === null) return await writeEvenSo(kept, ask, { root, today, effects });
    keep(again);
  }
}

/** Where no single answer is to blame, the person may mend the entry in an editor. */
async function writeEvenSo(kept: Kept, ask: Ask, { root, today, effects }: Setting): Promise<number> {
  const answer = await ask.one('What shall become of it?', [
    { value: 'keep', label: 'keep it as a draft' },
    { value: 'write', label: 'write it as it is; I mend it in an editor' },
  ]);
  if (answer !== 'write') return tellKept(kept, effects);
  const code = tell(await take(root, today, kept.begun, true), { root, effects });
  forgetDraft(kept);
  return code;
}

async function take(root: string, today: string, begun: Begun, evenSo = false): Promise<Taken> {
  const pictures = Object.entries(begun.pictures).map(([file, path]) => [file, readPicture(path)] as const);
  return takeEntry({ root, today, draft: begun.draft, pictures: new Map(pictures), evenSo });
}

function readPicture(path: string): Uint8Array {
  try {
    return readFileSync(path);
  } catch {
    throw new Refusal(`The picture ${path} is not there any more.`);
  }
}

/** Takes out the answers that the checker refuses, so that they are asked again; null where none is to blame. */
function askAgain(begun: Begun, problems: readonly Brought[]): Begun | null {
  const paths = problems.flatMap(({ answer }) => (answer === null ? [] : [answer]));
  const again = reopened(begun, paths);
  return again.answered.length === begun.answered.length ? null : again;
}

/** Tells what became of an entry. @returns the exit code. */
function tell(taken: Taken, { root, effects }: Omit<Setting, 'today'>): number {
  const { cwd, out, err, errIsTerminal, env } = effects;
  const brought = taken.ok ? taken.warnings : taken.problems;
  const diagnostics = asSeenFrom(
    cwd,
    root,
    brought.map(({ diagnostic }) => diagnostic),
  );
  if (diagnostics.length > 0) err(`${reportText(diagnostics, paintFor(errIsTerminal, env))}\n`);
  if (!taken.ok) {
    err(`${countWords(diagnostics)} in the entry; nothing was written.\n`);
    return EXIT.problems;
  }
  if (refreshSchemas(root))
    err('The schemas in .schemas were of an earlier version and are now of this one.\n');
  if (taken.othersBroken) err('The book has errors; `ribband check` tells them.\n');
  out(`${seenFrom(cwd, join(root, taken.path))}\n`);
  return EXIT.clean;
}

/** Of an entry that says no more than that it is of today there is nothing to keep. */
function isWorthKeeping({ draft, answered }: Begun, today: string): boolean {
  return draft.date !== today || answered.some((key) => key !== 'day');
}

function tellKept({ file }: Kept, { err }: Effects): number {
  err(
    !existsSync(file)
      ? 'Nothing was written.\n'
      : 'Nothing is lost: what you have said is kept, and `ribband new --resume` goes on with it.\n',
  );
  return EXIT.problems;
}

function tellBroken(root: string, diagnostics: Parameters<typeof asSeenFrom>[2], effects: Effects): number {
  const { cwd, err, errIsTerminal, env } = effects;
  err(reportText(asSeenFrom(cwd, root, diagnostics), paintFor(errIsTerminal, env)));
  return EXIT.problems;
}

function lacking({ draft }: Begun, systems: readonly string[]): string {
  const where = 'is needed where there is no terminal to ask at';
  if (draft.title !== '') return `\`--system\` ${where}: one or more of ${systems.join(', ')}.`;
  const command = COMMANDS.find(({ name }) => name === 'new');
  const how = command === undefined ? '' : `\n${usage(command).trimEnd()}`;
  return `\`--title\` ${where}.${how}`;
}
