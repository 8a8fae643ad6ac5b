import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { platform } from 'node:process';
import { type Browser, chromium } from 'playwright-core';

/** Where Chromium and its kin usually lie. */
const USUAL: Readonly<Record<string, readonly string[]>> = {
  linux: [
    '/usr/bin/chromium',
    '/usr/bin/chromium-browser',
    '/usr/bin/google-chrome',
    '/usr/bin/google-chrome-stable',
    '/snap/bin/chromium',
  ],
  darwin: [
    '/Applications/Chromium.app/Contents/MacOS/Chromium',
    '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
    '/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  ],
  win32: [
    'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
    'C:\\Program Files (x86)\\Google\\Chrome\\Application\\chrome.exe',
    'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
  ],
};

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
  return chromium.launch({ executablePath: findChromium(), args: FLAGS });
}

/** The path of a Chromium; installs one where that is allowed and takes no more than a command. */
function findChromium(): string {
  const asked = process.env['CHROMIUM_PATH'];
  if (asked !== undefined && asked !== '') {
    if (existsSync(asked)) return asked;
    throw new Error(`CHROMIUM_PATH names ${asked}, where there is nothing.`);
  }
  const found = findUsual() ?? (installOnDebian() ? findUsual() : undefined);
  if (found !== undefined) return found;
  throw new Error(
    'The tests of the site need Chromium, Chrome or Edge. Install one (on Debian: apt-get install chromium), or name it in CHROMIUM_PATH.',
  );
}

function findUsual(): string | undefined {
  return (USUAL[platform] ?? []).find((path) => existsSync(path));
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
