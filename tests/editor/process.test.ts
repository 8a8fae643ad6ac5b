import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { StreamMessageReader, StreamMessageWriter } from 'vscode-jsonrpc/node';
import {
  createProtocolConnection,
  ExitNotification,
  ShutdownRequest,
} from 'vscode-languageserver-protocol/node';
import { run } from '../cli/support.js';
import { demoBook, type Editor, greet, inRange, ROOT, TODAY } from './client.js';

const ENTRY = 'entries/2026/2026-11-19-try.md';
const TEXT =
  '---\ndate: 2026-11-19\ntitle: Try\nsystems: [house-dc]\nhours: [{ by: ovner, spent: 1 h }]\n---\n';

/** An address with nothing encoded but what has to be: some editors write them so. */
function barely(file: string): string {
  return `file://${file.replaceAll('%', '%25').replaceAll('#', '%23').replaceAll(' ', '%20')}`;
}

/** Starts the program as an editor does, and greets it. */
async function started(
  root: string,
): Promise<{ readonly at: Editor; readonly ended: Promise<number | null> }> {
  const args = ['--import', 'tsx', join(ROOT, 'src/cli/bin.ts'), 'language-server', '--stdio'];
  const child = spawn(process.execPath, args, {
    cwd: ROOT,
    env: { PATH: process.env['PATH'] ?? '', RIBBAND_TODAY: TODAY },
    stdio: ['pipe', 'pipe', 'inherit'],
  });
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  const connection = createProtocolConnection(
    new StreamMessageReader(child.stdout),
    new StreamMessageWriter(child.stdin),
  );
  return { at: await greet(root, connection, undefined, barely), ended };
}

describe('ribband language-server, run for real', () => {
  it('answers over standard input and output, in a folder with a name of any sort, and ends when told', async () => {
    const { at, ended } = await started(demoBook());
    at.open(ENTRY, TEXT);
    const [told] = await at.until(ENTRY, (all) => all.length > 0);
    expect(inRange(TEXT, told?.range as never)).toBe('ovner');
    expect(at.addresses().filter((address) => address.includes('try.md'))).toEqual([at.uri(ENTRY)]);
    expect(await at.define(ENTRY, '[house-‸dc]')).toHaveLength(1);
    await at.connection.sendRequest(ShutdownRequest.type);
    await at.connection.sendNotification(ExitNotification.type);
    expect(await ended).toBe(0);
  });

  it('says to a person at a terminal whom it talks to', async () => {
    const ran = await run(['language-server'], { cwd: demoBook(), terminal: true });
    expect(ran).toMatchObject({ code: 2, out: '' });
    expect(ran.err).toContain('talks to an editor, and not to a person');
  });
});
