import type { Refused } from '../../core/result';
import type { JobInCatalogue } from '../../job/wire/catalogue-messages';
import { refuse } from '../../refusals';
import { jobFolder } from '../../store';
import type { JobQuestion } from '../../store/catalogue';
import type { Reckoner, ThreadQuestion } from '../in-thread';

export type CatalogueThreadQuestion = ThreadQuestion<JobQuestion>;

/** Asks the catalogue about the jobs of this host, off the thread that keeps the box alive. */
export type CatalogueDesk = {
  /** What the catalogue has of a job. Looking makes no catalogue. Refuses as `jobInCatalogue`, JOB_ID, COMPUTING_FAILED. */
  lookUp(jobId: string): Promise<JobInCatalogue | Refused>;
  /** Keeps the cards of a job, and the name of their model where one is given. Refuses as `lookUp`. */
  keep(jobId: string, model: string | undefined): Promise<JobInCatalogue | Refused>;
  close(): Promise<void>;
};

export type CataloguePlace = {
  readonly jobsFolder: string;
  readonly catalogueFolder: string;
  readonly version: string;
};

export function catalogueDesk(
  reckoner: Reckoner<JobQuestion, JobInCatalogue | Refused>,
  { jobsFolder, catalogueFolder, version }: CataloguePlace,
): CatalogueDesk {
  const ask = async (jobId: string, keep?: JobQuestion['keep']): Promise<JobInCatalogue | Refused> => {
    const folder = jobFolder(jobsFolder, jobId);
    if (typeof folder !== 'string') return folder;
    const question = { folder: catalogueFolder, jobFolder: folder, program: version };
    try {
      return await reckoner.reckon(keep === undefined ? question : { ...question, keep });
    } catch {
      return refuse('COMPUTING_FAILED');
    }
  };
  return {
    lookUp: (jobId) => ask(jobId),
    keep: (jobId, model) => ask(jobId, { at: new Date().toISOString(), model }),
    close: () => reckoner.close(),
  };
}
