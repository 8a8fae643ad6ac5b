import type { Series } from '../check/model.js';

/** Path of a logger's file from the folder of the open forms. */
export function seriesPath(point: string): string {
  return `series/${point}.csv`;
}

/**
 * A logger's readings as CSV: time and value, a row each, as they stood on the day of the reckoning. Values are in
 * the unit of the point.
 */
export function seriesAsCsv({ times, values }: Pick<Series, 'times' | 'values'>): string {
  const lines = ['time,value\r\n'];
  for (let at = 0; at < times.length; at += 1) {
    const time = new Date((times[at] as number) * 1000).toISOString().slice(0, 19);
    lines.push(`${time},${values[at]}\r\n`);
  }
  return lines.join('');
}
