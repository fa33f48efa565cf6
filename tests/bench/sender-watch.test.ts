import { afterEach, describe, expect, it } from 'vitest';
import { fitSender, senderValueAt } from '../../host/core/sender';
import { dissipationFromTwoCurrents } from '../../host/core/sender/self-heating';
import { driftOf, proposalFor } from '../../host/bench/sender/watch-drift';
import { OHMMETER_RANGES } from '../../host/bench/box/ohmmeter-ranges';
import { SENDING_MS } from '../../host/bench/sender/self-heating-check';
import type { JobCommand, Opening } from '../../host/job';
import { coolantGauge } from '../job/sample';
import { scratchFolder } from '../store/scratch';
import { inSoak } from '../support/deep';
import { SimulatedBench, gaugeNamed } from './simulated-bench';

const SENDER = 'sender-1';
const about = { title: 'x', model: 'unknown', unit: 'degC' } as const;
const opening = (quantity: 'temperature' | 'fuel' = 'temperature'): Opening => ({
  title: 'Harrow Six reads high',
  gauge: { ...coolantGauge, quantity, marks: [...coolantGauge.marks] },
  vehicle: 'Harrow Six saloon (1964)',
  place: 'bench',
  simulated: true,
});

const closers: (() => Promise<void>)[] = [];
afterEach(async () => {
  for (const close of closers.splice(0)) await close();
});

const watched = async (needleSpeed = 1, what = opening(), name = 'thermal-temperature') => {
  const bench = new SimulatedBench(name, { seed: 3, needleSpeed });
  const open = await bench.openDesk(await scratchFolder(), what);
  closers.push(open.close);
  const { desk } = open;
  const ask = async (command: JobCommand): Promise<string> => {
    const result = await desk.submit(command, 'test');
    return result.kind === 'refused' ? result.code : 'accepted';
  };
  await ask({ kind: 'describe-sender', senderId: SENDER, title: 'new', model: 'unknown', unit: 'degC' });
  const thermometer = (): number => {
    const { calPost } = bench.box.world;
    return calPost.kind === 'bath' ? calPost.bath.thermometer : NaN;
  };
  return { ...open, bench, ask, thermometer };
};

const points = (desk: Awaited<ReturnType<typeof watched>>['desk']) => desk.state.senderPoints;

describe('the watch of a sender', () => {
  inSoak(
    'takes a whole cooling by itself, asking for the thermometer only, and finds the sender that lies in the bath',
    async () => {
      const { desk, bench, ask, pass, thermometer } = await watched();
      bench.box.world.putInBath({ sender: 'replacement' });
      expect(await ask({ kind: 'watch-sender', senderId: SENDER })).toBe('accepted');
      while (points(desk).length < 8) {
        const isAsking = () => desk.live.watch?.propose === 'moved' || desk.live.watch?.propose === 'steady';
        expect(await pass(600_000, isAsking)).toBe(true);
        const measureId = desk.live.watch?.measureId ?? -1;
        const value = Math.round(thermometer() * 10) / 10;
        // The person reads, then types for four seconds; the point belongs to the moment of reading.
        await pass(4_000);
        expect(await ask({ kind: 'take-watched-point', senderId: SENDER, measureId, value })).toBe(
          'accepted',
        );
      }
      const truth = gaugeNamed('thermal-temperature').replacementSender;
      const fitted = fitSender(points(desk), { unit: 'degC' });
      if (fitted.kind === 'refused') throw new Error(fitted.code);
      // The body follows the bath 12 s late, and the bath cools at most (98 - 20) K in 15 minutes at first: 1 K.
      for (const celsius of [60, 70, 80, 90]) {
        const shown = senderValueAt(fitted, truth(celsius));
        expect(shown.kind === 'refused' ? NaN : Math.abs(shown.value - celsius)).toBeLessThan(1.1);
      }
      for (const point of points(desk)) {
        expect(point).toMatchObject({ source: 'box', testMicroamp: 500 });
        expect(point.driftOhmPerMinute).toBeGreaterThan(0);
      }
    },
  );

  it('says what the box refuses, tries again by itself, and goes on when the sender is connected', async () => {
    const { desk, bench, ask, pass } = await watched();
    await ask({ kind: 'watch-sender', senderId: SENDER });
    await pass(5_000, () => desk.live.watch?.trouble !== undefined);
    expect(desk.live.watch?.trouble).toMatch(/\S/);
    expect(desk.live.watch?.resistanceOhm).toBeUndefined();
    bench.box.world.putInBath({ sender: 'original', holdAt: 80 });
    expect(await pass(10_000, () => desk.live.watch?.resistanceOhm !== undefined)).toBe(true);
    expect(desk.live.watch?.trouble).toBeUndefined();
  });

  it('pauses by hand, at the stop control, and when nobody looks; and never takes a measurement of another watch', async () => {
    const { desk, bench, ask, pass, leave } = await watched();
    bench.box.world.putInBath({ sender: 'original', holdAt: 80 });
    await ask({ kind: 'watch-sender', senderId: SENDER });
    await pass(5_000, () => desk.live.watch?.measureId !== undefined);
    const measureId = desk.live.watch?.measureId ?? -1;
    await ask({ kind: 'pause-watch' });
    await pass(2_000);
    const stood = desk.live.watch?.measureId;
    await pass(5_000);
    expect(desk.live.watch).toMatchObject({ status: 'paused', measureId: stood });
    await ask({ kind: 'watch-sender', senderId: SENDER });
    const stopping = desk.stop('test');
    await pass(2_000);
    await stopping;
    expect(desk.live.watch?.status).toBe('paused');
    await ask({ kind: 'end-watch' });
    expect(desk.live.watch).toBeUndefined();
    await ask({ kind: 'watch-sender', senderId: SENDER });
    expect(await ask({ kind: 'take-watched-point', senderId: SENDER, measureId, value: 80 })).toBe(
      'MEASURE_GONE',
    );
    leave();
    expect(await pass(30_000, () => desk.live.watch?.status === 'paused')).toBe(true);
  });

  it('gives another sender nothing of the one before, whatever was being measured when they were changed', async () => {
    const { desk, bench, ask, pass } = await watched();
    const other = 'sender-2';
    await ask({ kind: 'describe-sender', senderId: other, ...about });
    const truth = gaugeNamed('thermal-temperature').replacementSender;
    for (let phaseMs = 0; phaseMs < 700; phaseMs += 100) {
      bench.box.world.putInBath({ sender: 'original', holdAt: 80 });
      await ask({ kind: 'watch-sender', senderId: SENDER });
      await pass(5_000, () => desk.live.watch?.measureId !== undefined);
      await pass(phaseMs);
      bench.box.world.putInBath({ sender: 'replacement', holdAt: 80 });
      await ask({ kind: 'watch-sender', senderId: other });
      const shown = new Set<number>();
      await pass(2_000, () => {
        const { senderId, resistanceOhm } = desk.live.watch ?? {};
        if (senderId === other && resistanceOhm !== undefined) shown.add(resistanceOhm);
        return false;
      });
      expect(shown.size).toBeGreaterThan(0);
      for (const ohm of shown) expect(Math.abs(ohm / truth(80) - 1)).toBeLessThan(0.005);
    }
  });

  it('leaves the box to another job that asks for it', async () => {
    const { desk, another, bench, ask, pass } = await watched();
    bench.box.world.putInBath({ sender: 'original', holdAt: 80 });
    await ask({ kind: 'watch-sender', senderId: SENDER });
    await pass(5_000, () => desk.live.watch?.measureId !== undefined);
    const second = await another();
    await second.submit({ kind: 'describe-sender', senderId: 's', ...about }, 'phone');
    await second.submit({ kind: 'watch-sender', senderId: 's' }, 'phone');
    expect(desk.live.watch).toMatchObject({ status: 'paused', reason: 'another job uses the box' });
    expect(await pass(5_000, () => second.live.watch?.resistanceOhm !== undefined)).toBe(true);
  });

  it('goes on when what another job asks for is refused, for its plan, its precautions or its sender', async () => {
    const { desk, another, bench, ask, pass } = await watched();
    bench.box.world.putInBath({ sender: 'original', holdAt: 80 });
    await ask({ kind: 'watch-sender', senderId: SENDER });
    await pass(5_000, () => desk.live.watch?.measureId !== undefined);
    const second = await another();
    const refused = async (command: JobCommand): Promise<string> => {
      const outcome = await second.submit(command, 'phone');
      return outcome.kind === 'refused' ? outcome.code : 'accepted';
    };
    const start = { mode: 'step-and-read', fromOhm: 100, toOhm: 100 } as const;
    expect(await refused({ kind: 'start-sweep', choice: start })).toMatch(/^PLAN_/);
    expect(await refused({ kind: 'resume-sweep' })).toBe('NO_SWEEP');
    await second.submit({ kind: 'change-job', gauge: { ...opening().gauge, quantity: 'pressure' } }, 'phone');
    await second.submit({ kind: 'describe-sender', senderId: 's', ...about }, 'phone');
    expect(await refused({ kind: 'check-self-heating', senderId: 's', value: 2 })).toBe('HEATING_NOT_HERE');
    await second.submit({ kind: 'change-job', place: 'car' }, 'phone');
    expect(await refused({ kind: 'start-sweep', choice: { mode: 'step-and-read' } })).toBe('CONFIRM_FIRST');
    expect(await refused({ kind: 'watch-sender', senderId: 's' })).toBe('CONFIRM_FIRST');
    const stood = desk.live.watch?.measureId ?? NaN;
    expect(await pass(5_000, () => (desk.live.watch?.measureId ?? 0) > stood + 2)).toBe(true);
    expect(desk.live.watch?.status).toBe('measuring');
  });

  it('keeps nothing in the journal but the points, which can be taken back', async () => {
    const { desk, bench, ask, pass } = await watched(30);
    bench.box.world.putInBath({ sender: 'original', holdAt: 80 });
    await ask({ kind: 'watch-sender', senderId: SENDER });
    await pass(30_000, () => desk.live.watch?.propose === 'steady');
    const measureId = desk.live.watch?.measureId ?? -1;
    await ask({ kind: 'take-watched-point', senderId: SENDER, measureId, value: 176, unit: 'degF' });
    expect(points(desk)[0]).toMatchObject({ value: 80, given: { unit: 'degF', numbers: { value: 176 } } });
    expect(desk.events.map((event) => event.kind)).toEqual([
      'job-opened',
      'sender-described',
      'box-connected',
      'sender-point',
    ]);
    await ask({ kind: 'undo' });
    expect(points(desk)).toEqual([]);
  });

  it('measures the sender of a tank with the small current only, level by level', async () => {
    const { desk, bench, ask, pass } = await watched(30, opening('fuel'), 'two-coil-fuel');
    const truth = gaugeNamed('two-coil-fuel').replacementSender;
    await ask({ kind: 'watch-sender', senderId: SENDER });
    for (const level of [100, 60, 20]) {
      bench.box.world.putInBath({ sender: 'replacement', holdAt: level });
      await pass(60_000, () => {
        const { propose, resistanceOhm = 0 } = desk.live.watch ?? {};
        return propose === 'steady' && Math.abs(resistanceOhm / truth(level) - 1) < 0.01;
      });
      const measureId = desk.live.watch?.measureId ?? -1;
      await ask({ kind: 'take-watched-point', senderId: SENDER, measureId, value: level });
    }
    expect(points(desk).map((point) => point.testMicroamp)).toEqual([500, 500, 500]);
    for (const point of points(desk))
      expect(Math.abs(point.resistanceOhm / truth(point.value) - 1)).toBeLessThan(0.01);
  });

  it('needs the engine said to be cold before a sender in a car is measured', async () => {
    const { ask } = await watched(1, { ...opening(), place: 'car' });
    expect(await ask({ kind: 'watch-sender', senderId: SENDER })).toBe('CONFIRM_FIRST');
    await ask({ kind: 'confirm-safety', confirmation: 'engine-cold', probeCelsius: 21 });
    await ask({ kind: 'confirm-safety', confirmation: 'gauge-sender' });
    expect(await ask({ kind: 'watch-sender', senderId: SENDER })).toBe('accepted');
  });

  it('sends no current any more when its job turns out to be one in a car, until the engine is said to be cold', async () => {
    const { desk, bench, ask, pass } = await watched();
    bench.box.world.putInBath({ sender: 'original', holdAt: 80 });
    await ask({ kind: 'watch-sender', senderId: SENDER });
    await pass(5_000, () => desk.live.watch?.measureId !== undefined);
    await ask({ kind: 'change-job', place: 'car' });
    expect(await pass(5_000, () => desk.live.watch?.trouble?.includes('engine-cold') === true)).toBe(true);
    const stood = desk.live.watch?.measureId ?? NaN;
    await pass(5_000);
    expect(desk.live.watch?.measureId).toBe(stood);
    await ask({ kind: 'confirm-safety', confirmation: 'gauge-sender' });
    await ask({ kind: 'confirm-safety', confirmation: 'engine-cold', probeCelsius: 21 });
    expect(await pass(5_000, () => (desk.live.watch?.measureId ?? 0) > stood)).toBe(true);
  });
});

describe('the self-heating check', () => {
  it('finds from two currents how much heat the sender sheds, bath drifting or not', async () => {
    const { desk, bench, ask, pass } = await watched();
    bench.box.world.putInBath({ sender: 'replacement', holdAt: 60 });
    await ask({ kind: 'watch-sender', senderId: SENDER });
    await pass(90_000);
    expect(await ask({ kind: 'check-self-heating', senderId: SENDER, value: 60 })).toBe('accepted');
    expect(await pass(5_000, () => desk.live.watch?.status === 'heating')).toBe(true);
    expect(await pass(120_000, () => desk.state.selfHeating.length > 0)).toBe(true);
    const [seen] = desk.state.selfHeating;
    if (seen === undefined) throw new Error('nothing was kept');
    expect(seen.high.resistanceOhm).toBeLessThan(seen.low.resistanceOhm);
    const found = dissipationFromTwoCurrents({
      bathCelsius: 60,
      betaKelvin: 3780,
      low: { currentAmp: seen.low.microamp / 1e6, resistanceOhm: seen.low.resistanceOhm },
      high: {
        currentAmp: (seen.high.microamp / 1e6) * Math.sqrt(seen.onFraction),
        resistanceOhm: seen.high.resistanceOhm,
      },
      resistanceFraction: 0.0002,
    });
    // Simulated: 20 mW/K. The two ranges differ by up to 0.2 % (two references of 0.1 %), the rise is 3 % of R.
    expect(found.kind === 'dissipation' ? found.wattPerKelvin : NaN).toBeGreaterThan(0.016);
    expect(found.kind === 'dissipation' ? found.wattPerKelvin : NaN).toBeLessThan(0.025);
  });

  it('leaves the line to the heartbeat in between: the state of the box is never old', async () => {
    const { desk, bench, ask, pass } = await watched();
    bench.box.world.putInBath({ sender: 'replacement', holdAt: 60 });
    await ask({ kind: 'check-self-heating', senderId: SENDER, value: 60 });
    let [seenBoxMs, seenAtMs, longestMs] = [0, bench.clock.nowMs(), 0];
    const isOver = (): boolean => {
      const { boxMs = seenBoxMs } = desk.live.box;
      if (boxMs !== seenBoxMs) [seenBoxMs, seenAtMs] = [boxMs, bench.clock.nowMs()];
      longestMs = Math.max(longestMs, bench.clock.nowMs() - seenAtMs);
      return desk.state.selfHeating.length > 0;
    };
    expect(await pass(120_000, isOver)).toBe(true);
    expect(longestMs).toBeLessThan(2_000);
  }, 60_000);

  it('is refused for a fuel sender, which never gets the large current, and for a bath too cold (HEATING_TOO_COLD)', async () => {
    const fuel = await watched(1, opening('fuel'));
    expect(await fuel.ask({ kind: 'check-self-heating', senderId: SENDER, value: 50 })).toBe(
      'HEATING_NOT_HERE',
    );
    const { desk, bench, ask, pass } = await watched(30);
    bench.box.world.putInBath({ sender: 'replacement', holdAt: 25 });
    await pass(3_000);
    await ask({ kind: 'check-self-heating', senderId: SENDER, value: 25 });
    await pass(90_000, () => desk.live.watch?.status === 'paused');
    expect(desk.live.watch?.reason).toMatch(/warmer bath/);
    expect(desk.state.selfHeating).toEqual([]);
  });

  it('is called off with the watch (CALLED_OFF), and keeps nothing of what it had', async () => {
    const { desk, bench, ask, pass } = await watched();
    bench.box.world.putInBath({ sender: 'replacement', holdAt: 60 });
    await ask({ kind: 'check-self-heating', senderId: SENDER, value: 60 });
    await pass(30_000);
    await ask({ kind: 'end-watch' });
    await pass(120_000);
    expect(desk.state.selfHeating).toEqual([]);
    expect(desk.live.watch).toBeUndefined();
  });

  it('knows for how long the firmware sends its current in one measurement', async () => {
    const { bench, desk, ask, pass } = await watched();
    const { world } = bench.box;
    world.putInBath({ sender: 'replacement', holdAt: 60 });
    const spans: number[] = [];
    let onSinceMs: number | undefined;
    const sourceOn = world.sourceOn.bind(world);
    const sourceOff = world.sourceOff.bind(world);
    world.sourceOn = (range) => {
      onSinceMs ??= world.clock.nowMs;
      sourceOn(range);
    };
    world.sourceOff = () => {
      if (onSinceMs !== undefined) spans.push(world.clock.nowMs - onSinceMs);
      onSinceMs = undefined;
      sourceOff();
    };
    await ask({ kind: 'watch-sender', senderId: SENDER });
    await pass(20_000, () => spans.length > 4 && (desk.live.watch?.measureId ?? 0) > 4);
    const mean = spans.reduce((sum, span) => sum + span, 0) / spans.length;
    expect(mean).toBeGreaterThan(0.97 * SENDING_MS);
    expect(mean).toBeLessThan(1.03 * SENDING_MS);
    expect(OHMMETER_RANGES.map((range) => range.microamp)).toEqual([10_000, 500]);
  });
});

const measuresAt = (ohms: readonly number[], everyMs = 1_000) =>
  ohms.map((resistanceOhm, index) => ({
    measureId: index,
    atMs: index * everyMs,
    resistanceOhm,
    uncertaintyOhm: 0.01,
  }));

describe('drift', () => {
  it('is the slope of a straight line, whatever stands before the last 15 seconds', () => {
    const line = measuresAt([900, 900, 900, ...Array.from({ length: 15 }, (_, index) => 100 + 0.5 * index)]);
    expect(driftOf(line)?.ohmPerMinute).toBeCloseTo(30, 9);
  });

  it('is not told from fewer than four measurements', () => {
    expect(driftOf(measuresAt([100, 101, 102]))).toBeUndefined();
  });

  it('proposes a point when it stands still or has moved far enough, and none while it runs away', () => {
    const still = { ohmPerMinute: 0.1, relativePerMinute: 0.001 };
    const slow = { ohmPerMinute: 2, relativePerMinute: 0.02 };
    const fast = { ohmPerMinute: 20, relativePerMinute: 0.2 };
    expect(proposalFor(100, still, undefined)).toBe('steady');
    expect(proposalFor(100, still, 100.1)).toBeUndefined();
    expect(proposalFor(100, slow, 95)).toBeUndefined();
    expect(proposalFor(100, slow, 80)).toBe('moved');
    expect(proposalFor(100, fast, 80)).toBe('too-fast');
    expect(proposalFor(100, undefined, 80)).toBeUndefined();
  });
});
