import { strToU8, zipSync } from 'fflate';
import { existsSync, mkdtempSync, readFileSync, readdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeEach, describe, expect, it } from 'vitest';
import { jobFromZip } from '../../host/store/job-zip';
import { commandLine } from '../support/command-line';

const JOB = fileURLToPath(new URL('../record/fixtures/schema-1', import.meta.url));
const journal = readFileSync(join(JOB, 'job.ndjson'));

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'job-zip-'));
});

describe('a job as one zip', () => {
  it('comes back without the loss of a byte, and never over a job that is there', async () => {
    const file = join(folder, 'job.zip');
    expect((await commandLine(['job', 'export', JOB, file])).code).toBe(0);
    const back = join(folder, 'back');
    const files = { [file]: readFileSync(file) };
    expect((await commandLine(['job', 'import', file, back], files)).code).toBe(0);
    expect(readFileSync(join(back, 'job.ndjson')).equals(journal)).toBe(true);
    const again = await commandLine(['job', 'import', file, back], files);
    expect([again.code, again.err]).toEqual([2, expect.stringContaining('there already')]);
    expect(readdirSync(folder).sort()).toEqual(['back', 'job.zip']);
  });

  it('is the same file for the same job', async () => {
    const [one, other] = [join(folder, '1.zip'), join(folder, '2.zip')];
    await commandLine(['job', 'export', JOB, one]);
    await commandLine(['job', 'export', JOB, other]);
    expect(readFileSync(one).equals(readFileSync(other))).toBe(true);
  });
});

/** An archive in which one name stands twice: two of the same length, one renamed in the bytes. */
function withTwin(): Uint8Array {
  const bytes = zipSync({ 'job.ndjson': journal, 'job.ndjsoX': journal });
  for (let at = 0; at < bytes.length - 10; at += 1)
    if (Buffer.from(bytes.subarray(at, at + 10)).toString('latin1') === 'job.ndjsoX')
      bytes[at + 9] = 'n'.charCodeAt(0);
  return bytes;
}

describe('a zip that means harm, or is no job', () => {
  it.each([
    ['leads out of its folder', zipSync({ 'job.ndjson': journal, '../evil.txt': strToU8('x') })],
    ['has an absolute name', zipSync({ 'job.ndjson': journal, '/etc/evil': strToU8('x') })],
    ['has a name of another system', zipSync({ 'job.ndjson': journal, 'a\\..\\evil': strToU8('x') })],
    ['has a drive in a name', zipSync({ 'job.ndjson': journal, 'C:evil': strToU8('x') })],
    ['names a file twice', withTwin()],
    ['unpacks to a gigabyte', zipSync({ 'job.ndjson': new Uint8Array(300 * 2 ** 20) })],
    ['has no journal', zipSync({ 'readme.txt': strToU8('x') })],
    ['has a journal cut off', zipSync({ 'job.ndjson': journal.subarray(0, -20) })],
    [
      'has a wrong byte in its journal',
      zipSync({ 'job.ndjson': Buffer.from(journal.toString().replace('62.5', '62.6')) }),
    ],
    ['is no zip', strToU8('hello')],
  ])('is refused: one that %s', (_, bytes) => {
    expect(jobFromZip(bytes).kind).toBe('no-job-zip');
  });

  it('is taken when it is none of that', () => {
    expect(jobFromZip(zipSync({ 'job.ndjson': journal, 'notes/else.txt': strToU8('x') }))).toMatchObject({
      kind: 'job',
      jobId: 'harrow-six-0417',
    });
    expect(existsSync(join(dirname(folder), 'evil.txt'))).toBe(false);
  });
});
