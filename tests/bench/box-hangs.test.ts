import { afterEach, describe, expect, it } from 'vitest';
import { simulatedOperator } from '../../host/bench';
import { countedReadings, runningSweep, type JobCommand } from '../../host/job';
import { scratchFolder } from '../store/scratch';
import { jobGauge, SimulatedBench } from './simulated-bench';

const DEAD_MAN_MS = 1500;
/** A relay lets go within this, and the coil rail falls first: what engine and drawings allow together. */
const RELEASE_MS = 100;

const closers: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of closers.splice(0)) await close();
});

/** A sweep under way on the real firmware, with a person at the needle and the output closed. */
const sweeping = async () => {
  const bench = new SimulatedBench('cross-coil-temperature', { seed: 9, needleSpeed: 1 });
  const gauge = jobGauge('cross-coil-temperature');
  const opening = { title: 'coolant', gauge, vehicle: 'Marlow Tourer (1958)', place: 'bench' as const };
  const open = await bench.openDesk(await scratchFolder(), { ...opening, simulated: true });
  closers.push(open.close);
  const { desk, pass } = open;
  const { world } = bench.box;
  const person = simulatedOperator({
    job: desk,
    look: () => world.vehicle.needle,
    clock: bench.clock,
    seed: 9,
  });
  const ask = async (command: JobCommand): Promise<string> => {
    let outcome = 'no answer';
    void desk.submit(command, 'test').then((result) => {
      outcome = result.kind === 'refused' ? result.code : 'accepted';
    });
    await pass(10_000, () => outcome !== 'no answer');
    return outcome;
  };
  const start = {
    kind: 'start-sweep',
    choice: { mode: 'step-and-read', refinements: 0, repeats: 0 },
  } as const;
  expect(await ask(start)).toBe('accepted');
  await pass(600_000, () => countedReadings(desk.state).length >= 2 && desk.live.box.state === 'driving');
  const isOpen = (): boolean => !world.chain.contact('output')!.isClosed(world.clock.nowMs);
  expect(isOpen()).toBe(false);
  return { bench, desk, pass, ask, person, isOpen };
};

describe('a box whose program hangs in the middle of a sweep', () => {
  it('opens by its hardware within the dead-man time, the host knows, and nothing drives again unasked', async () => {
    const { bench, desk, pass, ask, person, isOpen } = await sweeping();
    const hungAtMs = bench.box.nowMs;
    bench.box.hang();
    expect(await pass(10_000, isOpen)).toBe(true);
    expect(bench.box.nowMs - hungAtMs).toBeLessThan(DEAD_MAN_MS + RELEASE_MS);
    await pass(10_000, () => runningSweep(desk.state)?.status.kind !== 'running');
    expect(desk.state.sweeps.at(-1)?.status.kind).toBe('paused');
    expect(desk.live.box.state).toBe('unknown');

    bench.box.restart('watchdog');
    await pass(30_000);
    expect(isOpen()).toBe(true);
    const readings = countedReadings(desk.state).length;
    expect(desk.state.trip?.code ?? desk.live.box.state).toBe('WATCHDOG_RESET');
    expect(await ask({ kind: 'clear-trip' })).toBe('accepted');
    await pass(5_000);
    expect(isOpen()).toBe(true);
    expect(await ask({ kind: 'resume-sweep' })).toBe('accepted');
    expect(await pass(600_000, () => countedReadings(desk.state).length > readings)).toBe(true);
    person.leave();
    void desk.stop('test');
    await pass(5_000, isOpen);
  });
});
