import { delimiter } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findChromium, type Machine } from '../../src/print/chromium.js';
import { withDay } from '../../src/print/dates.js';

/** Which browser prints, on machines of every sort. */

function machine(platform: NodeJS.Platform, there: readonly string[], env: Machine['env'] = {}): Machine {
  return { platform, env, exists: (path) => there.includes(path) };
}

describe('the browser that prints', () => {
  it('is the one that CHROMIUM_PATH names, and none where nothing lies there', () => {
    const there = ['/usr/bin/chromium', '/opt/mine'];
    expect(findChromium(machine('linux', there, { CHROMIUM_PATH: '/opt/mine' }))).toBe('/opt/mine');
    expect(findChromium(machine('linux', there, { CHROMIUM_PATH: '/opt/gone' }))).toBeNull();
    expect(findChromium(machine('linux', there, { CHROMIUM_PATH: '' }))).toBe('/usr/bin/chromium');
  });

  it('is looked for on the path first, in folders that have a whole name', () => {
    const there = ['/home/me/bin/google-chrome', '/usr/bin/chromium', 'bin/chromium'];
    const PATH = ['bin', '/home/me/bin', '/usr/bin'].join(delimiter);
    expect(findChromium(machine('linux', there, { PATH }))).toBe('/home/me/bin/google-chrome');
    expect(findChromium(machine('linux', ['bin/chromium'], { PATH }))).toBeNull();
  });

  it('is found among the programs of macOS and of Windows', () => {
    const mac = '/Users/me/Applications/Google Chrome.app/Contents/MacOS/Google Chrome';
    expect(findChromium(machine('darwin', [mac], { HOME: '/Users/me' }))).toBe(mac);
    const edge = 'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe';
    const env = { PROGRAMFILES: 'C:\\Program Files', 'PROGRAMFILES(X86)': 'C:\\Program Files (x86)' };
    expect(findChromium(machine('win32', [edge], env))).toBe(edge);
    expect(findChromium(machine('win32', [edge]))).toBeNull();
  });
});

describe('the day of a PDF', () => {
  it('takes the place of the moment at which it was printed, and moves nothing', () => {
    const moment = "/CreationDate (D:20261128183517+00'00')\n/ModDate (D:20261128203517-05'00')>> /Length 3";
    const dated = Buffer.from(withDay(Buffer.from(moment), '2025-06-01')).toString();
    expect(dated).toBe(
      "/CreationDate (D:20250601000000+00'00')\n/ModDate (D:20250601000000+00'00')>> /Length 3",
    );
    expect(dated.length).toBe(moment.length);
  });

  it('leaves every other byte as it is', () => {
    const bytes = Uint8Array.from({ length: 256 }, (_, at) => at);
    expect(Uint8Array.from(withDay(bytes, '2025-06-01'))).toEqual(bytes);
  });
});
