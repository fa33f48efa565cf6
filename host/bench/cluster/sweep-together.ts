import type { Refused } from '../../core/result';
import { atMostInCommonOhm, type NeighbourCell } from '../../core/cluster';
import { openSweep, type SweepChoice } from '../../job';
import { wait, type BenchClock } from '../clock';
import type { AnsweredJob } from '../people/simulated-operator';
import type { InCluster, ReadingNeighbours, StepGate } from '../sweep/sweep-run-parts';
import { HeldBox } from './held-box';
import { armingOf, isRunning, restOhmOf, type Member } from './member';
import type { ReadingQueue } from './reading-queue';

/**
 * `free`: every gauge goes on as soon as it was read. `rounds`: all are set, all come to rest, all are read; nothing moves
 * while one is read. `one-by-one`: the others stand at rest, for gauges that disturb each other.
 */
export type SweepOrder = 'free' | 'rounds' | 'one-by-one';

export type SweptMember = Member & { readonly desk: AnsweredJob & { readonly isDriving: boolean } };

export type SweepTogetherParts = {
  readonly members: readonly SweptMember[];
  /** Whose sweep is wanted, by job; the others stand at rest. */
  readonly due: ReadonlySet<string>;
  readonly order: SweepOrder;
  readonly choice: SweepChoice;
  readonly by: string;
  readonly clock: BenchClock;
  readonly queue: ReadingQueue;
  readonly putInCluster: (jobId: string, place: InCluster | undefined) => void;
  /** Of the last neighbour test; none where none was made. */
  readonly cells: readonly NeighbourCell[];
  readonly signal: AbortSignal;
  /** A sweep could not begin, or a gauge could not be held at rest; the others go on. */
  readonly trouble: (jobId: string, refused: Refused) => void;
};

const LOOK_EVERY_MS = 50;

const untilAborted = (signal: AbortSignal, begin: (done: () => void) => () => void): Promise<void> =>
  new Promise((resolve) => {
    if (signal.aborted) return resolve();
    const takeBack = begin(resolve);
    signal.addEventListener(
      'abort',
      () => {
        takeBack();
        resolve();
      },
      { once: true },
    );
  });

/** A barrier: whoever comes waits until every gauge that still sweeps has come, the first time until all have begun. */
class Round {
  #hasBegun = false;
  readonly #waiting = new Map<string, () => void>();
  readonly #running: () => readonly string[];

  constructor(running: () => readonly string[]) {
    this.#running = running;
  }

  join(jobId: string, begin: () => void): () => void {
    this.#waiting.set(jobId, begin);
    this.look();
    return () => void this.#waiting.delete(jobId);
  }

  begin(): void {
    this.#hasBegun = true;
    this.look();
  }

  look(): void {
    if (!this.#hasBegun || !this.#running().every((jobId) => this.#waiting.has(jobId))) return;
    const begin = [...this.#waiting.values()];
    this.#waiting.clear();
    for (const each of begin) each();
  }
}

/** Sweeps all gauges to their ends, in one of three orders. Every output is open when it answers. */
export async function sweepTogether(parts: SweepTogetherParts): Promise<void> {
  const { members, order, clock, signal, queue, putInCluster } = parts;
  const due = members.filter(({ jobId }) => parts.due.has(jobId));
  const runningIds = (): string[] =>
    members.filter(({ desk }) => isRunning(desk.state)).map(({ jobId }) => jobId);
  const round = new Round(runningIds);
  const gateOf =
    (jobId: string): StepGate =>
    async ({ isShort }, called) => {
      if (order === 'rounds') await untilAborted(called, (done) => round.join(jobId, done));
      if (isShort) await untilAborted(called, (done) => queue.askFor(jobId, done));
    };
  const resting = new Map<string, HeldBox>();
  try {
    for (const { jobId } of members) {
      const neighbours = (): ReadingNeighbours => standingBeside(jobId, parts, resting);
      putInCluster(jobId, { gate: gateOf(jobId), neighbours });
    }
    if (order === 'one-by-one') await oneByOne(parts, due, resting);
    else {
      for (const member of due) await begin(member, parts);
      round.begin();
      while (runningIds().length > 0) {
        round.look();
        for (const member of members) await restWhenDone(member, parts, resting);
        if (!(await wait(clock, LOOK_EVERY_MS, signal))) return;
      }
    }
  } finally {
    for (const { jobId } of members) putInCluster(jobId, undefined);
    await Promise.all([...resting.values()].map((held) => held.end()));
  }
}

/** What the other gauges' boxes make at this moment, and what flows through each; an open one draws nothing. */
const standingBeside = (
  readJobId: string,
  { members, cells }: SweepTogetherParts,
  resting: ReadonlyMap<string, HeldBox>,
): ReadingNeighbours =>
  members.flatMap(({ jobId, desk }) => {
    const { madeOhm, milliamp } = desk.live.output;
    const driven =
      madeOhm === undefined
        ? undefined
        : { resistanceOhm: madeOhm, ...(milliamp === undefined ? {} : { milliamp }) };
    const stands = resting.get(jobId)?.now ?? driven;
    if (jobId === readJobId || stands === undefined) return [];
    const commonOhm = atMostInCommonOhm(cells, { movedId: jobId, watchedId: readJobId });
    return [{ jobId, ...stands, ...(commonOhm === undefined ? {} : { commonOhm }) }];
  });

/** A sweep that was left is gone on with. */
async function begin(
  { desk, jobId }: SweptMember,
  { choice, by, trouble }: SweepTogetherParts,
): Promise<void> {
  const isLeft = openSweep(desk.state) !== undefined;
  const begun = await desk.submit(isLeft ? { kind: 'resume-sweep' } : { kind: 'start-sweep', choice }, by);
  if (begun.kind === 'refused') trouble(jobId, begun);
}

/** An unloaded stabiliser is not the one in the car: who has finished stands at rest while others are read. */
async function restWhenDone(
  member: SweptMember,
  { clock, signal, trouble }: SweepTogetherParts,
  resting: Map<string, HeldBox>,
): Promise<void> {
  const { jobId, desk, box, gauge } = member;
  const isOver = desk.state.sweeps.at(-1)?.status.kind === 'finished' && !desk.isDriving;
  if (!isOver || resting.has(jobId) || !box.isLive) return;
  const held = new HeldBox({ box, clock, signal, ...armingOf(gauge) });
  resting.set(jobId, held);
  const made = await held.hold(restOhmOf(gauge));
  if (typeof made === 'object') trouble(jobId, made);
}

async function oneByOne(
  parts: SweepTogetherParts,
  due: readonly SweptMember[],
  resting: Map<string, HeldBox>,
): Promise<void> {
  const { members, clock, signal, trouble } = parts;
  const rest = async ({ jobId, box, gauge }: SweptMember): Promise<void> => {
    const held = new HeldBox({ box, clock, signal, ...armingOf(gauge) });
    resting.set(jobId, held);
    const made = await held.hold(restOhmOf(gauge));
    if (typeof made === 'object') trouble(jobId, made);
  };
  const [first] = due;
  for (const member of members) if (member !== first) await rest(member);
  for (const member of due) {
    await resting.get(member.jobId)?.end();
    resting.delete(member.jobId);
    await begin(member, parts);
    while (isRunning(member.desk.state)) if (!(await wait(clock, LOOK_EVERY_MS, signal))) return;
    if (!member.desk.isDriving) await rest(member);
  }
}
