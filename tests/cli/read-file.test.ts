import { execFile, execFileSync } from 'node:child_process';
import { readdirSync, readlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { readWholeFile } from '../../host/cli/read-file';
import { startProgram } from '../support/running-host';
import { scratchFolder } from '../store/scratch';

const pipeIn = async (): Promise<string> => {
  const pipe = join(await scratchFolder(), 'pipe');
  execFileSync('mkfifo', [pipe]);
  return pipe;
};
const GAUGE = 'resistance_ohm,reading\n300,50\n100,90\n22,120\n';

it('a table comes from a file and from a pipe alike, whoever is first at the pipe', async () => {
  const folder = await scratchFolder();
  const path = join(folder, 'table.csv');
  writeFileSync(path, GAUGE);
  expect(Buffer.from(await readWholeFile(path)).toString()).toBe(GAUGE);
  const pipe = await pipeIn();
  const read = readWholeFile(pipe);
  execFileSync('sh', ['-c', 'cat "$0" > "$1"', path, pipe]);
  expect(Buffer.from(await read).toString()).toBe(GAUGE);
  // Larger than a pipe holds at once.
  const large = Buffer.alloc(300_000, GAUGE);
  writeFileSync(path, large);
  const whole = readWholeFile(pipe);
  execFile('sh', ['-c', 'cat "$0" > "$1"', path, pipe]);
  expect(Buffer.compare(Buffer.from(await whole), large)).toBe(0);
});

it('a device and a folder are no tables', async () => {
  await expect(readWholeFile('/dev/null')).rejects.toMatchObject({ code: 'EDEVICE' });
  await expect(readWholeFile(await scratchFolder())).rejects.toMatchObject({ code: 'EISDIR' });
});

it.each(['SIGINT', 'SIGTERM'] as const)(
  'a program that waits at a pipe which nobody writes to ends at %s',
  async (signal) => {
    const program = startProgram(['curve', await pipeIn()]);
    onTestFinished(() => void program.child.kill('SIGKILL'));
    await expect.poll(() => isWaiting(program.child.pid)).toBe(true);
    program.child.kill(signal);
    expect(await program.ended).toBe(signal === 'SIGINT' ? 130 : 143);
  },
);

/** The program has the pipe open, as the system tells. */
const isWaiting = (pid: number | undefined): boolean =>
  readdirSync(`/proc/${pid}/fd`).some((file) => linkOf(`/proc/${pid}/fd/${file}`).endsWith('/pipe'));

const linkOf = (path: string): string => {
  try {
    return readlinkSync(path);
  } catch {
    // Closed since it was listed.
    return '';
  }
};
