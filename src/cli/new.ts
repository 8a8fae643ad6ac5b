import { lstatSync, mkdirSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { nearest } from '../check/nearest.js';
import { reportText } from '../check/report/text.js';
import { nameFor } from '../check/rules/dates.js';
import type { BookFolder } from '../read/folder.js';
import type { Reckoning } from '../reckon/model.js';
import { reckon } from '../reckon/reckon.js';
import { findBook, seenFrom } from './book-root.js';
import { paintFor } from './colour.js';
import type { Given, Run } from './command.js';
import { COMMANDS } from './commands.js';
import { dayGiven, todayOf } from './day.js';
import type { Ask, Effects } from './effects.js';
import { entryText, openItems } from './entry-text.js';
import { usage } from './help.js';
import { checkFolder, hasErrors } from './pipeline.js';
import { asSeenFrom } from './problems.js';
import { EXIT, Refusal } from './refusal.js';
import { hasSchemas, refreshSchemas } from './schema-copies.js';
import { oneLine } from './yaml-text.js';

/** `ribband new`: writes the beginning of an entry, and prints where it lies. */
export const newEntry: Run = async (given, effects) => {
  const root = findBook(given.operands[0], effects);
  const today = todayOf(effects);
  const date = dayGiven(given, 'date') ?? today;
  if (date > today) throw new Refusal(`${date} is still to come; a log tells what was done.`);
  const { book, folder, diagnostics } = await checkFolder(root, today);
  if (book === null) {
    const seen = asSeenFrom(effects.cwd, root, diagnostics);
    effects.err(reportText(seen, paintFor(effects.errIsTerminal, effects.env)));
    return EXIT.problems;
  }
  const reckoning = reckon(book, date);
  const wanted = await settle(fromOptions(given, reckoning), reckoning, effects.ask);
  if (wanted === null) {
    effects.err('Nothing was written.\n');
    return EXIT.problems;
  }
  const text = entryText({ ...wanted, date, withSchema: hasSchemas(root) }, reckoning);
  const path = write(root, freeName(nameFor(date, wanted.title), folder), text);
  tellBesides(root, hasErrors(diagnostics), effects);
  effects.out(`${seenFrom(effects.cwd, join(root, path))}\n`);
  return EXIT.clean;
};

interface Wanted {
  readonly title: string;
  readonly systems: readonly string[];
  readonly closes: readonly string[];
}

type Partly = { readonly [Key in keyof Wanted]: Wanted[Key] | null };

/** What the options say; null is not said. @throws Refusal for a name that the book does not have. */
function fromOptions(given: Given, reckoning: Reckoning): Partly {
  const title = given.value('title');
  const wrong = title === null ? null : wrongTitle(title);
  if (wrong !== null) throw new Refusal(`\`--title\`: ${wrong}`);
  const systems = unique(given.values('system'));
  for (const system of systems) checkSystem(system, reckoning);
  const closes = unique(given.values('close'));
  for (const item of closes) checkItem(item, reckoning);
  const ofItems = closes.map((item) => reckoning.items.get(item)?.opened.system ?? '');
  const only = reckoning.book.systems.size === 1 ? [...reckoning.book.systems.keys()] : [];
  const implied = [systems, unique(ofItems), only].find((names) => names.length > 0);
  return {
    title: title === null ? null : oneLine(title),
    systems: implied ?? null,
    closes: closes.length > 0 ? closes : null,
  };
}

function checkSystem(system: string, { book }: Reckoning): void {
  if (book.systems.has(system)) return;
  const near = nearest(system, book.systems.keys());
  throw new Refusal(
    `There is no system \`${system}\`.`,
    near === null ? `There are: ${[...book.systems.keys()].join(', ')}.` : `Did you mean \`${near}\`?`,
  );
}

function checkItem(item: string, reckoning: Reckoning): void {
  const state = reckoning.items.get(item);
  if (state?.closed != null)
    throw new Refusal(`\`${item}\` is done already: ${state.closed.entry} closes it.`);
  if (state !== undefined) return;
  const open = [...reckoning.items.values()].filter(({ status }) => status !== 'done');
  const near = nearest(
    item,
    open.map(({ opened }) => opened.id),
  );
  throw new Refusal(
    `There was no open item \`${item}\` on ${reckoning.asOf}.`,
    near === null ? null : `Did you mean \`${near}\`?`,
  );
}

function wrongTitle(title: string): string | null {
  const plain = oneLine(title);
  if (plain === '') return 'an entry needs a title.';
  return plain.length > 500 ? 'a title has at most 500 letters.' : null;
}

/**
 * Asks for what is not said, where there is somebody to ask. Where title and systems are both said nothing is
 * asked, so that a script at a terminal is not stopped by a question.
 *
 * @returns null where the person would rather stop.
 */
async function settle(partly: Partly, reckoning: Reckoning, ask: Ask | null): Promise<Wanted | null> {
  const { title: known, systems: given, closes } = partly;
  if (known !== null && given !== null) return { title: known, systems: given, closes: closes ?? [] };
  if (ask === null) {
    const lacking = known === null ? '`--title`' : '`--system`';
    const command = COMMANDS.find(({ name }) => name === 'new');
    const how = command === undefined ? '' : `\n${usage(command).trimEnd()}`;
    throw new Refusal(`${lacking} is needed where there is no terminal to ask at.${how}`);
  }
  const title = known ?? (await ask.text('What is the entry about?', wrongTitle));
  if (title === null) return null;
  const systems = given ?? (await ask.several('Which systems?', systemChoices(reckoning), true));
  if (systems === null) return null;
  const done = closes ?? (await askItems(systems, reckoning, ask));
  return done === null ? null : { title: oneLine(title), systems, closes: done };
}

function askItems(systems: readonly string[], reckoning: Reckoning, ask: Ask) {
  const open = openItems(systems, reckoning);
  if (open.length === 0) return Promise.resolve([]);
  const choices = open.map(({ opened }) => ({
    value: opened.id,
    label: oneLine(opened.what),
    hint: opened.id,
  }));
  return ask.several('What is done with it? (none is fine)', choices, false);
}

/** Systems with those first that were worked on last. */
function systemChoices({ book }: Reckoning) {
  const recent = unique(book.entries.toReversed().flatMap((entry) => entry.systems));
  return unique([...recent, ...book.systems.keys()]).flatMap((id) => {
    const system = book.systems.get(id);
    return system === undefined ? [] : [{ value: id, label: oneLine(system.title), hint: id }];
  });
}

/** A name that no file of the book and no other entry has. */
function freeName(path: string, { files }: BookFolder): string {
  const taken = new Set(files.map((file) => basename(file.path)));
  const stem = path.slice(0, -'.md'.length);
  for (let number = 1; ; number += 1) {
    const name = number === 1 ? path : `${stem}-${number}.md`;
    if (!taken.has(basename(name))) return name;
  }
}

function write(root: string, path: string, text: string): string {
  const folder = join(root, dirname(path));
  for (const part of [join(root, 'entries'), folder])
    if (lstatSync(part, { throwIfNoEntry: false })?.isSymbolicLink() === true)
      throw new Refusal(`${part} is a link; nothing is written through links.`);
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(root, path), text, { flag: 'wx' });
  return path;
}

function tellBesides(root: string, broken: boolean, { err }: Effects): void {
  if (refreshSchemas(root))
    err('The schemas in .schemas were of an earlier version and are now of this one.\n');
  if (broken) err('The book has errors; `ribband check` tells them.\n');
}

function unique(names: readonly string[]): readonly string[] {
  return [...new Set(names)];
}
