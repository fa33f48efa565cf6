import type { Findings } from '../../job/findings';
import type { Refusal } from '../../job/wire/job-messages';
import { createSignal, type Signal } from '../signal';
import { findingsOf } from './http';

/** What the host computed of the job, following the journal; the last findings stay until newer ones arrive. */
export type FindingsKeeper = {
  readonly findings: Signal<Findings | undefined>;
  readonly isComputing: Signal<boolean>;
  readonly trouble: Signal<Refusal | undefined>;
  /** The journal grew: ask again, but never more than one question at a time. */
  readonly stale: () => void;
};

export function keepFindings(jobId: string): FindingsKeeper {
  const findings = createSignal<Findings | undefined>(undefined);
  const isComputing = createSignal(false);
  const trouble = createSignal<Refusal | undefined>(undefined);
  let isStale = false;
  const ask = async (): Promise<void> => {
    isComputing.set(true);
    while (isStale) {
      isStale = false;
      const answer = await findingsOf(jobId);
      if (answer.kind === 'answer') findings.set(answer.body);
      trouble.set(answer.kind === 'refused' ? answer : undefined);
    }
    isComputing.set(false);
  };
  return {
    findings,
    isComputing,
    trouble,
    stale: () => {
      isStale = true;
      if (!isComputing.get()) void ask();
    },
  };
}
