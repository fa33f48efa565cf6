import { describe, expect, it } from 'vitest';
import { pins } from '../../../firmware-ts/board/reference-design';
import { ArmTask, selfTestStepCount, selfTestSteps } from '../../../firmware-ts/box/arm';
import { Parts } from '../../../firmware-ts/box/parts';
import type { Reply } from '../../../firmware-ts/box/wire';
import type { Device } from '../../../firmware-ts/device';
import type { DigitalOptions } from '../../../firmware-ts/ecma419';
import { jobLimits } from '../../../firmware-ts/guard/job-limits';
import { faults } from '../../../protocol';
import { MeterRig, correctZeros } from '../meter/rig';

const TICK_MS = 8;
/** Rail falls in 350 ms at most, rises, output contact opens, one conversion. */
const LONGEST_MS = 600;

const passed: Reply = { kind: 'refuse', refusal: 'STATE', detail: 0 };

type Bench = { readonly world: MeterRig['world']; readonly device: Device };

/** Runs the self-test as the main loop does, on a fed rail, and answers what it came to and when. */
function selfTest({ world, device }: Bench): { readonly reply: Reply | undefined; readonly tookMs: number } {
  const parts = new Parts(device);
  correctZeros(parts.meter, world);
  const now = (): number => Math.floor(world.clock.nowMs);
  const turn = (): boolean => {
    world.clock.advanceTo(world.clock.nowMs + TICK_MS);
    try {
      return parts.meter.tick(now());
    } catch {
      return false;
    }
  };
  for (let warm = 0; warm < 10; warm += 1) turn();
  parts.coils.pulse();
  turn();
  const job = { kind: 'magnetic', limits: jobLimits.magnetic } as const;
  const fromMs = now();
  const task = new ArmTask({ parts, job, passed: () => passed }, fromMs);
  while (now() - fromMs < LONGEST_MS) {
    const reply = task.tick(now(), turn());
    if (reply !== undefined) return { reply, tookMs: now() - fromMs };
    if (task.wantsCoils) parts.coils.pulse();
  }
  return { reply: undefined, tookMs: LONGEST_MS };
}

const failedAt = (detail: number): Reply => ({ kind: 'refuse', refusal: 'SELF_TEST', detail });

/** The same board with one input pin that always reads the same. */
function withPin({ world, device }: Bench, stuck: { pin: number; level: number }): Bench {
  const Digital = class extends device.io.Digital {
    static override readonly Input = device.io.Digital.Input;
    static override readonly InputPullUp = device.io.Digital.InputPullUp;
    static override readonly Output = device.io.Digital.Output;
    readonly #pin: number;
    constructor(options: DigitalOptions) {
      super(options);
      this.#pin = options.pin;
    }
    override read(): number {
      return this.#pin === stuck.pin ? stuck.level : super.read();
    }
  };
  return { world, device: { ...device, io: { ...device.io, Digital } } };
}

describe('the self-test before arming', () => {
  it('passes on a sound box, not before the rail has fallen and risen again', () => {
    const { reply, tookMs } = selfTest(new MeterRig());
    expect(reply).toEqual(passed);
    expect(tookMs).toBeGreaterThan(250);
  });

  it('fails at step 2 when the rail is weak, and when it is too high', () => {
    for (const supplyMillivolt of [4590, 5410]) {
      const rig = new MeterRig();
      rig.world.rail.supplyMillivolt = supplyMillivolt;
      expect(selfTest(rig).reply, `${supplyMillivolt} mV`).toEqual(
        failedAt(selfTestSteps.railRisesWithPulses),
      );
    }
  });

  it('fails at step 3 when the ready line never tells of a result', () => {
    const silent = withPin(new MeterRig(), { pin: pins.meterReady, level: 1 });
    expect(selfTest(silent).reply).toEqual(failedAt(selfTestSteps.meterReads));
  });

  it('fails at step 4 when the comparator reports current although the rail is up', () => {
    const tripped = withPin(new MeterRig(), { pin: pins.hardwareTrip, level: 0 });
    expect(selfTest(tripped).reply).toEqual(failedAt(selfTestSteps.comparatorIsQuiet));
  });

  it('fails at step 5 when current flows through an open output, not when half a milliamp leaks', () => {
    for (const [microamp, wanted] of [
      [450, passed],
      [550, failedAt(selfTestSteps.outputIsOpen)],
    ] as const) {
      const rig = new MeterRig();
      const { world } = rig;
      world.chain.contact('output')!.weld = 'closed';
      const { amp } = world.vehicle.terminal(world.pathOhm, 0);
      world.vehicle.settings.supplyVolt *= microamp / (amp * 1e6);
      expect(selfTest(rig).reply, `${microamp} microamp`).toEqual(wanted);
    }
  });

  it('refuses for the supply that is there, though nothing of the box has failed', () => {
    const rig = new MeterRig();
    rig.world.vehicle.settings.supplyVolt = 34;
    const { reply } = selfTest(rig);
    expect(reply).toEqual({ kind: 'refuse', refusal: 'FAULT_PRESENT', detail: faults.SUPPLY_HIGH.number });
  });

  it('counts as many steps as the event of a failed one tells', () => {
    expect(selfTestStepCount).toBe(Math.max(...Object.values(selfTestSteps)));
    expect(selfTestStepCount).toBe(Object.keys(selfTestSteps).length);
  });
});
