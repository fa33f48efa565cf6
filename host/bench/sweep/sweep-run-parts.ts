import type { EventBody, JobState } from '../../job';
import type { Box } from '../box/box';
import type { BenchClock } from '../clock';
import type { Presence } from '../people/presence';

export type SweepRunParts = {
  readonly box: Box;
  readonly clock: BenchClock;
  /** The needle lives this many times faster than the clock; 1 for everything real. */
  readonly needleSpeed: number;
  readonly presence: Presence;
  readonly state: () => JobState;
  /** Adds to the journal in the desk's turn: what `decide` says of the state as it then is. */
  readonly record: (decide: (state: JobState) => readonly EventBody[], by?: string) => void;
  /** Something a screen shows has changed. */
  readonly changed: () => void;
};
