import { closeSync, lstatSync, openSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { nameFor, slug } from '../check/rules/dates.js';
import { oneLine, scalar } from '../draft/yaml.js';
import { makeFolder } from '../write/make-folder.js';
import { toldOf } from '../write/whole.js';
import { bookAbove, seenFrom } from './book-root.js';
import type { Run } from './command.js';
import { todayOf } from './day.js';
import { EXIT, Refusal } from './refusal.js';
import { modeline, schemaCopies } from './schema-copies.js';

/** `ribband init`: a small valid book, where there is none of it yet. */
export const init: Run = async (given, effects) => {
  const asked = given.operands[0] ?? '.';
  const root = resolve(effects.cwd, asked);
  const name = oneLine(given.value('name') ?? basename(root)) || 'The book';
  if (name.length > 200) throw new Refusal('`--name` is longer than a name should be (200 letters at most).');
  const files = bookFiles(name, todayOf(effects));
  refuseInsideBook(root, effects.cwd);
  refuseToOverwrite(root, asked, files);
  // One that is there is the owner's, and says what it says for a reason.
  const isIgnoring = lstatSync(join(root, IGNORE.path), { throwIfNoEntry: false }) !== undefined;
  writeAll(root, isIgnoring ? files : [...files, IGNORE]);
  const inBook = asked === '.' ? '' : ` ${asked}`;
  effects.out(
    `A book for ${name} in ${seenFrom(effects.cwd, root) || 'this folder'}:\n` +
      files
        .filter(({ path }) => !path.startsWith('.'))
        .map(({ path }) => `  ${seenFrom(effects.cwd, join(root, path))}\n`)
        .join('') +
      `Next: \`ribband check${inBook}\`, \`ribband new${inBook}\`, \`ribband serve${inBook}\`.\n`,
  );
  return EXIT.clean;
};

interface NewFile {
  readonly path: string;
  readonly text: string;
}

/** A book in a book would be files that the outer one does not know. */
function refuseInsideBook(root: string, cwd: string): void {
  const above = bookAbove(root);
  if (above === null) return;
  const where = seenFrom(cwd, above) === '' ? 'This folder is' : `\`${seenFrom(cwd, above)}\` is`;
  throw new Refusal(
    `${where} a book already, and a book cannot lie inside another; nothing was written.`,
    'Go on with that book, or give a folder outside it.',
  );
}

function refuseToOverwrite(root: string, asked: string, files: readonly NewFile[]): void {
  const stat = statSync(root, { throwIfNoEntry: false });
  if (stat === undefined) return;
  if (!stat.isDirectory()) throw new Refusal(`\`${asked}\` is a file; a book is a folder.`);
  const there = files.find(({ path }) => statSync(join(root, path), { throwIfNoEntry: false }) !== undefined);
  if (there !== undefined)
    throw new Refusal(
      `There is a ${there.path} in ${asked === '.' ? 'this folder' : `\`${asked}\``} already; nothing was written.`,
      'Give another folder, or go on with the book that is there.',
    );
}

/** All files or none: what was written is taken away again when one of them cannot be. */
function writeAll(root: string, files: readonly NewFile[]): void {
  const written: string[] = [];
  const folders: string[] = [];
  const make = (folder: string) => {
    const made = makeFolder(folder);
    if (made !== undefined) folders.push(made);
  };
  let wanted = root;
  try {
    make(root);
    for (const { path, text } of files) {
      wanted = join(root, path);
      make(dirname(wanted));
      const handle = openSync(wanted, 'wx');
      // From here on it is ours, also where the disk is full after half of it.
      written.push(wanted);
      try {
        writeFileSync(handle, text);
      } finally {
        closeSync(handle);
      }
    }
  } catch (error) {
    for (const file of written) rmSync(file, { force: true });
    for (const folder of folders.reverse()) rmSync(folder, { recursive: true, force: true });
    throw toldOf(error, wanted);
  }
}

function bookFiles(name: string, today: string): readonly NewFile[] {
  const title = 'The book begins';
  return [
    { path: 'book.yaml', text: bookYaml(name) },
    { path: 'systems/house-dc.md', text: SYSTEM },
    { path: nameFor(today, title), text: firstEntry(today, title) },
    ...schemaCopies(),
  ];
}

/** What is made from the book, and so is no part of it. */
const IGNORE: NewFile = {
  path: '.gitignore',
  text: '# Made by ribband: sites, and the cache.\n_site/\n_site-*/\n.ribband/\n',
};

function bookYaml(name: string): string {
  return `${modeline('book', '')}
book: ${scalar(slug(name))}
subject:
  name: ${scalar(name)}
  # type: wooden motor-sailer
  # built: 1968
  # particulars:
  #   length overall: 11.2 m
# currency: EUR
people:
  owner: { name: the owner, role: owner }
# instruments:
#   multimeter:
#     name: digital multimeter
#     measures:
#       voltage: { range: [0 V, 600 V], accuracy: 0.5 % + 0.02 V }
`;
}

const SYSTEM = `---
${modeline('system', '../')}
system: house-dc
title: House batteries
hazards: [dc-battery]
points:
  rest-voltage:
    title: Bank at rest
    quantity: voltage
    unit: V
    where: at the bank terminals, after 12 h at rest
  capacity:
    title: Capacity of the bank
    quantity: charge
    unit: Ah
# What somebody told you goes here, with how far a measured value may lie off and still agree:
# specs:
#   bank-capacity:
#     { value: 400 Ah, quantity: charge, basis: told, source: the seller's list, within: 5 %, point: capacity }
---
What it is, where it lies, what to switch off first.
`;

function firstEntry(today: string, title: string): string {
  return `---
${modeline('entry', '../../')}
date: ${today}
title: ${title}
systems: [house-dc]
# hours:
#   - { by: owner, spent: 1 h }
# measurements:
#   - house-dc.rest-voltage: 12.71 V
opens:
  - { item: read-labels, what: Read the labels of the batteries and write down what they say }
---
Write here what you did and saw, as you would tell it.
`;
}
