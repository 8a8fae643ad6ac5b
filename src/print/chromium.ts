import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { delimiter, isAbsolute, join } from 'node:path';

/** Finds an installed Chromium, or one of its kin, and has it print a page. */

/** What the search for a browser looks at, so that a test can stand in for a machine. */
export interface Machine {
  readonly platform: NodeJS.Platform;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly exists: (path: string) => boolean;
}

/** The machine that this runs on. */
export function thisMachine(env: Machine['env']): Machine {
  return { platform: process.platform, env, exists: existsSync };
}

/** Names in the folders of `PATH`. */
const NAMES = [
  'chromium',
  'chromium-browser',
  'google-chrome',
  'google-chrome-stable',
  'chrome',
  'microsoft-edge',
  'microsoft-edge-stable',
  'brave-browser',
];

const MAC = [
  'Chromium.app/Contents/MacOS/Chromium',
  'Google Chrome.app/Contents/MacOS/Google Chrome',
  'Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
  'Brave Browser.app/Contents/MacOS/Brave Browser',
];

const WINDOWS = [
  'Google\\Chrome\\Application\\chrome.exe',
  'Chromium\\Application\\chrome.exe',
  'Microsoft\\Edge\\Application\\msedge.exe',
  'BraveSoftware\\Brave-Browser\\Application\\brave.exe',
];

/** Where the path of a browser can be given. */
export const BROWSER_VARIABLE = 'CHROMIUM_PATH';

/**
 * The path of a browser that prints: the one that `CHROMIUM_PATH` names, or else the first found in the usual
 * places. Null where there is none; a path in `CHROMIUM_PATH` where nothing lies finds none either.
 */
export function findChromium({ platform, env, exists }: Machine): string | null {
  const asked = env[BROWSER_VARIABLE];
  if (asked !== undefined && asked !== '') return exists(asked) ? asked : null;
  return usualPlaces(platform, env).find(exists) ?? null;
}

function usualPlaces(platform: NodeJS.Platform, env: Machine['env']): string[] {
  if (platform === 'win32') {
    const roots = [env['PROGRAMFILES'], env['PROGRAMFILES(X86)'], env['LOCALAPPDATA']];
    return roots.flatMap((root) => (root === undefined ? [] : WINDOWS.map((way) => `${root}\\${way}`)));
  }
  const folders = (env['PATH'] ?? '').split(delimiter).filter((folder) => isAbsolute(folder));
  const onPath = [...folders, '/usr/bin', '/snap/bin'].flatMap((folder) =>
    NAMES.map((name) => join(folder, name)),
  );
  if (platform !== 'darwin') return onPath;
  const home = env['HOME'] === undefined ? [] : [`${env['HOME']}/Applications`];
  return ['/Applications', ...home].flatMap((folder) => MAC.map((way) => `${folder}/${way}`)).concat(onPath);
}

/** A browser did not print; the message is a line for a person. */
export class PrintFailure extends Error {}

/** Longer than any pack takes; a browser that hangs is ended then. */
const PATIENCE_MS = 180_000;

/** What to print, and where to. */
export interface PrintJob {
  readonly browser: string;
  /** Address of the page. */
  readonly url: string;
  /** File to be written. */
  readonly pdf: string;
  /** An empty folder for the browser's own things: it touches nothing of the user's. */
  readonly profile: string;
}

/**
 * Prints a page: tagged, with an outline from its headings, on the paper that its style sheet asks for.
 *
 * @throws PrintFailure where the browser cannot be started, hangs, or leaves no file.
 */
export async function printPage({ browser, url, pdf, profile }: PrintJob): Promise<void> {
  const flags = [
    '--headless',
    '--disable-gpu',
    '--no-first-run',
    '--no-default-browser-check',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-extensions',
    '--disable-sync',
    '--disable-quic',
    `--user-data-dir=${profile}`,
    '--no-pdf-header-footer',
    '--generate-pdf-document-outline',
    `--print-to-pdf=${pdf}`,
    // It refuses to start its sandbox for the superuser, who is who builds in a container. The page is ours,
    // without scripts, and loads nothing from elsewhere.
    ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
    url,
  ];
  const said = await run(browser, flags);
  if (!existsSync(pdf))
    throw new PrintFailure(`${browser} has printed nothing${said === '' ? '' : `: ${said}`}.`);
}

/** Runs a browser to its end. @returns the last line that it said about it. */
function run(browser: string, flags: readonly string[]): Promise<string> {
  return new Promise((resolve, reject) => {
    const child = spawn(browser, flags, { stdio: ['ignore', 'ignore', 'pipe'], windowsHide: true });
    let said = '';
    const timer = setTimeout(() => {
      child.kill('SIGKILL');
      reject(new PrintFailure(`${browser} has not finished in ${PATIENCE_MS / 60_000} minutes.`));
    }, PATIENCE_MS);
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      said = (said + text).slice(-2000);
    });
    child.on('error', (error) => {
      clearTimeout(timer);
      reject(new PrintFailure(`${browser} cannot be started: ${error.message}.`));
    });
    child.on('close', () => {
      clearTimeout(timer);
      resolve(said.trim().split('\n').at(-1) ?? '');
    });
  });
}
