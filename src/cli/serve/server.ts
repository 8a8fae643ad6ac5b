import { randomBytes } from 'node:crypto';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { Diagnostic } from '../../check/diagnostic.js';
import type { LiveSite } from '../live-site.js';
import { fileSystemRefusal, Refusal, sayRefusal } from '../refusal.js';
import { type EntryReply, receiveEntry, type TakeIn } from './entries.js';
import { EVENTS_PATH, SCRIPT, SCRIPT_PATH, STYLE, STYLE_PATH } from './live-assets.js';
import { livePage, type Moment, plainPage } from './page.js';
import { ENTRY_PATH, judge, mediaType } from './request.js';

/** What the server shows. */
export interface Shown extends Pick<LiveSite, 'get' | 'hasPages'> {
  /** Problems with their files as the user is to see them named. */
  readonly diagnostics: () => readonly Diagnostic[];
}

export interface ServerOptions {
  readonly shown: Shown;
  /** The port asked for, which then has to be free; null for the first free one from 8080. */
  readonly port: number | null;
  /** The one address to listen on; null for this machine alone. */
  readonly address: string | null;
  /** The word that lets entries in, and what becomes of them. */
  readonly word: string;
  readonly takeIn: TakeIn;
  /** Told of a fault while a page was made. */
  readonly fault: (error: unknown) => void;
  /** How long is waited for somebody who is slow; `PATIENCE` where left out. */
  readonly patience?: Patience;
}

/** How long is waited, in milliseconds. */
export interface Patience {
  /** For all the heads of a request. */
  readonly heads: number;
  /** For a whole request. An entry with its pictures takes a while to come from a phone in a yard. */
  readonly request: number;
  /** For a line on which nothing moves at all while something is due. */
  readonly still: number;
}

const PATIENCE: Patience = { heads: 10_000, request: 180_000, still: 60_000 };

/** As many as may be on the line at once: some browsers with all their tabs, and no more. */
const MOST_CONNECTIONS = 200;

export interface RunningServer {
  readonly port: number;
  /** Has all open pages load again. */
  readonly tellChanged: () => void;
  readonly close: () => Promise<void>;
}

interface Reply {
  readonly status: number;
  readonly type: string;
  readonly body: string | Uint8Array;
  readonly headers?: Readonly<Record<string, string>>;
}

/**
 * Starts a server for one site, on this machine only or on the address that is named.
 *
 * @throws Refusal where no port is to be had.
 */
export async function startServer(options: ServerOptions): Promise<RunningServer> {
  const { shown, port, address, word, takeIn, fault, patience = PATIENCE } = options;
  // Another run counts its states from the start again; its pages must not be taken for those of this one.
  const run = randomBytes(4).toString('hex');
  let changes = 0;
  const state = () => `${run}-${changes}`;
  const listeners = new Set<ServerResponse>();
  let bound = 0;
  const timeouts = {
    headersTimeout: patience.heads,
    requestTimeout: patience.request,
    connectionsCheckingInterval: Math.min(1_000, patience.heads),
  };
  const server = createServer(timeouts, (request, response) => {
    const asked = { method: request.method ?? '', target: request.url ?? '', headers: request.headers };
    const judged = judge(asked, bound, address);
    if (!judged.ok) return send(response, refused(judged.status, judged.why), true);
    if (judged.path === EVENTS_PATH && judged.withBody) return listen(request, response, listeners, state());
    if (judged.brings) return receive(request, response, { word, takeIn, fault });
    const moment = { diagnostics: shown.diagnostics(), state: state(), hasPages: shown.hasPages() };
    answer(judged.path, shown, moment)
      .catch((error: unknown) => {
        fault(error);
        return faultPage(error, moment);
      })
      .then((reply) => send(response, reply, judged.withBody))
      .catch(fault);
  });
  server.maxConnections = MOST_CONNECTIONS;
  // A line on which nothing moves is closed; those who listen for changes are let off in `listen`.
  server.setTimeout(patience.still);
  bound = await listenOnFree(server, port, address);
  return {
    port: bound,
    tellChanged: () => {
      changes += 1;
      for (const listener of listeners) listener.write(stateEvent(state()));
    },
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

/** Answers somebody who brings an entry. */
function receive(
  request: IncomingMessage,
  response: ServerResponse,
  { word, takeIn, fault }: Pick<ServerOptions, 'word' | 'takeIn' | 'fault'>,
): void {
  receiveEntry(request, word, takeIn)
    .catch((error: unknown): EntryReply => {
      // Whoever broke off hears no answer, and that is no fault here.
      if (request.destroyed && !request.complete) return { status: 400, body: 'That is no whole entry.' };
      fault(error);
      const refusal = fileSystemRefusal(error);
      const why =
        refusal === null ? 'The entry could not be written; the terminal says why.' : sayRefusal(refusal);
      return { status: 422, body: { is: 'failed', why } };
    })
    .then(({ status, body }) => {
      const isText = typeof body === 'string';
      const type = mediaType(isText ? '.txt' : '.json');
      // What is left of a body that is too large is not waited for.
      const headers: Record<string, string> = request.complete ? {} : { connection: 'close' };
      send(response, { status, type, body: isText ? `${body}\n` : JSON.stringify(body), headers }, true);
    })
    .catch(fault);
}

async function answer(path: string, shown: Shown, moment: Moment): Promise<Reply> {
  if (path === SCRIPT_PATH) return { status: 200, type: mediaType(path), body: SCRIPT };
  if (path === STYLE_PATH) return { status: 200, type: mediaType(path), body: STYLE };
  const file = await shown.get(path);
  if (file !== null) return fileReply(200, path, file.body, moment);
  if (!moment.hasPages) {
    const page = plainPage('No page yet', 'The book has errors. The pages appear when they are mended.');
    return fileReply(503, 'index.html', page, moment);
  }
  if (!path.endsWith('index.html') && (await shown.get(`${path}/index.html`)) !== null)
    return redirect(`/${encodeURI(path)}/`);
  const missing = await shown.get('404.html');
  const page = missing?.body ?? plainPage('Not found', 'There is no such page in this site.');
  return fileReply(404, 'index.html', page, moment);
}

function fileReply(status: number, path: string, body: string | Uint8Array, moment: Moment): Reply {
  const type = mediaType(path);
  if (!type.startsWith('text/html')) return { status, type, body };
  const html = typeof body === 'string' ? body : Buffer.from(body).toString('utf8');
  return { status, type, body: livePage(html, moment, path === WRITE_PAGE ? ENTRY_PATH : null) };
}

function faultPage(error: unknown, moment: Moment): Reply {
  const text = error instanceof Error ? error.message : String(error);
  const page = plainPage('A fault in ribband itself', `This page could not be made: ${text}`);
  return { status: 500, type: mediaType('index.html'), body: livePage(page, moment) };
}

function redirect(location: string): Reply {
  return { status: 302, type: mediaType('.txt'), body: `${location}\n`, headers: { location } };
}

function refused(status: number, why: string): Reply {
  const headers: Record<string, string> = status === 405 ? { allow: 'GET, HEAD' } : {};
  return { status, type: mediaType('.txt'), body: `${why}\n`, headers };
}

const WRITE_PAGE = 'write.html';

const ALWAYS = {
  'cache-control': 'no-store',
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
  'cross-origin-resource-policy': 'same-origin',
  'referrer-policy': 'no-referrer',
};

function send(response: ServerResponse, { status, type, body, headers }: Reply, withBody: boolean): void {
  const bytes = Buffer.from(body);
  response.writeHead(status, {
    ...ALWAYS,
    ...headers,
    'content-type': type,
    'content-length': bytes.byteLength,
  });
  response.end(withBody ? bytes : undefined);
}

function listen(
  request: IncomingMessage,
  response: ServerResponse,
  listeners: Set<ServerResponse>,
  state: string,
): void {
  request.socket.setTimeout(0);
  response.writeHead(200, { ...ALWAYS, 'content-type': 'text/event-stream' });
  response.write(`retry: 500\n\n${stateEvent(state)}`);
  listeners.add(response);
  request.on('close', () => listeners.delete(response));
}

function stateEvent(state: string): string {
  return `event: state\ndata: ${state}\n\n`;
}

const FIRST_PORT = 8080;
const PORTS_TRIED = 30;

async function listenOnFree(server: Server, asked: number | null, address: string | null): Promise<number> {
  const ports = asked === null ? Array.from({ length: PORTS_TRIED }, (_, i) => FIRST_PORT + i) : [asked];
  for (const port of ports) {
    const bound = await tryListen(server, port, address ?? '127.0.0.1');
    if (typeof bound === 'number') return bound;
    if (bound.code === 'EADDRNOTAVAIL')
      throw new Refusal(`This machine has no address ${address}.`, 'Give one that it has in your network.');
    if (bound.code === 'EACCES' && asked !== null)
      throw new Refusal(`Port ${asked} is not for ordinary users.`, 'Take one above 1023.');
    if (bound.code !== 'EADDRINUSE' && bound.code !== 'EACCES') throw bound;
  }
  throw new Refusal(
    asked === null
      ? `The ports from ${FIRST_PORT} to ${FIRST_PORT + PORTS_TRIED - 1} are all in use.`
      : `Port ${asked} is in use.`,
    asked === null
      ? 'Give another with `--port`.'
      : 'Give another, or leave `--port` out for the first free one.',
  );
}

/** Listens on one address alone. @returns the port, or why it cannot be had. */
function tryListen(server: Server, port: number, address: string): Promise<number | NodeJS.ErrnoException> {
  return new Promise((resolve) => {
    server.once('error', resolve);
    server.listen(port, address, () => {
      server.removeListener('error', resolve);
      const bound = server.address();
      resolve(typeof bound === 'object' && bound !== null ? bound.port : port);
    });
  });
}
