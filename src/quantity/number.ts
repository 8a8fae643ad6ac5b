/** Reading numbers off a text: decimals and the fractions of an inch rule. */
import { type Failure, fail, quoted } from './problem.js';

/** A number as written, and where it ends. */
export interface ScannedNumber {
  readonly ok: true;
  readonly value: number;
  /** Place value of the last digit; of a fraction one over the denominator. */
  readonly resolution: number;
  readonly form: 'decimal' | 'fraction';
  readonly end: number;
}

const DECIMAL = /(?:\d+(?:\.\d+)?|\.\d+)(?:[eE][+-]?\d+)?/y;
const FRACTION = /(\d+)[/⁄∕](\d+)(?![\d.,/])/y;
const MIXED_GAP = /(?:[ \t\u00a0\u2009\u202f]+|-)(?=\d+[/⁄∕]\d)/y;
const VULGAR_GAP = /[ \t\u00a0\u2009\u202f]?(?=[¼-¾⅐-⅞])/y;

const VULGAR: ReadonlyMap<string, readonly [number, number]> = new Map([
  ['¼', [1, 4]],
  ['½', [1, 2]],
  ['¾', [3, 4]],
  ['⅓', [1, 3]],
  ['⅔', [2, 3]],
  ['⅕', [1, 5]],
  ['⅖', [2, 5]],
  ['⅗', [3, 5]],
  ['⅘', [4, 5]],
  ['⅙', [1, 6]],
  ['⅚', [5, 6]],
  ['⅛', [1, 8]],
  ['⅜', [3, 8]],
  ['⅝', [5, 8]],
  ['⅞', [7, 8]],
]);

/** Matches a sticky pattern at a place. */
export function matchAt(pattern: RegExp, text: string, at: number): RegExpExecArray | null {
  pattern.lastIndex = at;
  return pattern.exec(text);
}

/** Skips blanks, no-break and thin ones too. */
export function skipBlanks(text: string, at: number): number {
  let i = at;
  while (i < text.length && /\s/.test(text[i] as string)) i++;
  return i;
}

/**
 * Reads an unsigned number at a place: `12.71`, `.5`, `1.2e6`, `3/8`, `27 1/2`, `27-1/2`, `27½`.
 * A decimal comma or grouped digits are refused, since `1,480` is read in two ways.
 */
export function scanNumber(text: string, at: number): ScannedNumber | Failure {
  const fraction = scanFraction(text, at);
  if (fraction) return fraction;
  const match = matchAt(DECIMAL, text, at);
  if (!match) return notANumber(text, at);
  const end = at + match[0].length;
  const next = text.charCodeAt(end);
  // Most numbers are followed by a blank and a letter; only the others need a closer look.
  if (next === 44 || next === 46 || next === 39 || next === 95) {
    const wrong = badTail(text, at, end);
    if (wrong) return wrong;
  }
  if (!match[0].includes('.') && !/e/i.test(match[0])) {
    const mixed = scanMixed(text, at, end, Number(match[0]));
    if (mixed) return mixed;
    const grouped = groupedDigits(text, at, end);
    if (grouped) return grouped;
  }
  const value = Number(match[0]);
  if (!Number.isFinite(value)) return tooLarge(at, end);
  return { ok: true, value, resolution: placeOf(match[0]), form: 'decimal', end };
}

/** Reads an unsigned decimal at a place, and no fraction; nothing if there is none. */
export function scanDecimal(text: string, at: number): ScannedNumber | undefined {
  const match = matchAt(DECIMAL, text, at);
  if (!match) return undefined;
  const resolution = placeOf(match[0]);
  return { ok: true, value: Number(match[0]), resolution, form: 'decimal', end: at + match[0].length };
}

function notANumber(text: string, at: number): Failure {
  const word = /^\S{1,20}/.exec(text.slice(at))?.[0] ?? '';
  const message = word === '' ? 'A number is missing here.' : `A number is due here, not ${quoted(word)}.`;
  return fail('bad-number', { offset: at, length: word.length }, message);
}

function tooLarge(at: number, end: number): Failure {
  return fail(
    'bad-number',
    { offset: at, length: end - at },
    'This number is too large to be a measurement.',
  );
}

/** Place value of the last digit of a decimal as written. */
export function placeOf(digits: string): number {
  const [mantissa = '', exponent = '0'] = digits.split(/e/i);
  const point = mantissa.indexOf('.');
  const places = point < 0 ? 0 : mantissa.length - point - 1;
  return powerOfTen(Number(exponent) - places);
}

/** A power of ten, rounded once: 10 ** -2 is not always 0.01. */
export function powerOfTen(exponent: number): number {
  return Number(`1e${exponent}`);
}

function scanFraction(text: string, at: number): ScannedNumber | Failure | undefined {
  const vulgar = VULGAR.get(text[at] ?? '');
  if (vulgar) return fractionOf(0, vulgar[0], vulgar[1], at, at + 1);
  const match = matchAt(FRACTION, text, at);
  if (!match) return undefined;
  if (Number(match[1]) >= Number(match[2]) && Number(match[2]) > 0) {
    const message = `${quoted(match[0])} is one or more; it may be two values.`;
    const hint = 'Write whole ones before the fraction, such as 1 1/2, or the number that is meant.';
    return fail('bad-number', { offset: at, length: match[0].length }, message, { hint });
  }
  return fractionOf(0, Number(match[1]), Number(match[2]), at, at + match[0].length);
}

function scanMixed(
  text: string,
  at: number,
  end: number,
  whole: number,
): ScannedNumber | Failure | undefined {
  const gap = matchAt(VULGAR_GAP, text, end) ?? matchAt(MIXED_GAP, text, end);
  if (!gap) return undefined;
  const start = end + gap[0].length;
  const vulgar = VULGAR.get(text[start] ?? '');
  if (vulgar) return fractionOf(whole, vulgar[0], vulgar[1], at, start + 1);
  const match = matchAt(FRACTION, text, start);
  if (!match) return undefined;
  const [over, under] = [Number(match[1]), Number(match[2])];
  const stop = start + match[0].length;
  if (over >= under) {
    return fail(
      'bad-number',
      { offset: start, length: stop - start },
      `After whole ones the fraction must be less than one, and ${over}/${under} is not.`,
    );
  }
  return fractionOf(whole, over, under, at, stop);
}

function fractionOf(
  whole: number,
  over: number,
  under: number,
  at: number,
  end: number,
): ScannedNumber | Failure {
  if (under === 0) {
    return fail('bad-number', { offset: at, length: end - at }, 'A fraction cannot be of nought.');
  }
  const value = whole + over / under;
  if (!Number.isFinite(value) || under > 1e6) return tooLarge(at, end);
  return { ok: true, value, resolution: 1 / under, form: 'fraction', end };
}

// What is shown of them is a few letters; without an end to it, a long list would be read again from each of its commas.
const COMMAS = /,\d{1,40}(?:[.,]\d{1,40}){0,40}/y;
const NO_TAIL = /[._]\d|'\d{3}(?!\d)|\.(?![A-Za-z])/y;
const MARKED = /[\d.,_']{1,200}/y;

function badTail(text: string, at: number, end: number): Failure | undefined {
  const comma = matchAt(COMMAS, text, end);
  if (comma) return commaProblem(text.slice(at, end + comma[0].length), at);
  if (matchAt(NO_TAIL, text, end)) {
    const word = matchAt(MARKED, text, at)?.[0] ?? '';
    return fail('bad-number', { offset: at, length: word.length }, `${quoted(word)} is not a number.`, {
      hint: 'Write digits with at most one decimal point, and no marks between thousands.',
    });
  }
  return undefined;
}

function commaProblem(number: string, at: number): Failure {
  const asThousands = number.replace(/,/g, '');
  const asDecimal = number.includes('.')
    ? number.replace(/\./g, '').replace(',', '.')
    : number.replace(',', '.');
  const inThousands = /^\d{1,3}(,\d{3})+(\.\d+)?$/.test(number);
  // Commas before a decimal point, or more than one of them, can only part thousands.
  const isPlain = inThousands && /[,.].*[,.]/.test(number);
  const readings = isPlain ? [asThousands] : inThousands ? [asThousands, asDecimal] : [asDecimal];
  const choices = [...new Set(readings)].filter((text) => /^\d+(\.\d+)?$/.test(text));
  const shown = `\`${number.slice(0, 24)}\``;
  const why =
    inThousands && !isPlain
      ? `The comma in ${shown} can be read as a decimal mark and as a mark between thousands.`
      : `There is a comma in ${shown}; numbers are written with a decimal point.`;
  const hint = `Write ${choices.map((text) => `\`${text}\``).join(' or ')}.`;
  return fail(
    'comma',
    { offset: at, length: number.length },
    why,
    choices.length > 0 ? { hint, choices } : {},
  );
}

function groupedDigits(text: string, at: number, end: number): Failure | undefined {
  const match = /^(?:[ \u00a0\u2009\u202f]\d{3})+(?![\d/⁄.])/.exec(text.slice(end, end + 24));
  if (!match || end - at > 3) return undefined;
  const number = text.slice(at, end + match[0].length);
  const plain = number.replace(/\s/g, '');
  return fail(
    'bad-number',
    { offset: at, length: number.length },
    `\`${number}\` is two numbers, or one with gaps.`,
    {
      hint: `Write \`${plain}\` without gaps.`,
      choices: [plain],
    },
  );
}
