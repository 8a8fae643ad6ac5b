/**
 * The table of a logger that hung in the saloon of the demo boat for a winter: air and bank voltage every
 * twenty minutes. It is made up, but from what such a winter does: days and nights, weather, a dehumidifier
 * that stops in the frost, a charger on some Saturdays, a capacity test, and a sensor that hung for a night.
 */

const STEP = 20 * 60;
const DAY = 86_400;
const START = Date.UTC(2025, 10, 1, 16) / 1000;
const DAYS = 148;

/** A source of chance that is the same every time (mulberry32). */
function chance(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** Normal scatter by the sum of twelve (near enough). */
function scatter(next: () => number): () => number {
  return () => Array.from({ length: 12 }, next).reduce((sum, one) => sum + one, -6);
}

interface Moment {
  /** Seconds since 1970 by the clock on the wall. */
  readonly time: number;
  /** Days since the start. */
  readonly day: number;
  readonly hour: number;
}

function moments(): readonly Moment[] {
  return Array.from({ length: (DAYS * DAY) / STEP }, (_, at) => {
    const time = START + at * STEP;
    return { time, day: (time - START) / DAY, hour: (time % DAY) / 3600 };
  });
}

/** Frost from the 6th to the 17th of January. */
function coldSnap(time: number): number {
  const [from, to] = [Date.UTC(2026, 0, 6) / 1000, Date.UTC(2026, 0, 17) / 1000];
  const edge = 1.5 * DAY;
  const rise = Math.min(1, Math.max(0, (time - from) / edge));
  const fall = Math.min(1, Math.max(0, (to - time) / edge));
  return Math.min(rise, fall);
}

/** Air in the shed, in °C. */
function airOutside(all: readonly Moment[], normal: () => number): readonly number[] {
  let weather = 0;
  return all.map(({ time, day, hour }) => {
    weather = weather * 0.9985 + normal() * 0.11;
    const season = 8.4 - 3.6 * Math.cos((2 * Math.PI * (day - 80)) / 365);
    const night = 2.4 * Math.sin((2 * Math.PI * (hour - 9.5)) / 24);
    return season + night + weather - 9 * coldSnap(time);
  });
}

/** Relative humidity in the saloon, in %RH. */
function humidity(
  all: readonly Moment[],
  outside: readonly number[],
  normal: () => number,
): readonly number[] {
  let inside = outside[0] ?? 8;
  let air = 77;
  let wet = 0;
  return all.map((_, at) => {
    const before = inside;
    inside += ((outside[at] as number) - inside) / 15;
    wet = wet * 0.998 + normal() * 0.22;
    const isRunning = inside > 3;
    // Air leaks in by the cover; the dehumidifier takes its water; wood holds the rest nearly where it is.
    air += (86 + wet - air) / 150 + (isRunning ? (53 - air) / 65 : 0) - 1.3 * (inside - before);
    return Math.min(98, air + normal() * 0.22);
  });
}

/** Days from the start on which the charger was on, from ten to five. */
const CHARGED = [14, 28, 42, 57, 70, 91, 119, 133];
/** Hours after the start: the evening before the test of 14 February, its end, and the end of the charge after it. */
const TEST = { begins: Date.UTC(2026, 1, 13, 20) / 1000, ends: Date.UTC(2026, 1, 14, 11, 36) / 1000 };
const AFTER = { begins: Date.UTC(2026, 1, 14, 12) / 1000, ends: Date.UTC(2026, 1, 15, 17) / 1000 };

function isCharged({ time, hour }: Moment): boolean {
  if (time >= AFTER.begins && time < AFTER.ends) return true;
  const date = Math.floor((time - Date.UTC(2025, 10, 1) / 1000) / DAY);
  return CHARGED.includes(date) && hour >= 10 && hour < 17;
}

/** Voltage of the bank, in V. */
function voltage(
  all: readonly Moment[],
  outside: readonly number[],
  normal: () => number,
): readonly number[] {
  let full = 0.99;
  let surface = 0.25;
  let since = 0;
  let inside = outside[0] ?? 8;
  return all.map((moment, at) => {
    inside += ((outside[at] as number) - inside) / 15;
    const warm = inside - 20;
    if (isCharged(moment)) {
      since += STEP / 3600;
      full = Math.min(1, full + (STEP / 3600) * 0.14 * (1.02 - full + 0.02));
      surface = 0.55;
      const held = since < 3.5 || full < 0.97 ? 14.1 : 13.7;
      const rising = 12.9 + 1.4 * Math.min(1, since / 1.3);
      return Math.min(held - 0.012 * warm, rising) + normal() * 0.008;
    }
    since = 0;
    surface *= 0.965;
    if (moment.time >= TEST.begins && moment.time < TEST.ends) {
      const done = (moment.time - TEST.begins) / (TEST.ends - TEST.begins);
      full = 1 - done;
      surface = 0;
      return 12.55 - 0.75 * done - 1.3 * done ** 9 + normal() * 0.006;
    }
    full -= 0.00004;
    return 12.12 + 0.62 * full + surface + 0.0011 * warm + normal() * 0.004;
  });
}

/** In the night to the 12th of January the humidity hung. */
const STUCK = { from: Date.UTC(2026, 0, 12, 1) / 1000, to: Date.UTC(2026, 0, 12, 5) / 1000 };

function comma(value: number, decimals: number): string {
  return value.toFixed(decimals).replace('.', ',');
}

function stamp(time: number): string {
  const iso = new Date(time * 1000).toISOString();
  return `${iso.slice(8, 10)}.${iso.slice(5, 7)}.${iso.slice(0, 4)} ${iso.slice(11, 16)}`;
}

/** The table as the logger gives it out: two lines of its own, semicolons, decimal commas. */
export function loggerTable(): string {
  const all = moments();
  const normal = scatter(chance(1968));
  const outside = airOutside(all, normal);
  const air = humidity(all, outside, normal);
  const volts = voltage(all, outside, normal);
  let hung = 0;
  const rows = all.map(({ time }, at) => {
    const isStuck = time >= STUCK.from && time < STUCK.to;
    if (!isStuck) hung = air[at] as number;
    return [stamp(time), comma(hung, 1), comma(volts[at] as number, 2), comma(outside[at] as number, 1)].join(
      ';',
    );
  });
  const head = ['Logger 3, interval 20 min', 'winter 2025/26', 'Time;Humidity [%RH];Bank [V];Shed [°C]'];
  return `${[...head, ...rows].join('\r\n')}\r\n`;
}
