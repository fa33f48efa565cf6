import { expect, onTestFinished } from 'vitest';
import type { ClusterCommand } from '../../host/job';
import { answered } from '../support/answer';
import { scratchFolder } from '../store/scratch';
import { clusterBench, type ClusterSetUp } from './simulated-cluster';

export const ME = 'phone 1';
export const OTHER = 'laptop 2';
export const SWEEP: Extract<ClusterCommand, { kind: 'start-sweep' }> = {
  kind: 'start-sweep',
  choice: { mode: 'step-and-read', pointCount: 4, legs: 'up', repeats: 0, refinements: 0 },
};

/** A cluster that was opened at the page, and a person in front of it who sees every needle. */
export const openedWith = async (setUp: ClusterSetUp) => {
  const t = await clusterBench(await scratchFolder(), setUp);
  onTestFinished(t.close);
  const gauges = t.jobs.map(({ place, desk: { state } }) => ({
    place,
    opening: {
      title: state.title,
      gauge: state.gauge,
      vehicle: state.vehicle,
      place: 'bench' as const,
      simulated: true,
    },
  }));
  const opening = { title: 'Four of them', vehicle: 'Harrow Six', feed: {}, simulated: true, gauges };
  const { clusterId } = answered(await t.clusters.create(opening, ME));
  const desk = answered(await t.clusters.open(clusterId));
  // The screen is present at every one of its jobs.
  const leaving = desk.gauges.map(({ desk: job }) => job.attend(ME));
  onTestFinished(() => leaving.forEach((leave) => leave()));
  const say = (command: ClusterCommand, by = ME) => desk.submit(command, by);
  const jobIds = desk.gauges.map(({ jobId }) => jobId);
  const angles = (): number[] => t.jobs.map(({ at }) => t.needleOf(at).angleFraction);
  const frame = () => desk.live;
  /** Time passes with this person at the screen, until something is so. */
  const until = async (isDone: () => boolean, withinMs = 400_000): Promise<void> => {
    for (let passedMs = 0; !isDone() && passedMs < withinMs; passedMs += 500) {
      desk.seen(ME);
      await t.pass(500, isDone);
    }
    expect(isDone()).toBe(true);
  };
  const isIdle = (): boolean => frame().doing.kind === 'nothing';
  const callRoll = async (): Promise<void> => {
    answered(await say({ kind: 'call-roll' }));
    let before = angles();
    let looked: number | undefined;
    while (!isIdle()) {
      await until(() => {
        const { doing } = frame();
        if (doing.kind !== 'roll-call') return true;
        if (doing.boxSerial !== looked) [before, looked] = [angles(), doing.boxSerial];
        return doing.isAsked;
      });
      const { doing } = frame();
      if (doing.kind !== 'roll-call') break;
      const moved = angles().findIndex((angle, at) => Math.abs(angle - before[at]!) > 0.04);
      const jobId = jobIds[moved];
      answered(
        await say({
          kind: 'say-moved',
          boxSerial: doing.boxSerial ?? 0,
          moved: jobId === undefined ? { nothing: 'none' } : { jobId },
        }),
      );
    }
    await until(isIdle);
    expect(frame().trouble).toBeUndefined();
  };
  const readingAt = (at: number): number => {
    const { marks } = t.jobs[at]!.desk.state.gauge;
    const angle = Math.min(1, Math.max(0, angles()[at]!));
    const high = Math.max(
      1,
      marks.findIndex((mark) => mark.angleFraction >= angle),
    );
    const [low, top] = [marks[high - 1]!, marks[high]!];
    const share = (angle - low.angleFraction) / (top.angleFraction - low.angleFraction);
    return low.reading + share * (top.reading - low.reading);
  };
  const next = () => {
    const { doing } = frame();
    return doing.kind === 'sweep' ? doing.waiters[0] : undefined;
  };
  /** Reads whoever is next; `how` may answer otherwise. */
  const readOne = async (reading = (at: number) => readingAt(at)) => {
    await until(() => isIdle() || next() !== undefined);
    const waiter = next();
    if (waiter === undefined) return undefined;
    const { jobId } = waiter;
    if (waiter.wants === 'short-step') return say({ kind: 'begin-short', jobId });
    const at = jobIds.indexOf(jobId);
    const { waiting } = desk.gauges[at]!.desk.live;
    if (waiting.kind !== 'answer') return undefined;
    const command = { kind: 'give-reading' as const, stepId: waiting.stepId, reading: reading(at) };
    return say({ kind: 'give', jobId, command });
  };
  /** Nothing is driven any more: the boxes' time stands still when a test is over. */
  const end = async (): Promise<void> => {
    await t.until(t.bench.stopEach(ME));
    await until(isIdle);
  };
  const open = () => t.boxes.boxes.map(({ world }) => !Number.isFinite(world.pathOhm));
  return { t, desk, say, frame, until, isIdle, callRoll, readOne, readingAt, jobIds, next, open, end };
};
