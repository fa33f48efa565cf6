import { strToU8, unzipSync, zipSync } from 'fflate';
import { createHash } from 'node:crypto';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  readdirSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { crc32 } from 'node:zlib';
import { beforeEach, describe, expect, it } from 'vitest';
import { jobFromZip } from '../../host/store/job-zip';
import { jpeg, telephoneJpeg } from '../support/pictures';
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

/** The job with a photograph beside it, as a host keeps one. */
function photographed(
  picture: Uint8Array,
  file = 'photograph-f99.jpg',
): { readonly journal: Buffer; readonly folder: string } {
  const place = join(folder, 'photographed');
  mkdirSync(place);
  const n = journal.toString().trimEnd().split('\n').length + 1;
  const body = { n, at: '2026-05-13T09:00:00.000Z', by: 'desk', kind: 'photograph-added' };
  const entry = { ...body, photographId: 'f99', file, sha256: sha256(picture), of: 'as-found' };
  const open = JSON.stringify(entry).slice(0, -1);
  const whole = Buffer.concat([
    journal,
    Buffer.from(`${open},"crc":"${crc32(open).toString(16).padStart(8, '0')}"}\n`),
  ]);
  writeFileSync(join(place, 'job.ndjson'), whole);
  writeFileSync(join(place, 'photograph-f99.jpg'), picture);
  return { journal: whole, folder: place };
}
const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

describe('a job with a photograph', () => {
  it('takes it along in the zip and in the record, and back byte for byte', async () => {
    const picture = jpeg();
    const job = photographed(picture);
    const file = join(folder, 'job.zip');
    expect((await commandLine(['job', 'export', job.folder, file])).code).toBe(0);
    const packed = unzipSync(readFileSync(file));
    expect(Buffer.from(packed['photographs/photograph-f99.jpg'] ?? []).equals(picture)).toBe(true);
    // A JPEG lies in a PDF file as it is. Source: ISO 32000-1, 7.4.8, DCTDecode.
    expect(Buffer.from(packed['record.pdf'] ?? []).includes(picture.subarray(2))).toBe(true);
    const back = join(folder, 'back');
    expect((await commandLine(['job', 'import', file, back], { [file]: readFileSync(file) })).code).toBe(0);
    expect(readFileSync(join(back, 'photograph-f99.jpg')).equals(picture)).toBe(true);
  });

  it('is not packed without it, nor taken with another one, nor with what a camera wrote', async () => {
    const picture = jpeg();
    const job = photographed(picture);
    const zip = (bytes: Uint8Array) =>
      jobFromZip(zipSync({ 'job.ndjson': job.journal, 'photographs/photograph-f99.jpg': bytes }));
    expect((await zip(picture)).kind).toBe('job');
    expect((await zip(jpeg({ widthPixel: 200 }))).kind).toBe('no-job-zip');
    rmSync(join(job.folder, 'photograph-f99.jpg'));
    const unpacked = await commandLine(['job', 'export', job.folder, join(folder, 'job.zip')]);
    expect([unpacked.code, unpacked.err]).toEqual([2, expect.stringContaining('photograph-f99.jpg')]);
    rmSync(job.folder, { recursive: true });
    const told = photographed(telephoneJpeg());
    const camera = { 'job.ndjson': told.journal, 'photographs/photograph-f99.jpg': telephoneJpeg() };
    const refused = await jobFromZip(zipSync(camera));
    expect(refused.kind === 'no-job-zip' && refused.why).toContain('camera');
  });

  it.each(['../../evil.jpg', '/etc/evil.jpg', 'job.ndjson', '..', 'a/b.jpg', 'C:evil.jpg'])(
    'is not taken where its journal names a file that leads elsewhere: %s',
    async (file) => {
      const job = photographed(jpeg(), file);
      const zip = zipSync({ 'job.ndjson': job.journal, 'photographs/evil.jpg': jpeg() });
      expect((await jobFromZip(zip)).kind).toBe('no-job-zip');
    },
  );
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
  ])('is refused: one that %s', async (_, bytes) => {
    expect((await jobFromZip(bytes)).kind).toBe('no-job-zip');
  });

  it('is refused wherever it breaks off, and a wrong byte is never taken for another job', async () => {
    const whole = zipSync({ 'job.ndjson': journal });
    const length = whole.length;
    for (let cut = 0; cut < length; cut += Math.ceil(length / 60))
      expect((await jobFromZip(whole.subarray(0, cut))).kind, `cut at ${cut}`).toBe('no-job-zip');
    for (let at = 0; at < length; at += Math.ceil(length / 120)) {
      const bytes = Uint8Array.from(whole);
      bytes[at] = (bytes[at] ?? 0) ^ 0x41;
      const found = await jobFromZip(bytes);
      if (found.kind === 'job') expect(Buffer.from(found.journal).equals(journal), `byte ${at}`).toBe(true);
    }
  });

  it('is taken when it is none of that', async () => {
    expect(
      await jobFromZip(zipSync({ 'job.ndjson': journal, 'notes/else.txt': strToU8('x') })),
    ).toMatchObject({
      kind: 'job',
      jobId: 'harrow-six-0417',
    });
    expect(existsSync(join(dirname(folder), 'evil.txt'))).toBe(false);
  });
});
