import type { EventBody, EventOf, JobState } from '../../job';
import type { Box } from '../box/box';
import type { BenchClock } from '../clock';
import type { Presence } from '../people/presence';

/** A step that is about to begin; `isShort`: it may be held for seconds only, and begins with somebody's eyes on it. */
export type StepGate = (
  step: { readonly stepId: string; readonly isShort: boolean },
  signal: AbortSignal,
) => Promise<void>;

export type ReadingNeighbours = NonNullable<EventOf<'reading'>['neighbours']>;

/** A job's place in a sweep of several gauges together. */
export type InCluster = {
  readonly gate: StepGate;
  /** What stands on the same feed at this moment. */
  readonly neighbours: () => ReadingNeighbours;
};

export type SweepRunParts = {
  readonly box: Box;
  readonly clock: BenchClock;
  /** The needle lives this many times faster than the clock; 1 for everything real. */
  readonly needleSpeed: number;
  readonly presence: Presence;
  readonly state: () => JobState;
  /** Adds to the journal in the desk's turn: what `decide` says of the state as it then is. */
  readonly record: (decide: (state: JobState) => readonly EventBody[], by?: string) => void;
  /** Lets a step begin; left out, every step may. In a cluster others may have to be read first. */
  readonly gate?: StepGate | undefined;
  /** What stands on the same feed while this gauge is read; left out, nobody knows of anything. */
  readonly neighbours?: (() => ReadingNeighbours) | undefined;
  /** Something a screen shows has changed. */
  readonly changed: () => void;
};
