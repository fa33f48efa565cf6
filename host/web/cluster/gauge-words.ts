import type { JobState } from '../../job/state/state';
import type { LiveFrame } from '../../job/wire/job-messages';
import type { JobConnection } from '../connection/job-connection';
import { QUANTITY_WORDS } from '../parts/words';

/** A gauge by its quantity and its place: "fuel, left". */
export const gaugeName = (state: JobState | undefined, place: string): string =>
  state === undefined ? place : `${quantityOf(state)}, ${place}`;

export const quantityOf = ({ gauge }: JobState): string => QUANTITY_WORDS[gauge.quantity].toLowerCase();

/** How long its needle still settles, ms; undefined: it does not. */
export const settlingMs = (frame: LiveFrame | undefined): number | undefined =>
  frame?.waiting.kind === 'settling'
    ? Math.max(0, frame.waiting.settleMs - frame.waiting.passedMs)
    : undefined;

const MS_PER_SECOND = 1000;

/** What a gauge that is not read now does. */
export function standingWords(frame: LiveFrame | undefined, isNext: boolean): string {
  if (frame === undefined) return 'no news';
  if (frame.trip !== undefined) return 'its box tripped';
  const { kind } = frame.waiting;
  if (kind === 'settling') return `settles ${Math.ceil((settlingMs(frame) ?? 0) / MS_PER_SECOND)} s`;
  if (kind === 'answer') return isNext ? 'settled, next' : 'settled';
  if (kind === 'moving') return 'is being set';
  return frame.progress === undefined ? 'stands' : 'waits';
}

/** How much of its wait is over, 0 to 1. */
export function waitShare(frame: LiveFrame | undefined): number {
  if (frame?.waiting.kind === 'answer') return 1;
  if (frame?.waiting.kind !== 'settling') return 0;
  const { settleMs, passedMs } = frame.waiting;
  return settleMs === 0 ? 1 : Math.min(1, passedMs / settleMs);
}

/** Whose needle rests next, where none does yet. */
export function soonest(jobs: readonly JobConnection[]): JobConnection | undefined {
  const left = jobs.flatMap((job) => {
    const ms = settlingMs(job.live.get());
    return ms === undefined ? [] : [{ job, ms }];
  });
  return left.sort((one, other) => one.ms - other.ms)[0]?.job ?? jobs[0];
}
