import { afterEach, describe, expect, it } from 'vitest';
import { countedReadings, type JobCommand } from '../../host/job';
import { simulatedOperator } from '../../host/bench';
import { scratchFolder } from '../store/scratch';
import { jobGauge, SimulatedBench } from './simulated-bench';

const closers: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of closers.splice(0)) await close();
});

/** A fuel gauge on the bench, and a person who asks and waits for the answer in virtual time. */
const opened = async (prepare: (bench: SimulatedBench) => void = () => undefined) => {
  const bench = new SimulatedBench('two-coil-fuel', { seed: 5 });
  prepare(bench);
  const gauge = jobGauge('two-coil-fuel');
  const opening = { title: 'tank', gauge, vehicle: 'Tern 1100 van (1971)', simulated: true };
  const open = await bench.openDesk(await scratchFolder(), { ...opening, place: 'bench' as const });
  closers.push(open.close);
  const { desk, pass } = open;
  const ask = async (command: JobCommand): Promise<string> => {
    let outcome: string | undefined;
    void desk.submit(command, 'test').then((result) => {
      outcome = result.kind === 'refused' ? result.code : 'accepted';
    });
    await pass(10_000, () => outcome !== undefined);
    return outcome ?? 'no answer';
  };
  return { bench, desk, pass, ask };
};

const start = { kind: 'start-sweep', choice: { mode: 'step-and-read', refinements: 0, repeats: 0 } } as const;

describe('a box that fails its self-test when a sweep starts', () => {
  it('is tripped for the host too, drives nothing until it was cleared, and sweeps once it is mended', async () => {
    const { bench, desk, pass, ask } = await opened();
    const { rail, vehicle } = bench.box.world;
    const healthyMillivolt = rail.supplyMillivolt;
    rail.supplyMillivolt = 1000;
    await ask(start);
    await pass(10_000, () => desk.state.trip !== undefined);
    expect(desk.state.trip).toMatchObject({ code: 'SELF_TEST', measured: 2, limit: 5 });
    expect(desk.live.trip?.reason).toContain('step 2');
    await pass(2_000);
    expect(desk.live.box.state).toBe('tripped');
    expect(await ask({ kind: 'resume-sweep' })).toBe('TRIPPED');

    rail.supplyMillivolt = healthyMillivolt;
    expect(await ask({ kind: 'clear-trip' })).toBe('accepted');
    await pass(5_000);
    expect(desk.live.box.state).toBe('safe');
    expect(await ask({ kind: 'resume-sweep' })).toBe('accepted');
    const person = simulatedOperator({ job: desk, look: () => vehicle.needle, clock: bench.clock, seed: 5 });
    expect(await pass(600_000, () => countedReadings(desk.state).length > 0)).toBe(true);
    person.leave();
    void desk.stop('test');
    await pass(5_000, () => desk.live.box.state === 'safe');
  });

  it('shows no number of a meter that was never read, and names the meter when the trip is to be cleared', async () => {
    const hung = (bench: SimulatedBench): void =>
      bench.box.world.converters.forEach((chip) => (chip.isHung = true));
    const { bench, desk, pass, ask } = await opened(hung);
    await pass(3_000, () => desk.live.box.boxMs !== undefined);
    await pass(2_000);
    expect(desk.live.output).toEqual({});
    await ask(start);
    expect(await pass(10_000, () => desk.state.trip !== undefined)).toBe(true);
    expect(desk.state.trip).toMatchObject({ code: 'SELF_TEST', measured: 3 });
    expect(await ask({ kind: 'clear-trip' })).toBe('METER_SILENT');
    bench.box.world.converters.forEach((chip) => (chip.isHung = false));
    await pass(1_000);
    expect(await ask({ kind: 'clear-trip' })).toBe('accepted');
    await pass(1_000);
    expect(desk.live.output.volt).toBeLessThan(20);
  });
});
