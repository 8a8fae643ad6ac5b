import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { MARKDOWN_PAYLOADS, PAYLOADS } from '../render/payloads.js';

/** A book in which every field that takes words takes an attack, once for each attack. */

/** A picture outside the book never comes as far as a page: the checker stops it. */
const REFUSED = /^!\[x\]\(javascript:/;

/** Front matter as JSON, which YAML reads as it is. */
function document(frontMatter: object, body: string): string {
  return `---\n${JSON.stringify(frontMatter, null, 1)}\n---\n${body}\n`;
}

function system(id: string, words: string): object {
  return {
    system: id,
    title: words,
    group: words,
    hazards: ['dc-battery'],
    points: { level: { title: words, quantity: 'length', unit: 'm', where: words, 'at-most': '2 m' } },
    specs: {
      model: { title: words, value: `${words} `.trim(), basis: 'told', source: words, 'check-by': words },
      depth: { title: words, value: '1 m', basis: 'told', within: '5 %', point: 'level', source: words },
    },
    derived: { twice: { title: words, from: '2 * level', quantity: 'length', unit: 'm' } },
    tests: { look: { title: words, requires: { level: '>= 1 m' }, steps: [words, words] } },
    upkeep: { clean: { every: '6 months', what: words } },
  };
}

function entry(id: string, at: number, words: string): object {
  const date = `2026-01-${String((at % 28) + 1).padStart(2, '0')}`;
  const photo = `photos/2026/plate.png`;
  return {
    date,
    title: words,
    systems: [id],
    place: words,
    hours: [{ by: `p-${id}`, spent: '1 h' }],
    measurements: [
      { point: `${id}.level`, value: '1.1 m', with: `i-${id}`, by: `p-${id}`, note: words },
      { point: `${id}.level`, value: '1.1 m', note: words, see: 'plate.png' },
      { what: words, value: '3 mm', note: words },
    ],
    statements: [{ spec: `${id}.model`, says: words, basis: 'marked', note: words, see: 'plate.png' }],
    tests: [{ test: `${id}.look`, readings: { level: '1.1 m' }, note: words }],
    parts: [
      {
        part: `part-${id}`,
        move: 'arrived',
        what: words,
        'from-supplier': words,
        serial: words,
        note: words,
        cost: '1 EUR',
        'rests-on': [`${id}.model`],
      },
    ],
    decisions: [
      {
        decision: `d-${id}`,
        question: words,
        options: [{ option: words, note: words, figures: { cost: words } }],
        chose: words,
        because: words,
        'rests-on': [`${id}.model`],
      },
    ],
    opens: [{ item: `o-${id}`, what: words, 'rests-on': [`${id}.model`] }],
    photos: [{ file: photo, alt: words, caption: words }],
  };
}

/** Writes the book into a folder. */
export async function writeHostileBook(folder: string): Promise<void> {
  const write = (path: string, content: string | Uint8Array) => {
    mkdirSync(join(folder, path, '..'), { recursive: true });
    writeFileSync(join(folder, path), content);
  };
  const proses = MARKDOWN_PAYLOADS.filter((words) => !REFUSED.test(words));
  const ids = proses.map((_, at) => `s${at}`);
  const wordsOf = (at: number) => PAYLOADS[at % PAYLOADS.length] as string;
  const book = {
    book: 'hostile',
    subject: {
      name: PAYLOADS[1],
      type: PAYLOADS[2],
      built: PAYLOADS[3],
      about: PAYLOADS.join(' '),
      'home-port': PAYLOADS[0],
      particulars: Object.fromEntries(PAYLOADS.map((words, at) => [`${at} ${words}`.slice(0, 80), words])),
    },
    people: Object.fromEntries(
      ids.map((id, at) => [`p-${id}`, { name: wordsOf(at), role: wordsOf(at), licence: wordsOf(at) }]),
    ),
    instruments: Object.fromEntries(
      ids.map((id, at) => [
        `i-${id}`,
        { name: wordsOf(at), serial: wordsOf(at), measures: { length: { accuracy: '1 mm' } } },
      ]),
    ),
  };
  write('book.yaml', JSON.stringify(book, null, 1));
  write(
    'photos/2026/plate.png',
    await sharp({ create: { width: 20, height: 20, channels: 3, background: '#888' } })
      .png()
      .toBuffer(),
  );
  for (const [at, id] of ids.entries()) {
    const prose = proses[at] as string;
    write(`systems/${id}.md`, document(system(id, wordsOf(at)), prose));
    const page = entry(id, at, wordsOf(at)) as { date: string };
    write(`entries/2026/${page.date}-${id}.md`, document(page, prose));
  }
}
