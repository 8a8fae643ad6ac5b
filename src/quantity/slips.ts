/** Values as people jot them down (`ca. 30 l`, `30-35 l`, `2:30`, `< 5 L`): what to write instead. */
import type { Kind } from './kinds.js';
import type { QuantityProblem } from './problem.js';

/** What is said of a slip in place of what the reader of values says. */
interface Better {
  readonly message: string;
  readonly hint: string;
}

const NUMBER = String.raw`\d+(?:\.\d+)?`;
const ABOUT = new RegExp(
  String.raw`^(?:ca\.?|circa|about|abt\.?|approx\.?|approximately|around|roughly|some|~|≈)\s*(${NUMBER})\s*(\D.*)?$`,
  'i',
);
const LIMIT = new RegExp(
  String.raw`^(<=?|>=?|≤|≥|under|over|less than|more than|at least|at most|up to|max\.?|min\.?)\s*(${NUMBER}\s*\D*)$`,
  'i',
);
const RANGE = new RegExp(
  String.raw`^(${NUMBER})\s*(\D*?)\s*(?:-|–|—|\.\.+|…|to|bis)\s*(${NUMBER})\s*(\D.*)?$`,
  'i',
);
const CLOCK = /^(\d{1,3}):(\d{2})(?::\d{2})?\s*(?:h|hrs?|hours?|min|mins)?$/i;
const FEET = /^(\d+)\s*['’′]\s*(?:(\d+(?:[ -]\d+\/\d+|\.\d+)?)\s*(?:"|”|″|''))?$/;
const QUOTED = /^[“”„‟«»‘’]\s*(.*?)\s*[“”„‟«»‘’]?$/;
const PREFIX = /^(\S+)\s+([GkMmµunp])$/;

/**
 * A better word on a value that could not be read, where its form shows what was meant; nothing for all else.
 *
 * @param kind the kind that is due, where one is.
 */
export function slipSaid(text: string, kind: Kind | undefined): Better | undefined {
  const written = text.replaceAll(/\s+/g, ' ').trim();
  for (const look of [curly, about, limit, clock, feet, range, prefix]) {
    const better = look(written, kind);
    if (better !== undefined) return better;
  }
  return undefined;
}

/** A problem with the better word in it. */
export function withBetter(problem: QuantityProblem, better: Better | undefined): QuantityProblem {
  return better === undefined ? problem : Object.freeze({ ...problem, ...better });
}

function curly(written: string): Better | undefined {
  const inside = QUOTED.exec(written)?.[1];
  if (inside === undefined || inside === '') return undefined;
  return {
    message: 'These are curly quotes, which are read as part of the value.',
    hint: `Write \`${inside}\`, without quotes or between straight ones.`,
  };
}

function about(written: string): Better | undefined {
  const [, number, unit = ''] = ABOUT.exec(written) ?? [];
  if (number === undefined) return undefined;
  return {
    message: 'How near a value is stands behind it, not in words before it.',
    hint: `Write how far it may be off, such as \`${`${number} ± ${tenth(Number(number))} ${unit}`.trim()}\`; without it leave the word out.`,
  };
}

/** A tenth of a number, with one digit. */
function tenth(value: number): string {
  return String(Number((value / 10 || 1).toPrecision(1)));
}

function limit(written: string): Better | undefined {
  const [, sign, value] = LIMIT.exec(written) ?? [];
  if (sign === undefined || value === undefined) return undefined;
  return {
    message: 'A value is what was read, and no limit.',
    hint: `Write what the instrument showed, such as \`${value.trim()}\`, and say the rest in \`note\`.`,
  };
}

function clock(written: string, kind: Kind | undefined): Better | undefined {
  const [, first, second] = CLOCK.exec(written) ?? [];
  if (first === undefined || second === undefined || (kind !== undefined && kind !== 'time'))
    return undefined;
  return {
    message: `\`${first}:${second}\` can be hours and minutes, or minutes and seconds.`,
    hint: `Write \`${first} h ${Number(second)} min\` or \`${first} min ${Number(second)} s\`.`,
  };
}

function feet(written: string, kind: Kind | undefined): Better | undefined {
  const [, whole, inches] = FEET.exec(written) ?? [];
  if (whole === undefined || kind !== undefined) return undefined;
  return {
    message: `\`${written}\` can be feet and inches, or minutes and seconds of an angle.`,
    hint: `Write \`${whole} ft${inches === undefined ? '' : ` ${inches} in`}\` for a length.`,
  };
}

function range(written: string): Better | undefined {
  const [, low = '', before = '', high = '', after = ''] = RANGE.exec(written) ?? [];
  const unit = after === '' ? before : after;
  if (low === '' || (before !== '' && before !== after) || !(Number(high) > Number(low))) return undefined;
  const places = Math.max(...[low, high].map((number) => (number.split('.')[1] ?? '').length)) + 1;
  const [middle, half] = [Number(high) + Number(low), Number(high) - Number(low)].map((sum) =>
    String(Number((sum / 2).toFixed(places))),
  );
  return {
    message: 'This is a range, and a value is one number.',
    hint: `Write its middle and half of its width: \`${`${middle} ± ${half} ${unit}`.trim()}\`.`,
  };
}

function prefix(written: string, kind: Kind | undefined): Better | undefined {
  const [, , letter] = PREFIX.exec(written) ?? [];
  if (letter === undefined || kind !== undefined) return undefined;
  return {
    message: `\`${letter}\` alone does not say of what: it only makes a unit larger or smaller.`,
    hint: `Write the whole unit, such as ${letter === 'k' ? '`kΩ`, `kW` or `kg`' : `\`${letter}A\` or \`${letter}V\``}.`,
  };
}
