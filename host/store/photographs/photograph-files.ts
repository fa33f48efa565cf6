import { createHash } from 'node:crypto';
import { open, readdir, readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Refused } from '../../core/result';
import type { JobState } from '../../job';
import { refuse } from '../../refusals';
import { troubleSentence } from '../file-trouble';
import { syncFolder } from '../sync-folder';
import { plainJpeg } from './plain-jpeg';
import type { PlainPicture } from './picture';

type Photograph = JobState['photographs'][number];

/** A photograph of a job with its bytes, for whoever shows or prints it. Plain data: it is posted to threads. */
export type PhotographFile = {
  readonly photographId: string;
  readonly of: Photograph['of'];
  readonly title: string | undefined;
  readonly kind: PlainPicture['kind'];
  readonly bytes: Uint8Array;
  readonly widthPixel: number;
  readonly heightPixel: number;
};

/** The photographs that count: those that were deleted left their entry behind, and no bytes. */
export const keptPhotographs = ({ photographs }: Pick<JobState, 'photographs'>): readonly Photograph[] =>
  photographs.filter(({ struckBecause }) => struckBecause === undefined);

export const photographSum = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** One of this program's making, whatever became of its entry. */
const OWN_NAME = /^photograph-f\d+\.(?:jpg|png)$/;
export const photographName = (photographId: string, kind: PlainPicture['kind']): string =>
  `photograph-${photographId}.${kind === 'jpeg' ? 'jpg' : 'png'}`;

/** Writes the bytes to the disk under a name in the job's folder; undefined once they are there. */
export async function writePhotograph(
  folder: string,
  name: string,
  bytes: Uint8Array,
): Promise<Refused<'PHOTOGRAPH_FILE'> | undefined> {
  const path = join(folder, name);
  try {
    const file = await open(path, 'w');
    try {
      await file.writeFile(bytes);
      await file.datasync();
    } finally {
      await file.close();
    }
    await syncFolder(folder);
    return undefined;
  } catch (error) {
    await rm(path, { force: true }).catch(() => undefined);
    return refuse('PHOTOGRAPH_FILE', { why: troubleSentence(path, 'not written', error) });
  }
}

/** Takes away the files of photographs that count no more; undefined once they are gone. */
export async function removeOthers(
  folder: string,
  kept: readonly Photograph[],
): Promise<Refused<'PHOTOGRAPH_FILE'> | undefined> {
  const names = new Set(kept.map(({ file }) => file));
  try {
    for (const name of await readdir(folder))
      if (OWN_NAME.test(name) && !names.has(name)) await rm(join(folder, name));
    await syncFolder(folder);
    return undefined;
  } catch (error) {
    return refuse('PHOTOGRAPH_FILE', { why: troubleSentence(folder, 'a photograph was not deleted', error) });
  }
}

/** The photograph as its entry names it; undefined where its file is gone, or is another one. */
export async function readPhotograph(
  folder: string,
  { photographId, file, sha256, of, title }: Photograph,
): Promise<PhotographFile | undefined> {
  const bytes = await readFile(join(folder, file)).catch(() => undefined);
  if (bytes === undefined || photographSum(bytes) !== sha256) return undefined;
  const size = sizeOf(bytes);
  return size && { photographId, of, title, bytes, ...size };
}

/** All that are there, in the order in which they were added. */
export async function readPhotographs(
  folder: string,
  state: Pick<JobState, 'photographs'>,
): Promise<readonly PhotographFile[]> {
  const found = await Promise.all(keptPhotographs(state).map((each) => readPhotograph(folder, each)));
  return found.filter((each) => each !== undefined);
}

/** Of a picture that was made plain before it was kept. Source for the place in a PNG: PNG (W3C), 11.2.1. */
function sizeOf(bytes: Buffer): Pick<PhotographFile, 'kind' | 'widthPixel' | 'heightPixel'> | undefined {
  if (bytes[0] === 0x89 && bytes.length > 24)
    return { kind: 'png', widthPixel: bytes.readUInt32BE(16), heightPixel: bytes.readUInt32BE(20) };
  const found = plainJpeg(bytes);
  return found.kind === 'spoilt'
    ? undefined
    : { kind: 'jpeg', widthPixel: found.widthPixel, heightPixel: found.heightPixel };
}
