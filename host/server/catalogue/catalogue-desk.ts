import type { Refused } from '../../core/result';
import type {
  CatalogueAsk,
  FoundInCatalogue,
  JobInCatalogue,
  PartInCatalogue,
  SaidOfCard,
  SendersForGauge,
  TableGiven,
  TablesInCatalogue,
} from '../../job/wire/catalogue-messages';
import { refuse } from '../../refusals';
import { jobFolder } from '../../store';
import type { CatalogueAnswer, CatalogueQuestion, PartMeant } from '../../store/catalogue';
import type { Reckoner, ThreadQuestion } from '../in-thread';

export type CatalogueThreadQuestion = ThreadQuestion<CatalogueQuestion>;

/** Asks the catalogue of this host, off the thread that keeps the box alive. Each may refuse COMPUTING_FAILED. */
export type CatalogueDesk = {
  /** What the catalogue has of a job. Looking makes no catalogue. Refuses as `jobInCatalogue`, JOB_ID. */
  lookUp(jobId: string): Promise<JobInCatalogue | Refused>;
  /** Keeps the cards of a job, and the name of their model where one is given. Refuses as `lookUp`. */
  keep(jobId: string, model: string | undefined): Promise<JobInCatalogue | Refused>;
  /** The parts that readings and words leave. */
  find(ask: CatalogueAsk): Promise<FoundInCatalogue | Refused>;
  /** A model, or a card by itself. Refuses as `partInCatalogue`. */
  part(meant: PartMeant): Promise<PartInCatalogue | Refused>;
  /** The same after something was said about one of its cards. Refuses as `sayOfCard` too. */
  say(meant: PartMeant, said: SaidOfCard): Promise<PartInCatalogue | Refused>;
  /** Which senders suit a gauge of the catalogue. Refuses as `sendersForGauge`. */
  sendersForPart(meant: PartMeant): Promise<SendersForGauge | Refused>;
  /** The same of the gauge of a job. */
  sendersForJob(jobId: string): Promise<SendersForGauge | Refused>;
  /** What curves tables hold; with `keep`, after these were kept. Looking makes no catalogue. */
  tables(
    tables: readonly TableGiven[],
    keep?: { readonly model: string | undefined },
  ): Promise<TablesInCatalogue | Refused>;
  /** Takes the catalogue of an invented shop in, to try things with. */
  takeDemo(): Promise<FoundInCatalogue | Refused>;
  /** Takes it out again, and nothing else. */
  removeDemo(): Promise<FoundInCatalogue | Refused>;
  close(): Promise<void>;
};

export type CataloguePlace = {
  readonly jobsFolder: string;
  readonly catalogueFolder: string;
  readonly version: string;
};

export function catalogueDesk(
  reckoner: Reckoner<CatalogueQuestion, CatalogueAnswer>,
  { jobsFolder, catalogueFolder, version }: CataloguePlace,
): CatalogueDesk {
  const place = { folder: catalogueFolder, program: version };
  /** A question is answered in its own kind. */
  const ask = async <Kind extends CatalogueAnswer['kind']>(
    question: CatalogueQuestion,
    kind: Kind,
  ): Promise<Extract<CatalogueAnswer, { kind: Kind }> | Refused> => {
    try {
      const answer = await reckoner.reckon(question);
      return isOf(answer, kind) || answer.kind === 'refused' ? answer : refuse('COMPUTING_FAILED');
    } catch {
      return refuse('COMPUTING_FAILED');
    }
  };
  const askOfJob = async (
    jobId: string,
    keep?: { readonly at: string; readonly model: string | undefined },
  ): Promise<JobInCatalogue | Refused> => {
    const folder = jobFolder(jobsFolder, jobId);
    if (typeof folder !== 'string') return folder;
    const question = { kind: 'job', ...place, jobFolder: folder } as const;
    return ask(keep === undefined ? question : { ...question, keep }, 'job-in-catalogue');
  };
  const demo = (way: 'in' | 'out'): Promise<FoundInCatalogue | Refused> =>
    ask({ kind: 'demo', ...place, at: new Date().toISOString(), way }, 'found-in-catalogue');
  return {
    lookUp: (jobId) => askOfJob(jobId),
    keep: (jobId, model) => askOfJob(jobId, { at: new Date().toISOString(), model }),
    find: (asked) => ask({ kind: 'find', ...place, ask: asked }, 'found-in-catalogue'),
    part: (meant) => ask({ kind: 'part', ...place, meant }, 'part-in-catalogue'),
    say: (meant, said) =>
      ask(
        { kind: 'part', ...place, meant, saying: { said, at: new Date().toISOString() } },
        'part-in-catalogue',
      ),
    sendersForPart: (meant) => ask({ kind: 'senders', ...place, of: meant }, 'senders-for-gauge'),
    sendersForJob: async (jobId) => {
      const folder = jobFolder(jobsFolder, jobId);
      if (typeof folder !== 'string') return folder;
      return ask({ kind: 'senders', ...place, of: { kind: 'job', jobFolder: folder } }, 'senders-for-gauge');
    },
    tables: (tables, keep) =>
      ask(
        {
          ...{ kind: 'tables', ...place, tables },
          ...(keep === undefined ? {} : { keep: { at: new Date().toISOString(), ...keep } }),
        },
        'tables-in-catalogue',
      ),
    takeDemo: () => demo('in'),
    removeDemo: () => demo('out'),
    close: () => reckoner.close(),
  };
}

const isOf = <Kind extends CatalogueAnswer['kind']>(
  answer: CatalogueAnswer,
  kind: Kind,
): answer is Extract<CatalogueAnswer, { kind: Kind }> => answer.kind === kind;
