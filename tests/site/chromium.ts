import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';
import { findChromium, thisMachine } from '../../src/print/chromium.js';

const FLAGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
];

/** Starts a browser with a fresh profile. */
export async function launchChromium(): Promise<Browser> {
  return chromium.launch({ executablePath: chromiumPath(), args: FLAGS });
}

/** The path of a Chromium; installs one where that is allowed and takes no more than a command. */
export function chromiumPath(): string {
  const machine = thisMachine(process.env);
  const found = findChromium(machine) ?? (installOnDebian() ? findChromium(machine) : null);
  if (found !== null) return found;
  throw new Error(
    'The tests of the site need Chromium, Chrome or Edge. Install one (on Debian: apt-get install chromium), or name it in CHROMIUM_PATH.',
  );
}

function installOnDebian(): boolean {
  if (!existsSync('/etc/debian_version') || process.getuid?.() !== 0) return false;
  try {
    execFileSync('apt-get', ['install', '-y', '--no-install-recommends', 'chromium'], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
}
