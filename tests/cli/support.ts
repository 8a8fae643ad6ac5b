import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Ask, Effects } from '../../src/cli/effects.js';
import { main } from '../../src/cli/main.js';
import { tempFolder } from '../folders.js';

/** The day on which these tests happen. */
export const TODAY = '2026-04-20';

/** What a command did: its exit code and what it printed. */
export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

export interface Setting {
  readonly cwd: string;
  readonly terminal?: boolean;
  readonly env?: Readonly<Record<string, string>>;
  readonly input?: string;
  readonly ask?: Ask;
  readonly interrupted?: () => Promise<void>;
  readonly onOut?: (text: string) => void;
  readonly onErr?: (text: string) => void;
}

/** Runs the command line in this process. */
export async function run(argv: readonly string[], setting: Setting): Promise<Ran> {
  let out = '';
  let err = '';
  const effects: Effects = {
    out: (text) => {
      out += text;
      setting.onOut?.(text);
    },
    err: (text) => {
      err += text;
      setting.onErr?.(text);
    },
    outIsTerminal: setting.terminal ?? false,
    errIsTerminal: setting.terminal ?? false,
    env: setting.env ?? {},
    cwd: setting.cwd,
    today: () => TODAY,
    input: () => Promise.resolve(setting.input ?? ''),
    ask: setting.ask ?? null,
    interrupted: setting.interrupted ?? (() => Promise.resolve()),
  };
  const code = await main(argv, effects);
  return { code, out, err };
}

/** Writes files, by path, into a folder. */
export function put(folder: string, files: Readonly<Record<string, string>>): void {
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
}

/** A small book with something of everything, in order. */
export const BOOK: Readonly<Record<string, string>> = {
  'book.yaml': `book: wherry
subject: { name: Wherry }
currency: EUR
people:
  owner: { name: the owner }
instruments:
  clamp: { name: clamp meter, measures: { voltage: { range: [0 V, 60 V], accuracy: 0.05 V } } }
`,
  'systems/house-dc.md': `---
system: house-dc
title: House batteries
hazards: [dc-battery]
points:
  capacity: { quantity: charge, unit: Ah, at-least: 320 Ah }
  rest-voltage: { title: Bank at rest, quantity: voltage, unit: V }
specs:
  bank-capacity: { value: 400 Ah, quantity: charge, basis: told, within: 5 %, point: capacity }
  bank-model: { value: TL-400, basis: told }
tests:
  capacity-test: { requires: { capacity: ">= 320 Ah" } }
---
Isolator first.
`,
  'systems/engine.md': `---
system: engine
title: Engine
meters:
  hours: { unit: h }
---
`,
  'entries/2026/2026-03-01-looked.md': `---
date: 2026-03-01
title: Looked
systems: [house-dc, engine]
meters:
  - { meter: engine.hours, reads: 1243.6 h }
measurements:
  - { point: house-dc.rest-voltage, value: 12.71 V, with: clamp }
  - { what: "box, inside length", value: 27 1/2 in, system: house-dc }
opens:
  - { item: test-bank, what: Test the bank, system: house-dc }
  - { item: change-oil, what: Change the oil, system: engine }
---
Looked at it.
`,
  'entries/2026/2026-04-18-capacity-test.md': `---
date: 2026-04-18
title: Capacity test
systems: [house-dc]
hours:
  - { by: owner, spent: 3.5 h }
tests:
  - { test: house-dc.capacity-test, readings: { capacity: 318 ± 6 Ah } }
parts:
  - { part: new-bank, move: ordered, what: a new bank, cost: 1480.00 EUR, due: 2026-05-20, rests-on: [house-dc.bank-capacity] }
decisions:
  - { decision: size, question: Which size?, chose: the same, because: It fits., rests-on: [house-dc.bank-capacity] }
closes: [test-bank]
---
Fourteen hours.
`,
};

/** A copy of that book, with other files in it or in their place. */
export function book(files: Readonly<Record<string, string>> = {}): string {
  const folder = tempFolder();
  put(folder, { ...BOOK, ...files });
  return folder;
}

/** An entry with one error (a unit that there is not) and one that `--fix` mends. */
export const BROKEN = {
  'entries/2026/2026-04-19-broken.md': `---
date: 2026-04-19
title: Broken
systems: [house-dc]
measurements:
  - house-dc.rest-voltage: 12.6 Vlt
---
`,
} as const;
