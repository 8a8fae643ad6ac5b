import { readFileSync, renameSync, unlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { tempFolder } from '../folders.js';
import { flipped, makeKey } from '../seal/support.js';
import { BROKEN, book, put, run, TODAY } from './support.js';

describe('ribband changes', () => {
  it('tells in sentences and tables what changed, with the first and the last day', async () => {
    const { code, out } = await run(['changes', '--from', '2026-03-01', '--to', '2026-04-18'], {
      cwd: book(),
    });
    expect(code).toBe(0);
    expect(out).toMatch(/^What changed from 1 Mar 2026 to 18 Apr 2026\n/);
    expect(out).toContain('2 entries tell of 3.5 h of work.');
    expect(out).toContain('1480.00 EUR spent on parts.');
    expect(out).toContain('1 spec stands otherwise than before: 1 contradicted.');
    expect(out).toContain('  Bank capacity  [unverified]  [contradicted]  318 ± 6 Ah, measured 18 Apr 2026');
    expect(out).toContain('  Test the bank  18 Apr 2026');
  });

  it('leaves out what was done before, and is this year where nothing is said', async () => {
    const cwd = book();
    const late = await run(['changes', '--from', '2026-03-02'], { cwd });
    expect(late.out).toContain('1 entry tells of 3.5 h of work.');
    const year = await run(['changes'], { cwd });
    expect(year.out).toMatch(/^What changed from 1 Jan 2026 to 20 Apr 2026\n/);
    const none = await run(['changes', '--from', '2026-04-19'], { cwd });
    expect(none.out).toBe('What changed from 19 Apr 2026 to 20 Apr 2026\nNothing was entered.\n');
  });

  it('is one JSON document for other programs', async () => {
    const { out } = await run(['changes', '--as', 'json'], { cwd: book() });
    const document = JSON.parse(out) as Record<string, unknown>;
    expect(document).toMatchObject({
      version: 1,
      from: '2026-01-01',
      to: '2026-04-20',
      entries: ['2026-03-01-looked', '2026-04-18-capacity-test'],
      tests: [{ id: 'house-dc.capacity-test', from: null, to: 'undecided' }],
    });
  });

  it('says what is wrong with days, and tells nothing of a book with errors', async () => {
    const wrong = await run(['changes', '--from', '2026-05-01', '--to', '2026-04-01'], { cwd: book() });
    expect([wrong.code, wrong.err]).toEqual([2, expect.stringContaining('is after')]);
    const broken = await run(['changes'], { cwd: book(BROKEN) });
    expect([broken.code, broken.out]).toEqual([1, '']);
  });
});

const LOOKED = 'entries/2026/2026-03-01-looked.md';
const TESTED = 'entries/2026/2026-04-18-capacity-test.md';
const SEALED = '2026-03-10';
const SEAL = `seals/${SEALED}.json`;

const entry = (date: string, title: string, more = '') =>
  `---\ndate: ${date}\ntitle: ${title}\nsystems: [house-dc]\n${more}---\nSo it was.\n`;

/** A book that was sealed when it had its first entry, and another of the same month. */
async function sealedBook(...args: readonly string[]): Promise<string> {
  const cwd = book({ 'entries/2026/2026-03-08-round.md': entry('2026-03-08', 'Round') });
  const tested = readFileSync(join(cwd, TESTED), 'utf8');
  unlinkSync(join(cwd, TESTED));
  const ran = await run(['seal', ...args], { cwd, env: { RIBBAND_TODAY: SEALED } });
  expect(ran).toMatchObject({ code: 0, err: '' });
  put(cwd, { [TESTED]: tested });
  return cwd;
}

/** Lines of a part of the text, by its heading. */
function under(heading: string, out: string): readonly string[] {
  const [, part = ''] = out.split(`\n${heading}\n`);
  return (part.split('\n\n')[0] ?? '').trim().split('\n');
}

describe('ribband changes --from-seal', () => {
  it('tells what became of the book since, and that all that was sealed is there as it was', async () => {
    const cwd = await sealedBook();
    const { code, out } = await run(['changes', '--from-seal', SEAL], { cwd });
    expect(code).toBe(0);
    expect(out).toMatch(/^What changed since the seal of 10 Mar 2026\n/);
    expect(out).toContain(
      'Of the 2 entries under the seal, 2 are the same to the last bit, 0 altered after sealing, 0 no longer there.\n1 entry is new.\n',
    );
    expect(under('Entries since the seal', out)).toEqual([`Capacity test  18 Apr 2026  ${TESTED}`]);
    expect(out).toContain('  Bank capacity  [unverified]  [contradicted]  318 ± 6 Ah, measured 18 Apr 2026');
    expect(out).toContain('Here all that was sealed is still there as it was');
    expect(out).toContain('Not signed');
    expect(await run(['changes', '--from-seal', SEALED], { cwd })).toMatchObject({ code: 0, out });
  });

  it('names what was altered, taken out, renamed and put in with an earlier date', async () => {
    const cwd = await sealedBook();
    const looked = readFileSync(join(cwd, LOOKED), 'utf8');
    writeFileSync(join(cwd, LOOKED), looked.replace('Looked at it.', 'Looked again.'));
    renameSync(
      join(cwd, 'entries/2026/2026-03-08-round.md'),
      join(cwd, 'entries/2026/2026-03-08-march-round.md'),
    );
    put(cwd, {
      'entries/2026/2026-03-05-slipped-in.md': entry(
        '2026-03-05',
        'Slipped in',
        'measurements:\n  - house-dc.capacity: 390 ± 4 Ah\n',
      ),
      'systems/engine.md': '---\nsystem: engine\ntitle: Old engine\nmeters:\n  hours: { unit: h }\n---\n',
    });
    const { out } = await run(['changes', '--from-seal', SEAL], { cwd });
    expect(under('Entries altered after sealing', out)).toEqual([`Looked  1 Mar 2026  ${LOOKED}`]);
    expect(under('Entries dated before the seal and not under it', out)).toEqual([
      'Slipped in  5 Mar 2026  entries/2026/2026-03-05-slipped-in.md',
    ]);
    expect(under('Other files', out)).toEqual([
      'systems/engine.md  altered',
      '  entries/2026/2026-03-08-round.md  now entries/2026/2026-03-08-march-round.md',
    ]);
    expect(out).toContain(`What the 2 altered files said when they were sealed is not known`);
    expect(out).toContain('2 entries are new, 1 of them dated before the day of that seal.');
    // By its date the reading would have been there at the time of the seal; it was not.
    const bySeal = JSON.parse(
      (await run(['changes', '--from-seal', SEAL, '--as', 'json'], { cwd })).out,
    ) as Record<string, unknown>;
    expect(bySeal).toMatchObject({
      entries: ['2026-03-05-slipped-in', '2026-04-18-capacity-test'],
      standings: [{ id: 'house-dc.bank-capacity', from: 'unverified', to: 'contradicted' }],
      seals: {
        from: {
          file: `${SEALED}.json`,
          made: SEALED,
          notAsSealed: ['systems/engine.md', LOOKED],
          notThere: [],
        },
        to: null,
        entries: {
          altered: [{ path: LOOKED, date: '2026-03-01' }],
          gone: [],
          late: [{ path: 'entries/2026/2026-03-05-slipped-in.md', date: '2026-03-05' }],
        },
      },
    });
    const byDate = await run(['changes', '--from', '2026-03-11', '--as', 'json'], { cwd });
    expect(JSON.parse(byDate.out)).toMatchObject({
      entries: ['2026-04-18-capacity-test'],
      standings: [{ id: 'house-dc.bank-capacity', from: 'verified', to: 'contradicted' }],
    });
    unlinkSync(join(cwd, 'entries/2026/2026-03-08-march-round.md'));
    const gone = await run(['changes', '--from-seal', SEAL], { cwd });
    expect(under('Entries sealed and no longer there', gone.out)).toEqual([
      'entries/2026/2026-03-08-round.md  8 Mar 2026',
    ]);
    expect(gone.out).toContain('what entries/2026/2026-03-08-round.md said is in neither of them');
  });

  it('compares two seals, whatever came after the later one', async () => {
    const cwd = await sealedBook();
    await run(['seal'], { cwd });
    put(cwd, { 'entries/2026/2026-04-19-later.md': entry('2026-04-19', 'Later') });
    const { out } = await run(['changes', '--from-seal', SEALED, '--to-seal', TODAY], { cwd });
    expect(out).toMatch(/^What changed between the seals of 10 Mar 2026 and 20 Apr 2026\n/);
    expect(under('Entries since the seal', out)).toEqual([`Capacity test  18 Apr 2026  ${TESTED}`]);
    expect(out).not.toContain('Later');
    const same = await run(['changes', '--from-seal', TODAY, '--to-seal', TODAY], { cwd });
    expect(same.out).toContain('0 entries are new.');
    expect(same.out).toContain('Nothing was entered.');
  });

  it('takes a seal that was kept elsewhere, signed or not, and makes a page that leads nowhere', async () => {
    const cwd = await sealedBook('--key', makeKey(['ed25519']));
    const elsewhere = tempFolder();
    for (const end of ['', '.sig'])
      writeFileSync(join(elsewhere, `kept.json${end}`), readFileSync(join(cwd, SEAL + end)));
    unlinkSync(join(cwd, SEAL));
    const kept = join(elsewhere, 'kept.json');
    const { code, out, err } = await run(['changes', '--from-seal', kept, '--out', 'letter'], { cwd });
    expect([code, err]).toEqual([0, 'The page is in letter.\n']);
    expect(out).toMatch(/Signed with the key ssh-ed25519 SHA256:/);
    const page = readFileSync(join(cwd, 'letter/index.html'), 'utf8');
    expect(page).toContain('What this does not prove');
    expect(page.match(/<main[\s\S]*<\/main>/)?.[0]).not.toMatch(/<a [^>]*href="(?!#)/);
    const signature = readFileSync(`${kept}.sig`);
    writeFileSync(`${kept}.sig`, flipped(signature, 900));
    expect((await run(['changes', '--from-seal', kept], { cwd })).err).toContain(
      'The signature does not hold',
    );
    unlinkSync(`${kept}.sig`);
    expect((await run(['changes', '--from-seal', kept], { cwd })).err).toContain('is missing');
  });

  it('says in one line why it does not', async () => {
    const cwd = await sealedBook();
    await run(['seal'], { cwd });
    const refusal = async (...args: readonly string[]) => {
      const ran = await run(['changes', ...args], { cwd });
      expect([ran.code, ran.out, ran.err.split('\n').length]).toEqual([2, '', 2]);
      return ran.err;
    };
    expect(await refusal('--to-seal', SEAL)).toContain('needs the seal that is compared with');
    expect(await refusal('--from-seal', SEAL, '--to', TODAY)).toContain('does not go with a seal');
    expect(await refusal('--from-seal', TODAY, '--to-seal', SEALED)).toContain('after');
    expect(await refusal('--from-seal', 'seals/none.json')).toContain(`In the book there are ${SEAL}`);
    expect(await refusal('--from-seal', SEAL, '--for', 'surveyor')).toContain('A seal names all files');
    expect(await refusal('--from-seal', 'book.yaml')).toContain('is no whole seal');
    const other = book({
      'book.yaml': 'book: other\nsubject: { name: Another }\n',
      'systems/house-dc.md': '---\nsystem: house-dc\ntitle: Others\n---\n',
      'systems/engine.md': '---\nsystem: engine\ntitle: Another\n---\n',
    });
    for (const path of [LOOKED, TESTED]) unlinkSync(join(other, path));
    const ran = await run(['changes', '--from-seal', join(cwd, SEAL)], { cwd: other });
    expect([ran.code, ran.err]).toEqual([2, expect.stringContaining('it is the seal of another, of Wherry')]);
  });
});
