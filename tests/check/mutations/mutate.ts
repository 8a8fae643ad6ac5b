import { isMap, isSeq, parseDocument, stringify } from 'yaml';
import { splitFences } from '../../../src/read/front-matter.js';
import { TRICKY } from '../../read/corpus.js';
import { pick, type Random, upTo } from './random.js';

/** Ways in which a file of a book goes wrong: of the disk, of the hand, of the mind, and of ill will. */

export type Mutation = 'bytes' | 'lines' | 'structure' | 'values';

export const MUTATIONS: readonly Mutation[] = ['bytes', 'lines', 'structure', 'values'];

/** One to three changes of a sort; the same random numbers give the same text. */
export function mutate(bytes: Buffer, mutation: Mutation, random: Random): Buffer {
  let changed = bytes;
  for (let step = 0; step <= upTo(random, 3); step += 1) changed = once(changed, mutation, random);
  return changed;
}

function once(bytes: Buffer, mutation: Mutation, random: Random): Buffer {
  if (mutation === 'bytes') return ofBytes(bytes, random);
  const text = bytes.toString('utf8');
  if (mutation === 'lines') return Buffer.from(ofLines(text.split('\n'), random).join('\n'));
  return Buffer.from(mutation === 'structure' ? ofStructure(text, random) : ofValues(text, random));
}

/** Pieces that a text may get by a slip, by a paste or on purpose. */
const PIECES: readonly string[] = [
  ...[
    ':',
    ': ',
    '"',
    "'",
    '[',
    ']',
    '{',
    '}',
    ',',
    '#',
    ' #',
    '- ',
    '? ',
    '&a ',
    '*a',
    '!x ',
    '|',
    '>',
    '%',
    '@',
    '`',
  ],
  ...[
    '\t',
    '\r',
    '\n',
    '\r\n',
    '\0',
    '\u0085',
    '\u2028',
    '\u200b',
    '\u202e',
    '\ufeff',
    '\u00a0',
    '−',
    '±',
    '𝄞',
    'é',
  ],
  ...[
    '---',
    '\n---\n',
    '\n...\n',
    '__proto__: ',
    'constructor',
    '<<: ',
    '../',
    '{{',
    '{%',
    '<script>',
    '![',
    '](',
    '$(',
  ],
];

function ofBytes(bytes: Buffer, random: Random): Buffer {
  const at = upTo(random, bytes.length + 1);
  const length = 1 + upTo(random, random() < 0.8 ? 4 : 200);
  const head = bytes.subarray(0, at);
  const tail = bytes.subarray(at);
  switch (upTo(random, 6)) {
    case 0:
      return Buffer.concat([head, tail.subarray(length)]);
    case 1:
      return Buffer.concat([head, Buffer.from([upTo(random, 256)]), tail]);
    case 2:
      return Buffer.concat([head, Buffer.from(pick(random, PIECES)), tail]);
    case 3:
      return Buffer.concat([head, tail.subarray(0, length), tail]);
    case 4:
      return head;
    default: {
      const copy = Buffer.from(bytes);
      if (copy.length > 0) copy[at % copy.length] = (copy[at % copy.length] ?? 0) ^ (1 << upTo(random, 8));
      return copy;
    }
  }
}

function ofLines(lines: readonly string[], random: Random): readonly string[] {
  const at = upTo(random, lines.length);
  const line = lines[at] ?? '';
  const put = (...instead: readonly string[]) => [...lines.slice(0, at), ...instead, ...lines.slice(at + 1)];
  switch (upTo(random, 9)) {
    case 0:
      return put();
    case 1:
      return put(line, line);
    case 2:
      return [...lines.slice(0, at), ...lines.slice(at).reverse()];
    case 3:
      return put(`${' '.repeat(1 + upTo(random, 4))}${line}`);
    case 4:
      return put(line.replace(/^ {1,2}/, ''));
    case 5:
      return put(`${line} ${lines[at + 1] ?? ''}`);
    case 6:
      return put(`${line}${pick(random, PIECES)}`);
    case 7:
      return put(...Array.from({ length: upTo(random, 400) }, () => line));
    default:
      return put(line, lines[upTo(random, lines.length)] ?? '');
  }
}

/** Values that are not what is due, whatever is due. */
const WRONG: readonly unknown[] = [
  ...[
    null,
    true,
    false,
    0,
    -1,
    1.5,
    1e21,
    1e-7,
    Number.NaN,
    Number.POSITIVE_INFINITY,
    '',
    ' ',
    [],
    {},
    [[]],
    [null],
  ],
  ...[
    { a: 1 },
    ['a', 'a'],
    'x'.repeat(3_000),
    '١٢',
    '2026-02-30',
    '2026-13-01',
    '0000-00-00',
    '9999-12-31',
    'a.b.c',
  ],
];

/** Changes the data and writes it anew. */
function ofStructure(text: string, random: Random): string {
  const fenced = splitFences(text);
  const doc = parseDocument(fenced?.yaml ?? text, { uniqueKeys: false });
  const collections: unknown[][] = [];
  const gather = (node: unknown): void => {
    if (!isMap(node) && !isSeq(node)) return;
    collections.push(node.items);
    for (const item of node.items) gather(isMap(node) ? (item as { value: unknown }).value : item);
  };
  gather(doc.contents);
  const items = collections.length === 0 ? [] : pick(random, collections);
  const at = upTo(random, items.length + 1);
  changeItems(items, at, doc, random);
  const yaml = written(doc);
  if (fenced === null) return yaml;
  return `---\n${yaml}---\n${fenced.body}`;
}

function written(doc: ReturnType<typeof parseDocument>): string {
  try {
    return String(doc);
  } catch {
    return stringify(null);
  }
}

function changeItems(
  items: unknown[],
  at: number,
  doc: ReturnType<typeof parseDocument>,
  random: Random,
): void {
  const item = items[at];
  const wrong = () => doc.createNode(pick(random, WRONG));
  switch (upTo(random, 7)) {
    case 0:
      items.splice(at, 1);
      return;
    case 1:
      if (item !== undefined) items.push(...Array.from({ length: 1 + upTo(random, 80) }, () => item));
      return;
    case 2:
      items.splice(at, 1, wrong());
      return;
    case 3:
      if (isPairLike(item)) item.value = wrong();
      return;
    case 4:
      if (isPairLike(item)) item.value = doc.createNode([item.value]);
      return;
    case 5:
      if (isPairLike(item)) item.key = doc.createNode(pick(random, [...KEYS, ...TRICKY]));
      return;
    default:
      items.push(doc.createPair(pick(random, KEYS), pick(random, WRONG)));
  }
}

function isPairLike(item: unknown): item is { key: unknown; value: unknown } {
  return typeof item === 'object' && item !== null && 'key' in item && 'value' in item;
}

const KEYS: readonly string[] = [
  ...[
    'date',
    'title',
    'systems',
    'point',
    'what',
    'value',
    'by',
    'move',
    'readings',
    'alt',
    'file',
    'under',
    'system',
  ],
  ...[
    '__proto__',
    'constructor',
    'toString',
    'hasOwnProperty',
    'length',
    '0',
    'house-dc.capacity',
    'wiht',
    'Value',
  ],
];

const VALUES: readonly string[] = [
  ...[
    '390',
    '390 Ahh',
    '390 gal',
    '3,5 V',
    '5 ft 14 in',
    '1e999 V',
    '-0 V',
    '± 3 V',
    '3 ± V',
    '3 ± 0 V',
    '¾ in',
    'AWG 99',
  ],
  ...[
    '12 V 12 V',
    '0x10 V',
    'Infinity V',
    'NaN V',
    `${'9'.repeat(80)} V`,
    '1/0 in',
    '0/1 in',
    '20 °C within',
    '5 % + 3 V',
  ],
  ...[
    '>= 3 V and <= 2 V',
    'between',
    '((((((((1))))))))',
    '1 + + 1',
    'a.b + c.d',
    '-'.repeat(200),
    '6 months',
    '0 days',
  ],
  ...[
    '99999999999 years',
    '12.50 EUR',
    '1e9 EUR',
    '-0.00 XXX',
    'photos/../x.jpg',
    'photos/\\x.jpg',
    'house-dc.capacity',
  ],
];

/** Puts other values behind the colons, without regard for quotes. */
function ofValues(text: string, random: Random): string {
  const places = [...text.matchAll(/(?<=: )[^,}\]\n]+/g)];
  if (places.length === 0) return text;
  const place = pick(random, places);
  const value = pick(random, random() < 0.5 ? VALUES : TRICKY);
  return text.slice(0, place.index) + value + text.slice(place.index + place[0].length);
}
