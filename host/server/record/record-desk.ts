import type { Refused } from '../../core/result';
import type { JobEvent } from '../../job/schema/events';
import { refuse } from '../../refusals';
import type { Reckoner } from '../in-thread';
import type { RecordAnswer, RecordTask } from './draw-record';

/** Draws records off the thread that keeps the box alive. Refuses COMPUTING_FAILED. */
export type RecordDesk = {
  sheets(events: readonly JobEvent[]): Promise<{ readonly sheets: readonly string[] } | Refused>;
  file(events: readonly JobEvent[], wants: 'a4' | 'letter' | 'label'): Promise<Uint8Array | Refused>;
  close(): Promise<void>;
};

export function recordDesk(reckoner: Reckoner<RecordTask, RecordAnswer>, program: string): RecordDesk {
  const ask = async (
    events: readonly JobEvent[],
    wants: RecordTask['wants'],
  ): Promise<RecordAnswer | Refused> => {
    try {
      return await reckoner.reckon({ events, program, wants });
    } catch {
      return refuse('COMPUTING_FAILED');
    }
  };
  return {
    sheets: async (events) => {
      const answer = await ask(events, 'sheets');
      return answer.kind === 'sheets' ? { sheets: answer.sheets } : failed(answer);
    },
    file: async (events, wants) => {
      const answer = await ask(events, wants);
      return answer.kind === 'file' ? answer.bytes : failed(answer);
    },
    close: () => reckoner.close(),
  };
}

const failed = (answer: RecordAnswer | Refused): Refused =>
  answer.kind === 'refused' ? answer : refuse('COMPUTING_FAILED');
