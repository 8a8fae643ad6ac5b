import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { CORPUS, MARKDOWN_PAYLOADS } from '../render/payloads.js';

/** A book in which every field that takes words takes an attack, and every attack stands in most of them. */

/** A picture outside the book never comes as far as a page: the checker stops it. */
const REFUSED = /!\[[^\]]*\]\s*\(/;

/** Attacks that the points, specs, tests and upkeep of one system carry. */
const PER_SYSTEM = 20;

/** Front matter as JSON, which YAML reads as it is. */
function document(frontMatter: object, body: string): string {
  return `---\n${JSON.stringify(frontMatter, null, 1)}\n---\n${body}\n`;
}

function byNumber<T>(words: readonly string[], name: string, of: (word: string, at: number) => T) {
  return Object.fromEntries(words.map((word, at) => [`${name}-${at}`, of(word, at)]));
}

function system(id: string, words: readonly string[]): object {
  const first = words[0] as string;
  return {
    system: id,
    title: first,
    group: first,
    hazards: ['dc-battery'],
    meters: byNumber(words.slice(0, 3), 'hours', (title) => ({ title })),
    points: byNumber(words, 'level', (title) => ({
      title,
      quantity: 'length',
      unit: 'm',
      where: title,
      'at-most': '2 m',
    })),
    specs: byNumber(words, 'model', (title, at) => ({
      title,
      value: title,
      basis: 'told',
      source: words[(at + 1) % words.length],
      'check-by': title,
    })),
    derived: byNumber(words.slice(0, 5), 'twice', (title) => ({
      title,
      from: '2 * level-0',
      quantity: 'length',
      unit: 'm',
    })),
    tests: byNumber(words, 'look', (title, at) => ({
      title,
      requires: { [`level-${at}`]: '>= 1 m' },
      steps: [title, title],
    })),
    upkeep: byNumber(words, 'clean', (what) => ({ every: '6 months', what })),
  };
}

/** Ends whatever block of HTML an attack has begun in Markdown, so that the next one is not taken for a part of it. */
const END_OF_HTML = '\n\n</script> --> ?> ]]>\n\n';

/** An attack with its place among all of them. */
interface Attack {
  readonly at: number;
  readonly words: string;
}

/** Longest title of an entry. */
const LONGEST_TITLE = 500;

/**
 * Attacks that one entry can carry: each stands in every field by itself, and all together in those that an entry has once.
 * Where one of them got through it would be seen, whatever stands beside it; so a page need not be opened for each.
 */
function groups(words: readonly string[], from: number): readonly (readonly Attack[])[] {
  const made: Attack[][] = [];
  for (const [index, word] of words.entries()) {
    const last = made.at(-1);
    const length = [...(last ?? []).map((attack) => attack.words), word].join(' ').length;
    const attack = { at: from + index, words: word };
    if (last === undefined || last.length === MOST_TOGETHER || length > LONGEST_TITLE) made.push([attack]);
    else last.push(attack);
  }
  return made;
}

const MOST_TOGETHER = 4;

function entry(id: string, attacks: readonly Attack[]): { readonly date: string } {
  const [{ at: first }] = attacks as readonly [Attack];
  const all = attacks.map(({ words }) => words).join(' ');
  const each = <T>(of: (attack: Attack, place: number) => T): T[] =>
    attacks.map((attack) => of(attack, attack.at % PER_SYSTEM));
  return {
    date: `2026-01-${String((first % 28) + 1).padStart(2, '0')}`,
    title: all,
    systems: [id],
    place: all,
    hours: each((_, place) => ({ by: `p-${place}`, spent: '1 h' })),
    measurements: each(({ words }, place) => [
      {
        point: `${id}.level-${place}`,
        value: '1.1 m',
        with: `i-${place}`,
        by: `p-${place}`,
        note: words,
        see: 'plate.png',
      },
      { what: words, value: '3 mm', note: words, under: { weather: words } },
    ]).flat(),
    statements: each(({ words }, place) => ({
      spec: `${id}.model-${place}`,
      says: words,
      basis: 'marked',
      note: words,
      see: 'plate.png',
    })),
    tests: each(({ words }, place) => ({
      test: `${id}.look-${place}`,
      readings: { [`level-${place}`]: '1.1 m' },
      note: words,
      see: 'plate.png',
    })),
    parts: each(({ at, words }, place) => ({
      part: `part-${at}`,
      move: 'arrived',
      what: words,
      'from-supplier': words,
      serial: words,
      note: words,
      cost: '1 EUR',
      'rests-on': [`${id}.model-${place}`],
    })),
    decisions: each(({ at, words }, place) => ({
      decision: `d-${at}`,
      question: words,
      options: [{ option: words, note: words, figures: { cost: words } }],
      chose: words,
      because: words,
      'rests-on': [`${id}.model-${place}`],
    })),
    opens: each(({ at, words }, place) => ({
      item: `o-${at}`,
      what: words,
      'rests-on': [`${id}.model-${place}`],
    })),
    photos: each(({ words }) => ({ file: 'photos/2026/plate.png', alt: words, caption: words })),
  } as { readonly date: string };
}

function plans(words: (at: number) => string): Readonly<Record<string, object>> {
  return {
    power: {
      title: words(0),
      cases: { winter: { title: words(1), about: words(2), days: '2 d' } },
      sources: {
        genset: { title: words(3), continuous: '2 kW', fills: ['bank'], runs: { winter: { hours: '2 h' } } },
      },
      stores: { bank: { title: words(4), capacity: '300 Ah', voltage: '12 V', usable: '50 %' } },
      loads: { lamp: { title: words(5), running: '20 W', from: 'bank', uses: { winter: { hours: '4 h' } } } },
    },
    weights: {
      title: words(6),
      origin: words(7),
      weights: { kedge: { title: words(8), mass: '31 kg', at: ['0.6 m', '0 m', '2 m'], note: words(9) } },
    },
  };
}

/** Writes the book into a folder. @returns how many different attacks are in it */
export async function writeHostileBook(folder: string): Promise<number> {
  const write = (path: string, content: string | Uint8Array) => {
    mkdirSync(join(folder, path, '..'), { recursive: true });
    writeFileSync(join(folder, path), content);
  };
  const proses = MARKDOWN_PAYLOADS.filter((words) => !REFUSED.test(words));
  const wordsOf = (at: number) => CORPUS[at % CORPUS.length] as string;
  const some = (from: number) => CORPUS.slice(from, from + PER_SYSTEM);
  const book = {
    book: 'hostile',
    subject: {
      name: wordsOf(1),
      type: wordsOf(2),
      built: wordsOf(3),
      about: CORPUS.slice(0, 60).join(' '),
      'home-port': wordsOf(0),
      particulars: Object.fromEntries(CORPUS.map((words, at) => [`${at} ${words}`.slice(0, 80), words])),
    },
    people: byNumber(some(0), 'p', (name, at) => ({
      name,
      role: wordsOf(at + 40),
      licence: wordsOf(at + 80),
    })),
    instruments: byNumber(some(20), 'i', (name, at) => ({
      name,
      serial: wordsOf(at + 120),
      measures: { length: { accuracy: '1 mm' } },
    })),
  };
  write('book.yaml', JSON.stringify(book, null, 1));
  write(
    'photos/2026/plate.png',
    await sharp({ create: { width: 20, height: 20, channels: 3, background: '#888' } })
      .png()
      .toBuffer(),
  );
  for (const [name, plan] of Object.entries(plans(wordsOf)))
    write(`plans/${name}.yaml`, JSON.stringify(plan));
  for (let from = 0; from < CORPUS.length; from += PER_SYSTEM) {
    const id = `s${from / PER_SYSTEM}`;
    const words = Array.from({ length: PER_SYSTEM }, (_, at) => wordsOf(from + at));
    write(`systems/${id}.md`, document(system(id, words), proses[from % proses.length] as string));
  }
  for (let from = 0; from < CORPUS.length; from += PER_SYSTEM) {
    for (const attacks of groups(CORPUS.slice(from, from + PER_SYSTEM), from)) {
      const page = entry(`s${from / PER_SYSTEM}`, attacks);
      // What stands in Markdown's own signs, and the attack as it is, which Markdown takes for prose.
      const prose = attacks.map(
        ({ at, words }) => `${proses[at % proses.length]}\n\n${REFUSED.test(words) ? '' : words}`,
      );
      write(`entries/2026/${page.date}-e${attacks[0]?.at}.md`, document(page, prose.join(END_OF_HTML)));
    }
  }
  return CORPUS.length;
}
