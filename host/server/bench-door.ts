import type { Refused } from '../core/result';
import type { JobCommand } from '../job/schema/commands';
import type { JobEvent } from '../job/schema/events';
import type { Opening } from '../job/schema/gauge';
import type { JobMessage, JobListing, LiveFrame } from '../job/wire/job-messages';

export type StopOutcome = Extract<JobMessage, { kind: 'stopped' }>['outcome'];
export type Accepted = { readonly kind: 'accepted'; readonly upToN: number };

/** One open job, as the server needs it. */
export type DeskDoor = {
  readonly jobId: string;
  /** The newest events, oldest first, from the one after `n` on. */
  eventsAfter(n: number): readonly JobEvent[];
  live(): LiveFrame;
  submit(command: JobCommand, by: string): Promise<Accepted | Refused>;
  /** A person can see this screen now. */
  present(screen: string): void;
  /** The last socket of this screen has closed. */
  gone(screen: string): void;
  /** Called after each new event and each new live frame. */
  subscribe(listener: () => void): () => void;
};

/** All the server needs of the bench; the real one is fitted to it in `serve.ts`. */
export type BenchDoor = {
  listJobs(): Promise<JobListing>;
  /** Opens the output of every box, whoever drives it. */
  stopAll(by: string): Promise<StopOutcome>;
  createJob(
    opening: Opening,
    by: string,
  ): Promise<{ readonly kind: 'desk'; readonly desk: DeskDoor } | Refused>;
  openJob(jobId: string): Promise<{ readonly kind: 'desk'; readonly desk: DeskDoor } | Refused>;
  close(): Promise<void>;
};
