import { get, type IncomingMessage, request } from 'node:http';
import { run } from './support.js';

/** A server in this process, and those who ask it. */

export interface Answer {
  readonly status: number;
  readonly headers: IncomingMessage['headers'];
  readonly body: string;
}

export interface Asking {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
}

/** Asks a server on loopback; the path goes over as it is, as a browser would never send it. */
export function ask(
  port: number,
  path: string,
  { method = 'GET', headers = {} }: Asking = {},
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const sent = request({ host: '127.0.0.1', port, path, method, headers, agent: false }, (response) => {
      let body = '';
      response.setEncoding('utf8');
      response.on('data', (piece: string) => {
        body += piece;
      });
      response.on('end', () =>
        resolve({ status: response.statusCode ?? 0, headers: response.headers, body }),
      );
    });
    sent.on('error', reject);
    sent.end();
  });
}

/** Listens to a server's events: `next` waits for the one after those already taken. */
export function listen(port: number) {
  const states: string[] = [];
  const waiting: ((state: string) => void)[] = [];
  let taken = 0;
  const sent = get({ host: '127.0.0.1', port, path: '/__ribband/events', agent: false }, (response) => {
    response.setEncoding('utf8');
    response.on('data', (piece: string) => {
      for (const match of piece.matchAll(/^data: (.+)$/gm)) {
        states.push(match[1] as string);
        waiting.shift()?.(match[1] as string);
      }
    });
    response.on('error', () => undefined);
  });
  sent.on('error', () => undefined);
  const next = (): Promise<string> => {
    const known = states[taken];
    taken += 1;
    return known === undefined ? new Promise((resolve) => waiting.push(resolve)) : Promise.resolve(known);
  };
  return { next, close: () => sent.destroy() };
}

export interface Serving {
  readonly port: number;
  readonly told: () => string;
  readonly stop: () => Promise<{ code: number; out: string; err: string }>;
}

const running: Serving[] = [];

export async function serve(cwd: string, ...options: string[]): Promise<Serving> {
  let interrupt: () => void = () => undefined;
  const interrupted = new Promise<void>((resolve) => {
    interrupt = resolve;
  });
  let printed = '';
  let started: (port: number) => void = () => undefined;
  const port = new Promise<number>((resolve) => {
    started = resolve;
  });
  const ended = run(['serve', ...options], {
    cwd,
    interrupted: () => interrupted,
    onOut: (text) => {
      printed += text;
      started(Number(/^http:\/\/localhost:(\d+)\/\n$/.exec(printed)?.[1]));
    },
  });
  const bound = await Promise.race([port, ended.then((ran) => Promise.reject(new Error(ran.err)))]);
  const serving: Serving = {
    port: bound,
    told: () => printed,
    stop: () => {
      interrupt();
      return ended;
    },
  };
  running.push(serving);
  return serving;
}

export async function stopAll(): Promise<void> {
  await Promise.all(running.splice(0).map((serving) => serving.stop()));
}
