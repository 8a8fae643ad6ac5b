import { rmSync } from 'node:fs';
import { createServer } from 'node:http';
import { connect } from 'node:net';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { livePage } from '../../src/cli/serve/page.js';
import { judge, mediaType, readPath } from '../../src/cli/serve/request.js';
import { ask, listen, type Serving, serve, stopAll } from './serving.js';
import { BOOK, BROKEN, book, put, run } from './support.js';

afterAll(stopAll);

describe('who is answered', () => {
  const good = { method: 'GET', target: '/', headers: { host: 'localhost:8080' } };

  it.each(['localhost:8080', '127.0.0.1:8080', '[::1]:8080', 'LOCALHOST:8080'])('the host %s is', (host) => {
    expect(judge({ ...good, headers: { host } }, 8080)).toMatchObject({ ok: true, path: 'index.html' });
  });

  it.each([
    undefined,
    '',
    'localhost',
    'localhost:80',
    'example.org:8080',
    'localhost:8080.example.org',
    'localhost.:8080',
    '127.0.0.1.example.org:8080',
    '0.0.0.0:8080',
  ])('the host %s is not', (host) => {
    const headers = host === undefined ? {} : { host };
    expect(judge({ ...good, headers }, 8080)).toMatchObject({ ok: false, status: 403 });
  });

  it.each([
    ['192.168.1.20', '192.168.1.20:8080', true],
    ['192.168.1.20', 'localhost:8080', false],
    ['192.168.1.20', '192.168.1.21:8080', false],
    ['fe80::1', '[fe80::1]:8080', true],
  ])('on the address %s the host %s: %s', (address, host, isAnswered) => {
    expect(judge({ ...good, headers: { host } }, 8080, address).ok).toBe(isAnswered);
  });

  it.each(['example.org', '0.0.0.0', '::', '192.168.1', ''])('--host %j is no address', async (host) => {
    const ran = await run(['serve', `--host=${host}`], { cwd: book() });
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(/one address of this machine|needs a value/);
  });

  it('--host with an address that this machine does not have is refused', async () => {
    const ran = await run(['serve', '--host', '192.0.2.1', '--port', '0'], { cwd: book() });
    expect([ran.code, ran.err]).toEqual([
      2,
      'ribband: This machine has no address 192.0.2.1. Give one that it has in your network.\n',
    ]);
  });

  it.each(['http://localhost:8080', 'http://127.0.0.1:8080'])('a page of %s is', (origin) => {
    expect(judge({ ...good, headers: { ...good.headers, origin } }, 8080)).toMatchObject({ ok: true });
  });

  it.each(['http://example.org', 'https://localhost:8080', 'http://localhost:8081', 'null', ''])(
    'a page of %j is not',
    (origin) => {
      expect(judge({ ...good, headers: { ...good.headers, origin } }, 8080)).toMatchObject({
        ok: false,
        status: 403,
      });
    },
  );

  it('a link from elsewhere is followed, but nothing is loaded into a page from elsewhere', () => {
    const from = (mode: string, dest: string, site = 'cross-site') =>
      judge(
        {
          ...good,
          headers: {
            ...good.headers,
            'sec-fetch-site': site,
            'sec-fetch-mode': mode,
            'sec-fetch-dest': dest,
          },
        },
        8080,
      ).ok;
    expect(from('navigate', 'document')).toBe(true);
    expect(from('navigate', 'iframe')).toBe(false);
    expect(from('no-cors', 'script')).toBe(false);
    expect(from('no-cors', 'script', 'same-site')).toBe(false);
    expect(from('no-cors', 'script', 'same-origin')).toBe(true);
    expect(from('navigate', 'document', 'none')).toBe(true);
  });

  it.each(['POST', 'PUT', 'DELETE', 'OPTIONS', 'CONNECT', 'get'])('%s is not', (method) => {
    expect(judge({ ...good, method }, 8080)).toMatchObject({ ok: false, status: 405 });
  });
});

describe('paths', () => {
  it.each([
    ['/', 'index.html'],
    ['/systems/', 'systems/index.html'],
    ['/systems/house-dc.html', 'systems/house-dc.html'],
    ['/readings/?q=a/../b#x', 'readings/index.html'],
    ['/photos/b%C3%BCro%20klein.jpg', 'photos/büro klein.jpg'],
    ['/...', '...'],
  ])('%s is %s', (target, path) => {
    expect(readPath(target)).toBe(path);
  });

  it.each([
    '',
    '*',
    'index.html',
    'http://localhost:8080/',
    '//example.org/',
    '/../book.yaml',
    '/entries/../../book.yaml',
    '/%2e%2e/book.yaml',
    '/.%2E/book.yaml',
    '/entries/./x.html',
    '/..%2fbook.yaml',
    '/..%5cbook.yaml',
    '/..\\book.yaml',
    '/%00',
    '/x%00.html',
    '/%0a',
    '/%',
    '/%zz',
    '/%c0%ae%c0%ae/book.yaml',
    '/entries//x.html',
  ])('%j is no path', (target) => {
    expect(readPath(target)).toBeNull();
  });

  it('have types by their endings, and an unknown one is only bytes', () => {
    expect(mediaType('a/b.HTML')).toBe('text/html; charset=utf-8');
    expect(mediaType('a.js')).toBe('text/javascript; charset=utf-8');
    expect(mediaType('a.woff2')).toBe('font/woff2');
    expect(mediaType('a.exe')).toBe('application/octet-stream');
    expect(mediaType('constructor')).toBe('application/octet-stream');
  });
});

describe('a page while somebody writes', () => {
  const html = `<!doctype html><html><head>
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'self'">
</head>
<body class="x">
<p>$& $1</p>
</body>
</html>
`;

  it('listens to the server, and is let to', () => {
    expect(
      livePage(html, { diagnostics: [], state: 'a-1', hasPages: true }),
    ).toBe(`<!doctype html><html><head>
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'self'; connect-src 'self'">
<link rel="stylesheet" href="/__ribband/live.css">
</head>
<body class="x">
<p>$& $1</p>
<script src="/__ribband/live.js" data-state="a-1"></script>
</body>
</html>
`);
  });

  it('shows problems with the stretch marked, and whatever they quote as text', () => {
    const diagnostic = {
      code: 'unknown-unit',
      severity: 'error',
      file: 'entries/<b>.md',
      span: { offset: 0, length: 3, line: 6, column: 3, endLine: 6, endColumn: 6 },
      excerpt: 'a <b> & c',
      message: '<script>alert(1)</script>',
      hint: 'Write `V`.',
      fix: { title: 'Write `V`', edits: [] },
    } as const;
    const shown = livePage(html, { diagnostics: [diagnostic], state: 'a-1', hasPages: true });
    expect(shown).toContain(
      '<summary>1 error in the book. The pages are those of the last time all was well.',
    );
    expect(shown).toContain('entries/&#60;b&#62;.md:6:3 <code>error unknown-unit</code>');
    expect(shown).toContain('<pre>a <mark>&#60;b&#62;</mark> &#38; c</pre>');
    expect(shown).toContain('&#60;script&#62;alert(1)&#60;/script&#62;');
    expect(shown).toContain('<p>Hint: Write <code>V</code>.</p>');
    expect(shown).toContain('<p><code>ribband check --fix</code>: Write <code>V</code>.</p>');
    const without = livePage(html, { diagnostics: [diagnostic], state: 'a-1', hasPages: false });
    expect(without).toContain('<summary>1 error in the book.</summary>');
    expect(shown).not.toContain('<script>alert');
  });
});

describe('ribband serve', () => {
  let serving: Serving;
  const root = book();

  beforeAll(async () => {
    serving = await serve(root, '--port', '0');
  });

  const host = () => ({ host: `localhost:${serving.port}` });

  it('shows the site, with nothing kept by the browser and nothing to guess at', async () => {
    const page = await ask(serving.port, '/', { headers: host() });
    expect(page.status).toBe(200);
    expect(page.headers).toMatchObject({
      'content-type': 'text/html; charset=utf-8',
      'cache-control': 'no-store',
      'x-content-type-options': 'nosniff',
      'cross-origin-resource-policy': 'same-origin',
    });
    expect(page.body).toContain('Wherry');
    expect(page.body).toContain('<script src="/__ribband/live.js"');
    const style = /href="([^"]+\.css)"/.exec(page.body)?.[1] ?? '';
    const sheet = await ask(serving.port, `/${style}`, { headers: host() });
    expect([sheet.status, sheet.headers['content-type']]).toEqual([200, 'text/css; charset=utf-8']);
  });

  it('answers HEAD with the same headers and no body', async () => {
    const whole = await ask(serving.port, '/', { headers: host() });
    const head = await ask(serving.port, '/', { method: 'HEAD', headers: host() });
    expect([head.status, head.body]).toEqual([200, '']);
    expect(head.headers['content-length']).toBe(whole.headers['content-length']);
  });

  it('leads a folder without its slash to the page of the folder', async () => {
    const answer = await ask(serving.port, '/systems', { headers: host() });
    expect([answer.status, answer.headers.location]).toEqual([302, '/systems/']);
    expect((await ask(serving.port, '/systems/', { headers: host() })).status).toBe(200);
  });

  it.each([
    ['/nowhere.html', 404],
    ['/book.yaml', 404],
    ['/entries/', 404],
    ['/entries/2026/2026-03-01-looked.md', 404],
    ['/.ribband/parsed.json', 404],
    ['/../book.yaml', 400],
    ['/%2e%2e/book.yaml', 400],
    ['/..%2fbook.yaml', 400],
    ['/..%5c..%5cetc', 400],
    ['/x%00', 400],
    ['//etc/passwd', 400],
    ['/%', 400],
  ])('answers %s with %i, and with nothing of the files themselves', async (path, status) => {
    const answer = await ask(serving.port, path, { headers: host() });
    expect(answer.status).toBe(status);
    expect(answer.body).not.toContain('subject:');
    expect(answer.body).not.toContain('root:');
  });

  it('turns away strangers', async () => {
    const other = await ask(serving.port, '/', { headers: { host: 'example.org' } });
    expect([other.status, other.body]).toEqual([403, `Only localhost:${serving.port} is answered for.\n`]);
    const page = await ask(serving.port, '/', { headers: { ...host(), origin: 'http://example.org' } });
    expect(page.status).toBe(403);
    expect(page.headers['access-control-allow-origin']).toBeUndefined();
    const posted = await ask(serving.port, '/', { method: 'POST', headers: host() });
    expect([posted.status, posted.headers.allow]).toEqual([405, 'GET, HEAD']);
  });

  it('lives through garbage on the line', async () => {
    await new Promise<void>((resolve) => {
      const socket = connect(serving.port, '127.0.0.1', () => socket.write('\u0000\u0001 nonsense\r\n\r\n'));
      socket.on('close', () => resolve());
      socket.on('error', () => undefined);
      socket.resume();
    });
    expect((await ask(serving.port, '/', { headers: host() })).status).toBe(200);
  });

  it('is reached from this machine alone', async () => {
    const { networkInterfaces } = await import('node:os');
    const outside = Object.values(networkInterfaces())
      .flatMap((addresses) => addresses ?? [])
      .filter((address) => !address.internal && address.family === 'IPv4');
    for (const { address } of outside) {
      const reached = await new Promise((resolve) => {
        const socket = connect(serving.port, address, () => resolve(true));
        socket.on('error', () => resolve(false));
      });
      expect(reached).toBe(false);
    }
  });
});

describe('ribband serve, while files are saved', () => {
  afterEach(stopAll);

  it('loads pages again after a save, shows a problem over the last good page, and recovers', async () => {
    const root = book();
    const serving = await serve(root, '--port', '0');
    const headers = { host: `localhost:${serving.port}` };
    const page = async (path: string) => ask(serving.port, path, { headers });
    const looked = 'entries/2026/2026-03-01-looked.md';
    const events = listen(serving.port);
    const first = await events.next();
    expect((await page('/')).body).toContain(`data-state="${first}"`);

    put(root, { [looked]: (BOOK[looked] as string).replace('title: Looked', 'title: Looked twice') });
    const second = await events.next();
    expect(second).not.toBe(first);
    const entry = await page('/entries/2026-03-01-looked.html');
    expect(entry.body).toContain('Looked twice');
    expect(entry.body).toContain(`data-state="${second}"`);

    put(root, BROKEN);
    await events.next();
    const broken = await page('/entries/2026-03-01-looked.html');
    expect(broken.status).toBe(200);
    expect(broken.body).toContain('Looked twice');
    expect(broken.body).toContain('entries/2026/2026-04-19-broken.md:6:33 <code>error unknown-unit</code>');
    expect(broken.body).toContain('<mark>Vlt</mark>');

    rmSync(join(root, 'entries/2026/2026-04-19-broken.md'));
    await events.next();
    const mended = await page('/entries/2026-03-01-looked.html');
    expect(mended.body).not.toContain('unknown-unit');
    expect(mended.body).toContain('<summary>1 warning in the book.</summary>');
    events.close();

    const { code, err } = await serving.stop();
    expect(code).toBe(0);
    const told = err.split('\n').filter((line) => line.endsWith('.') && line.includes('in the book'));
    expect(told).toEqual([
      '1 warning in the book; `ribband check` tells more.',
      '1 error in the book.',
      '1 warning in the book; `ribband check` tells more.',
    ]);
  });

  it('shows what is added, renamed and taken away on every page that tells of it', async () => {
    const root = book();
    const serving = await serve(root, '--port', '0');
    const headers = { host: `localhost:${serving.port}` };
    const body = async (path: string) => (await ask(serving.port, path, { headers })).body;
    const events = listen(serving.port);
    await events.next();
    const text = '---\ndate: 2026-04-19\ntitle: Something new\nsystems: [engine]\n---\nIt ran.\n';
    const pages = ['/index.html', '/log/2026.html', '/systems/engine.html'];

    put(root, { 'entries/2026/2026-04-19-something.md': text });
    await events.next();
    for (const path of pages) expect(await body(path), path).toContain('2026-04-19-something');

    put(root, { 'entries/2026/2026-04-19-renamed.md': text });
    rmSync(join(root, 'entries/2026/2026-04-19-something.md'));
    await expect
      .poll(async () => (await body('/log/2026.html')).includes('2026-04-19-something'), { timeout: 5000 })
      .toBe(false);
    for (const path of pages) expect(await body(path), path).toContain('2026-04-19-renamed');

    rmSync(join(root, 'entries/2026/2026-04-19-renamed.md'));
    await expect
      .poll(async () => (await body('/log/2026.html')).includes('2026-04-19-renamed'), { timeout: 5000 })
      .toBe(false);
    for (const path of pages) expect(await body(path), path).not.toContain('2026-04-19-renamed');
    expect((await ask(serving.port, '/entries/2026-04-19-renamed.html', { headers })).status).toBe(404);
    events.close();
  });

  it('shows a plain page where there has been no good one yet, and the site once there is', async () => {
    const root = book({ 'book.yaml': 'book: [\n' });
    const serving = await serve(root, '--port', '0');
    const headers = { host: `localhost:${serving.port}` };
    const events = listen(serving.port);
    await events.next();
    const before = await ask(serving.port, '/', { headers });
    expect(before.status).toBe(503);
    expect(before.body).toContain('<h1>No page yet</h1>');
    expect(before.body).toMatch(/book\.yaml:\d+:\d+ <code>error yaml-syntax/);
    put(root, { 'book.yaml': BOOK['book.yaml'] as string });
    await events.next();
    const after = await ask(serving.port, '/', { headers });
    expect(after.status).toBe(200);
    expect(after.body).toContain('Wherry');
    events.close();
  });
});

describe('ports', () => {
  afterEach(stopAll);

  it('a port that is asked for and in use is a plain error', async () => {
    const other = createServer();
    const port = await new Promise<number>((resolve) => {
      other.listen(0, '127.0.0.1', () => resolve((other.address() as { port: number }).port));
    });
    const ran = await run(['serve', '--port', String(port)], { cwd: book() });
    other.close();
    expect(ran).toMatchObject({
      code: 2,
      out: '',
      err: `ribband: Port ${port} is in use. Give another, or leave \`--port\` out for the first free one.\n`,
    });
  });

  it('with none asked for, the first free one is taken', async () => {
    const first = await serve(book());
    const second = await serve(book());
    expect(first.port).toBeGreaterThanOrEqual(8080);
    expect(second.port).toBeGreaterThan(first.port);
  });
});
