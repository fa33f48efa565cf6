import type { Refused } from '../core/result';
import { PHOTOGRAPH_LIMITS } from '../job/schema/photograph';
import type { PhotographSubject } from '../job/schema/photograph-subjects';
import { refuse } from '../refusals';
import type { Journal } from '../store';
import {
  keptPhotographs,
  photographName,
  photographSum,
  readPhotograph,
  readPhotographs,
  removeOthers,
  writePhotograph,
  type PhotographFile,
} from '../store/photographs/photograph-files';
import { plainPicture } from '../store/photographs/plain-picture';
import type { Accepted, Entries } from './entries';
import type { Turns } from './turns';

export type GivenPhotograph = {
  readonly bytes: Uint8Array;
  readonly of: PhotographSubject;
  readonly title?: string;
};

/** The photographs of one job: their bytes beside its journal, their entries in it. */
export type Photographs = {
  /** Answers when picture and entry are on the disk. Nothing of the file is kept but the picture itself. */
  add(given: GivenPhotograph, by: string): Promise<Accepted | Refused>;
  one(photographId: string): Promise<PhotographFile | Refused<'PHOTOGRAPH_GONE'>>;
  all(): Promise<readonly PhotographFile[]>;
  /** After an entry: deletes the bytes of those that count no more. */
  tidied(added: Promise<Accepted | Refused>): Promise<Accepted | Refused>;
};

type Parts = {
  readonly journal: Pick<Journal, 'folder' | 'trouble'>;
  readonly entries: Entries;
  readonly turns: Turns;
};

/** The picture first, its entry after it: what the journal names is there. */
export function photographsOf({ journal, entries, turns }: Parts): Photographs {
  const { folder } = journal;
  const keep = async (given: GivenPhotograph, by: string): Promise<Accepted | Refused> => {
    if (journal.trouble !== undefined) return journal.trouble;
    const kept = keptPhotographs(entries.state);
    if (kept.length >= PHOTOGRAPH_LIMITS.mostInJob)
      return refuse('PHOTOGRAPHS_FULL', { most: PHOTOGRAPH_LIMITS.mostInJob });
    const picture = await plainPicture(given.bytes);
    if (picture.kind === 'refused') return picture;
    const sha256 = photographSum(picture.bytes);
    // A second press of the same button.
    if (kept.some((each) => each.sha256 === sha256 && each.of === given.of)) return entries.append([], by);
    const photographId = `f${entries.state.lastN + 1}`;
    const file = photographName(photographId, picture.kind);
    const unwritten = await writePhotograph(folder, file, picture.bytes);
    if (unwritten !== undefined) return unwritten;
    const { of, title } = given;
    const body = { kind: 'photograph-added', photographId, file, sha256, of } as const;
    return entries.append([{ ...body, ...(title === undefined ? {} : { title }) }], by);
  };
  return {
    add: (given, by) => turns.take(() => keep(given, by)),
    one: async (photographId) => {
      const known = keptPhotographs(entries.state).find((each) => each.photographId === photographId);
      const found = known && (await readPhotograph(folder, known));
      return found ?? refuse('PHOTOGRAPH_GONE', { photographId });
    },
    all: () => readPhotographs(folder, entries.state),
    tidied: async (adding) => {
      const added = await adding;
      if (added.kind === 'refused' || !added.events.some(({ kind }) => kind === 'photograph-struck'))
        return added;
      return (await removeOthers(folder, keptPhotographs(entries.state))) ?? added;
    },
  };
}
