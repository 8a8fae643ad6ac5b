import { execFileSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  unlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { flipped, makeKey } from '../seal/support.js';
import { BROKEN, book, put, type Ran, run, TODAY } from './support.js';

const LOOKED = 'entries/2026/2026-03-01-looked.md';
const TESTED = 'entries/2026/2026-04-18-capacity-test.md';
const SEAL = `seals/${TODAY}.json`;

const seal = (cwd: string, ...args: readonly string[]) => run(['seal', ...args], { cwd });
const check = (cwd: string, ...args: readonly string[]) => seal(cwd, '--check', ...args);

async function sealedBook(...args: readonly string[]): Promise<string> {
  const cwd = book({ 'series/bank.csv': 'time,value\n', 'photos/label.jpg': 'bytes of a picture' });
  expect(await seal(cwd, ...args)).toMatchObject({ code: 0, err: '' });
  return cwd;
}

/** The lines that say what differs. */
const told = ({ out }: Ran) =>
  out.split('\n').filter((line) => /^ {2}(?:removed|changed|renamed|added|unread) /.test(line));

describe('ribband seal', () => {
  it('seals every file of the book and nothing else', async () => {
    const cwd = await sealedBook();
    const sealed = JSON.parse(readFileSync(join(cwd, SEAL), 'utf8')) as {
      files: { path: string }[];
      entries: { path: string }[];
    };
    const paths = [...sealed.files, ...sealed.entries].map(({ path }) => path);
    expect(paths).toEqual([
      ...['book.yaml', 'photos/label.jpg', 'series/bank.csv', 'systems/engine.md', 'systems/house-dc.md'],
      ...[LOOKED, TESTED],
    ]);
    for (const { path, sha256 } of [...sealed.files, ...sealed.entries] as { path: string; sha256: string }[])
      expect(execFileSync('sha256sum', [path], { cwd, encoding: 'utf8' })).toMatch(sha256);
  });

  it('prints its hash in groups, the one that sha256sum gives of it', async () => {
    const cwd = book();
    const { out } = await seal(cwd);
    const printed = out
      .match(/^ {2}((?:[0-9a-f]{4} ?){8})$/gm)
      ?.join('')
      .replaceAll(/\s/g, '');
    expect(execFileSync('sha256sum', [SEAL], { cwd, encoding: 'utf8' })).toMatch(
      printed ?? 'nothing printed',
    );
    expect(await check(cwd, '--hash', printed ?? '')).toMatchObject({ code: 0 });
    const other = await check(cwd, '--hash', 'ab'.repeat(32));
    expect([other.code, other.out]).toEqual([1, expect.stringContaining('it is another seal')]);
    expect((await check(cwd, '--hash', 'abcd')).err).toMatch(
      /^ribband: `--hash` is the hash of a seal, or at least/,
    );
  });

  it('makes no second one of the same, never overwrites, and has each name the one before', async () => {
    const cwd = await sealedBook();
    const first = readFileSync(join(cwd, SEAL), 'utf8');
    expect((await seal(cwd)).out).toMatch(
      /^Nothing has changed since seals\/2026-04-20\.json was made today\./,
    );
    put(cwd, {
      'systems/engine.md': '---\nsystem: engine\ntitle: Engine\nmeters:\n  hours: { unit: h }\n---\nMore.\n',
    });
    expect((await seal(cwd)).out).toContain('seals/2026-04-20-2.json');
    await run(['seal'], { cwd, env: { RIBBAND_TODAY: '2027-04-20' } });
    expect(readdirSync(join(cwd, 'seals')).sort()).toEqual([
      '2026-04-20-2.json',
      '2026-04-20.json',
      '2027-04-20.json',
    ]);
    expect(readFileSync(join(cwd, SEAL), 'utf8')).toBe(first);
    const all = await check(cwd);
    expect(all).toMatchObject({ code: 0 });
    expect(all.out).toContain(
      'The seals before it, from seals/2026-04-20-2.json back, are whole and in line.',
    );
    expect(await run(['check'], { cwd })).toMatchObject({ err: '', code: 0 });
    writeFileSync(join(cwd, SEAL), flipped(Buffer.from(first), 5000));
    const broken = await check(cwd);
    expect([broken.code, broken.out]).toEqual([
      1,
      expect.stringContaining('Seal before, seals/2026-04-20.json:'),
    ]);
    unlinkSync(join(cwd, SEAL));
    expect((await check(cwd)).out).toContain('Seal before, seals/2026-04-20.json: it is not there.');
  });

  it('is for a book that is in order', async () => {
    const cwd = book(BROKEN);
    const ran = await seal(cwd);
    expect([ran.code, ran.out]).toEqual([1, '']);
    expect(ran.err).toContain('Nothing was sealed: a seal is for a book that is in order.');
    expect(existsSync(join(cwd, 'seals'))).toBe(false);
  });

  it('says in one line why it does not', async () => {
    const cwd = await sealedBook();
    const refusal = async (...args: readonly string[]) => {
      const ran = await seal(cwd, ...args);
      expect([ran.code, ran.err.split('\n').length]).toEqual([2, 2]);
      return ran.err;
    };
    expect(await refusal('--key', 'nowhere')).toBe('ribband: There is no key `nowhere` that can be read.\n');
    expect(await refusal('--check', '--key', 'x')).toMatch('`--key` does not go with `ribband seal --check`');
    expect(await refusal('--signer', 'x')).toMatch('goes with `ribband seal --check`');
    expect(await refusal('--check', '--seal', 'seals/none.json')).toMatch(`In the book there are ${SEAL}.`);
    expect(await refusal('--check', '--signer', 'book.yaml')).toMatch(
      'There is no public key in `book.yaml`',
    );
    expect(await refusal('--check', '--later-than', 'soon')).toMatch('is a number of days');
    writeFileSync(join(cwd, SEAL), readFileSync(join(cwd, SEAL)).subarray(0, 300));
    expect(await refusal()).toMatch(
      'is no whole seal: it breaks off before its end. Put it back from a copy',
    );
    expect((await check(cwd)).out).toBe(`${SEAL} is no whole seal: it breaks off before its end.\n`);
    renameSync(join(cwd, SEAL), join(cwd, 'seals/2031-01-01.json'));
    expect((await check(book())).err).toBe(
      'ribband: There is no seal in this book. `ribband seal` makes one.\n',
    );
  });

  it('writes nothing outside the book, and over nothing', async () => {
    const cwd = book();
    const elsewhere = book();
    symlinkSync(elsewhere, join(cwd, 'seals'));
    expect((await seal(cwd)).err).toBe(
      'ribband: `seals` in the book is a link; the seal would lie outside of it. Make it a folder.\n',
    );
    expect(existsSync(join(elsewhere, '2026-04-20.json'))).toBe(false);
    unlinkSync(join(cwd, 'seals'));
    mkdirSync(join(cwd, SEAL), { recursive: true });
    expect((await seal(cwd)).err).toMatch(
      /^ribband: Something else has the name `seals\/2026-04-20\.json`\./,
    );
  });

  it('refuses to follow one of a day that is still to come', async () => {
    const cwd = book();
    await run(['seal'], { cwd, env: { RIBBAND_TODAY: '2031-01-01' } });
    expect((await seal(cwd)).err).toMatch('is of a day that is still to come');
  });
});

describe('ribband seal --check', () => {
  it('says that nothing differs, what that proves and what it does not', async () => {
    const { code, out } = await check(await sealedBook());
    expect(code).toBe(0);
    expect(out).toContain('Nothing differs: every file is, to the last bit, as it was sealed.');
    expect(out).toContain('What it does not prove:\n  That what was written was true');
    expect(out).toContain('Not signed');
  });

  it('names every file that was changed, removed, renamed, added or put at another date', async () => {
    const cwd = await sealedBook();
    const text = readFileSync(join(cwd, TESTED), 'utf8');
    writeFileSync(
      join(cwd, TESTED),
      text.replace('318 ± 6 Ah', '398 ± 6 Ah').replace('2026-04-18', '2026-02-18'),
    );
    renameSync(join(cwd, 'photos/label.jpg'), join(cwd, 'photos/other.jpg'));
    unlinkSync(join(cwd, 'systems/engine.md'));
    unlinkSync(join(cwd, 'series/bank.csv'));
    symlinkSync('/etc/hostname', join(cwd, 'series/bank.csv'));
    put(cwd, {
      'entries/2026/2026-03-20-since.md': '---\ndate: 2026-03-20\ntitle: Since\nsystems: [house-dc]\n---\n',
    });
    const ran = await check(cwd);
    expect(ran.code).toBe(1);
    expect(told(ran)).toEqual([
      '  removed  series/bank.csv',
      '  removed  systems/engine.md',
      `  changed  ${TESTED}, moved in the chain from 2026-04-18 to 2026-02-18`,
      '  renamed  photos/label.jpg is now photos/other.jpg',
      '  added    entries/2026/2026-03-20-since.md, dated 2026-03-20, among entries that were sealed',
      '  unread   series/bank.csv: it is a link, which is not followed',
    ]);
  });

  it('holds a book against a seal that was kept elsewhere', async () => {
    const cwd = await sealedBook();
    const elsewhere = join(book(), 'kept.json');
    writeFileSync(elsewhere, readFileSync(join(cwd, SEAL)));
    rmSync(join(cwd, 'seals'), { recursive: true });
    put(cwd, {
      'systems/engine.md': '---\nsystem: engine\ntitle: Another engine\nmeters:\n  hours: { unit: h }\n---\n',
    });
    await seal(cwd);
    expect(await check(cwd)).toMatchObject({ code: 0 });
    const ran = await check(cwd, '--seal', elsewhere);
    expect([ran.code, told(ran)]).toEqual([1, ['  changed  systems/engine.md']]);
  });

  it('tells good signatures from missing and bad ones, and whose they are', async () => {
    const key = makeKey(['ed25519']);
    const cwd = await sealedBook('--key', key);
    const signature = join(cwd, `${SEAL}.sig`);
    const good = readFileSync(signature);
    expect(await check(cwd, '--signer', `${key}.pub`)).toMatchObject({ code: 0 });
    expect((await check(cwd)).out).toMatch(/Signed with the key ssh-ed25519 SHA256:\S+\. Whose key that is/);
    const stranger = `${makeKey(['ed25519'])}.pub`;
    const other = await check(cwd, '--signer', stranger);
    expect([other.code, other.out]).toEqual([1, expect.stringContaining('none of those that you named')]);
    writeFileSync(signature, flipped(good, 900));
    const bad = await check(cwd);
    expect([bad.code, bad.out]).toEqual([1, expect.stringContaining('The signature does not hold:')]);
    unlinkSync(signature);
    const missing = await check(cwd);
    expect([missing.code, missing.out]).toEqual([
      1,
      expect.stringMatching(/The signature by the key SHA256:\S+ is missing/),
    ]);
    const unsigned = await check(await sealedBook(), '--signer', stranger);
    expect(unsigned.code).toBe(1);
  });

  it('tells by git how long after its date each entry was written down', async () => {
    const cwd = await sealedBook();
    const git = (...args: readonly string[]) =>
      execFileSync('git', ['-c', 'user.name=x', '-c', 'user.email=x@example.org', ...args], {
        cwd,
        env: { ...process.env, GIT_COMMITTER_DATE: '2026-04-20T12:00:00Z' },
        stdio: 'ignore',
      });
    git('init', '-q');
    git('add', '-A', '-f', '.');
    git('commit', '-q', '-m', 'all');
    const { out } = await check(cwd);
    expect(out).toContain(
      'by git: 2 of 2 entries committed; half of them within 50 days of their date, the last after 50.',
    );
    expect(out).toContain(`Later than 14 days, 1:\n  ${LOOKED}: 50 days`);
    expect((await check(cwd, '--later-than', '60')).out).not.toContain('Later than');
  });

  it('lets no name of a file move about on the terminal', async () => {
    const cwd = await sealedBook();
    mkdirSync(join(cwd, 'photos/x'), { recursive: true });
    writeFileSync(join(cwd, 'photos/x/\u001b[2Jgone.jpg'), 'x');
    expect((await check(cwd)).out).not.toContain('\u001b');
  });

  it('finds any bit that is turned, in any file, in the seal and in its signature', async () => {
    const key = makeKey(['ed25519']);
    const cwd = await sealedBook('--key', key);
    const paths = ['book.yaml', 'systems/engine.md', LOOKED, TESTED, 'series/bank.csv', 'photos/label.jpg'];
    await fc.assert(
      fc.asyncProperty(fc.constantFrom(...paths, SEAL, `${SEAL}.sig`), fc.nat(), async (path, at) => {
        const file = join(cwd, path);
        const whole = readFileSync(file);
        writeFileSync(file, flipped(whole, at % (whole.length * 8)));
        const ran = await check(cwd);
        writeFileSync(file, whole);
        expect(ran.code, path).toBe(1);
        if (paths.includes(path)) expect(told(ran)[0]).toContain(`changed  ${path}`);
        else expect(ran.out).toMatch(/is no whole seal|The signature does not hold/);
      }),
      { numRuns: 150 },
    );
    expect(await check(cwd)).toMatchObject({ code: 0 });
  });
});

describe('ribband seal --since', () => {
  it('tells what came, went and was changed between two seals', async () => {
    const cwd = await sealedBook();
    unlinkSync(join(cwd, 'series/bank.csv'));
    put(cwd, {
      'entries/2026/2026-04-19-more.md': '---\ndate: 2026-04-19\ntitle: More\nsystems: [engine]\n---\n',
    });
    await run(['seal'], { cwd, env: { RIBBAND_TODAY: '2027-04-20' } });
    const ran = await seal(cwd, '--since', SEAL);
    expect(ran).toMatchObject({ code: 0, err: '' });
    expect(ran.out).toBe(
      `Between ${SEAL} (${TODAY}) and seals/2027-04-20.json (2027-04-20):\n  removed  series/bank.csv\n  added    entries/2026/2026-04-19-more.md\n`,
    );
    expect((await seal(cwd, '--since', SEAL, '--seal', SEAL)).out).toMatch(/^Nothing differs between/);
    writeFileSync(join(cwd, SEAL), '{}');
    expect(await seal(cwd, '--since', SEAL)).toMatchObject({ code: 1 });
  });
});
