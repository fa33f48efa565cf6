import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import type { Reckoner } from '../in-thread';
import type { ClusterTask, DrawTask, RecordAnswer, RecordTask } from './draw-record';

/** A job as its record is drawn: entries, pictures, and where a page finds these. */
export type DrawnJob = Pick<RecordTask, 'events' | 'photographs' | 'photographsAt'>;

/** Draws records off the thread that keeps the box alive. Refuses COMPUTING_FAILED. */
export type RecordDesk = {
  sheets(job: DrawnJob): Promise<{ readonly sheets: readonly string[] } | Refused>;
  file(job: DrawnJob, wants: 'a4' | 'letter' | 'label'): Promise<Uint8Array | Refused>;
  clusterFile(
    cluster: Pick<ClusterTask, 'cluster' | 'gauges'>,
    paper: 'a4' | 'letter',
  ): Promise<Uint8Array | Refused>;
  close(): Promise<void>;
};

export function recordDesk(reckoner: Reckoner<DrawTask, RecordAnswer>, program: string): RecordDesk {
  const ask = async (task: DrawTask): Promise<RecordAnswer | Refused> => {
    try {
      return await reckoner.reckon(task);
    } catch {
      return refuse('COMPUTING_FAILED');
    }
  };
  return {
    sheets: async (job) => {
      const answer = await ask({ ...job, program, wants: 'sheets' });
      return answer.kind === 'sheets' ? { sheets: answer.sheets } : failed(answer);
    },
    file: async (job, wants) => {
      const answer = await ask({ ...job, program, wants });
      return answer.kind === 'file' ? answer.bytes : failed(answer);
    },
    clusterFile: async (cluster, wants) => {
      const answer = await ask({ ...cluster, program, wants });
      return answer.kind === 'file' ? answer.bytes : failed(answer);
    },
    close: () => reckoner.close(),
  };
}

const failed = (answer: RecordAnswer | Refused): Refused =>
  answer.kind === 'refused' ? answer : refuse('COMPUTING_FAILED');
