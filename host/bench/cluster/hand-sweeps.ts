import type { Refused } from '../../core/result';
import { countedReadings, type ClusterBody, type ClusterState } from '../../job';
import { BENCH } from '../rules';
import type { ClusterRun, RunGauge } from './cluster-run';

const MS_PER_MINUTE = 60_000;

/** What a cluster's journal does not know yet: sweeps of its gauges without boxes that went to their end. */
const handSweepsIn = (
  gauges: readonly RunGauge[],
  { sweptByHand }: Pick<ClusterState, 'sweptByHand'>,
): readonly ClusterBody[] =>
  gauges.flatMap(({ jobId, desk: { state } }) => {
    const isNoted = (sweepId: string): boolean =>
      sweptByHand.some((each) => each.jobId === jobId && each.sweepId === sweepId);
    return state.sweeps.flatMap(({ sweepId, hand, status, startedAt }): ClusterBody[] => {
      const readings = countedReadings(state).filter((reading) => reading.sweepId === sweepId);
      const last = readings.at(-1);
      if (hand === undefined || status.kind !== 'finished' || last === undefined || isNoted(sweepId))
        return [];
      const minutes = Math.max(0, (Date.parse(last.at) - Date.parse(startedAt)) / MS_PER_MINUTE);
      return [{ kind: 'swept-by-hand', jobId, sweepId, minutes, readings: readings.length }];
    });
  });

/** Enters what was swept by hand: each gauge's job knows it first, for it is done on that gauge's own sheet. */
export async function noteHandSweeps(run: ClusterRun): Promise<'nothing' | 'noted' | Refused> {
  const bodies = handSweepsIn(run.gauges, run.state);
  if (bodies.length === 0) return 'nothing';
  const noted = await run.note(bodies, BENCH);
  return noted === 'appended' ? 'noted' : noted;
}

/** Does so whenever it is told to look, once at a time; a journal that cannot be written is tried no further. */
export class HandSweepNotes {
  readonly #run: ClusterRun;
  readonly #told: (trouble: string | undefined) => void;
  #work: Promise<void> | undefined;

  constructor(run: ClusterRun, told: (trouble: string | undefined) => void) {
    this.#run = run;
    this.#told = told;
  }

  look(): void {
    if (this.#work !== undefined || handSweepsIn(this.#run.gauges, this.#run.state).length === 0) return;
    this.#work = noteHandSweeps(this.#run).then((noted) => {
      if (typeof noted === 'string') this.#work = undefined;
      this.#told(typeof noted === 'string' ? undefined : noted.message);
    });
  }

  async end(): Promise<void> {
    await this.#work;
  }
}
