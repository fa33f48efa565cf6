import { stateName } from '../../protocol';
import type { Fields } from '../../protocol';
import { Bench } from './bench';

/** One fault tried, and what was wrong afterwards; nothing means that it was survived. */
export type Attempt = { readonly fault: string; readonly trouble: string | undefined };

const LEASE_MS = 1500;
/** The firmware notices within a turn of its loop; without firmware the one-shot runs out. */
const OPEN_AFTER_LEASE_MS = LEASE_MS + 50;
const OPEN_BY_HARDWARE_MS = 400;
const ASKED_OHM = [60, 200] as const;
const STEP_MS = 2;

type Step = { readonly name: string; readonly frame: (rig: Rig) => Uint8Array };

const GAUGE = 'two-coil-fuel';

/** A bench that remembers every setting it has asked for. */
class Rig {
  readonly bench = new Bench({ gauge: GAUGE });
  readonly asked: Fields<'set'>[] = [];
  table: readonly number[] = [];

  constructor() {
    this.bench.hello();
    this.table = this.bench.table();
    for (const ohm of ASKED_OHM) this.asked.push(this.bench.setting(ohm, this.table));
  }

  /** Nothing may be closed that was never asked: neither at rest nor on the way. */
  unasked(): string | undefined {
    const { world } = this.bench.box;
    if (this.bench.isOutputOpen) return undefined;
    const lowest = Math.min(...this.asked.map(({ resistanceMilliohm }) => resistanceMilliohm)) / 1000;
    return world.pathOhm >= lowest - 0.5 ? undefined : `${world.pathOhm.toFixed(1)} ohm were never asked for`;
  }
}

const steps: readonly Step[] = [
  { name: 'hello', frame: ({ bench }) => bench.frame('hello', helloFields(1)) },
  { name: 'jobLimits', frame: ({ bench }) => bench.frame('jobLimits', { channel: 0, jobKind: 1 }) },
  { name: 'arm', frame: ({ bench }) => bench.frame('arm', armFields) },
  { name: 'set 60', frame: ({ bench, asked }) => bench.frame('set', asked[0]!) },
  { name: 'heartbeat', frame: ({ bench }) => bench.frame('heartbeat', { channel: 0 }) },
  { name: 'measure', frame: ({ bench }) => bench.frame('measure', { channel: 0 }) },
  { name: 'set 200', frame: ({ bench, asked }) => bench.frame('set', asked[1]!) },
  { name: 'element', frame: ({ bench }) => bench.frame('element', { index: 4 }) },
  { name: 'acknowledge', frame: ({ bench }) => bench.frame('acknowledge', { eventSequence: 1 }) },
  { name: 'clear', frame: ({ bench }) => bench.frame('clear', { channel: 0, faultCode: 1 }) },
  { name: 'open', frame: ({ bench }) => bench.frame('open', { channel: 0 }) },
  // With the vehicle still connected: measuring and calibrating must find that out before anything closes.
  { name: 'ohmmeter', frame: ({ bench }) => bench.frame('ohmmeter', ohmmeterFields) },
  {
    name: 'calibrateElement',
    frame: ({ bench }) => bench.frame('calibrateElement', { channel: 0, index: RESIDUAL_ROW }),
  },
  { name: 'calibrateStore', frame: ({ bench }) => bench.frame('calibrateStore', storeFields) },
];

const RESIDUAL_ROW = 15;
const ohmmeterFields: Fields<'ohmmeter'> = { channel: 0, jobKind: 1, currentMicroamp: 500 };
const storeFields: Fields<'calibrateStore'> = { channel: 0, calibrationId: 43, validDayCount: 365 };

const helloFields = (hostNonce: number): Fields<'hello'> => ({
  protocolMajorMin: 1,
  protocolMajorMax: 1,
  hostNonce,
  hostDay: 20_700,
});

const armFields: Fields<'arm'> = {
  channel: 0,
  jobKind: 1,
  currentLimitMilliamp: 250,
  elementPowerLimitMilliwatt: 3000,
  totalPowerLimitMilliwatt: 4000,
  supplyLimitMillivolt: 16_000,
  floorMilliohm: 8000,
  floorTimeMs: 5000,
  leaseMs: LEASE_MS,
  originalLeastMilliohm: 0,
};

/** A rig after the first `count` steps, all of them done. */
function rigAt(count: number): Rig {
  const rig = new Rig();
  for (const step of steps.slice(0, count)) rig.bench.deliver(step.frame(rig));
  return rig;
}

/** Lives on in silence and watches every instant; what was wrong, or nothing. */
function watch(rig: Rig, forMs: number, mustOpenWithinMs: number): string | undefined {
  const { box } = rig.bench;
  const fromMs = box.nowMs;
  while (box.nowMs - fromMs < forMs) {
    box.advance(STEP_MS);
    const unasked = rig.unasked();
    if (unasked !== undefined) return unasked;
    const silentMs = box.nowMs - fromMs;
    if (silentMs > mustOpenWithinMs && !rig.bench.isOutputOpen)
      return `still closed after ${silentMs.toFixed(0)} ms`;
  }
  return undefined;
}

/** Greets anew: the box's word must be the truth, and after clearing it must work again. */
function truthAndRecovery(rig: Rig): string | undefined {
  const { bench } = rig;
  const hello = bench.hello(99);
  const state = stateName(hello.state ?? -1);
  bench.box.advance(20);
  if (state !== 'safe' && state !== 'tripped') return `greeting says ${state}`;
  if (!bench.isOutputOpen) return `greeting says ${state} but the output is closed`;
  const { faultCode = 0 } = bench.beat();
  if (faultCode !== 0) bench.ask('clear', { channel: 0, faultCode });
  if (bench.ask('arm', armFields).refused !== undefined) return 'cannot be armed again';
  bench.box.advance(200);
  if (bench.ask('set', rig.asked[0]!).refused !== undefined) return 'cannot be set again';
  bench.live(200);
  const { madeMilliohm = 0 } = bench.beat();
  const gapOhm = Math.abs(madeMilliohm / 1000 - bench.box.world.pathOhm);
  return gapOhm <= 0.5 ? undefined : `says ${madeMilliohm} milliohm, is ${bench.box.world.pathOhm} ohm`;
}

function attempt(fault: string, run: () => string | undefined): Attempt {
  try {
    return { fault, trouble: run() };
  } catch (reason) {
    return { fault, trouble: reason instanceof Error ? reason.message : 'threw something' };
  }
}

/** The link is cut after every byte of every message. */
function cutLink(): Attempt[] {
  return steps.flatMap((step, index) => {
    const length = step.frame(rigAt(0)).length;
    return Array.from({ length }, (_, cut) =>
      attempt(`link cut after byte ${cut} of ${step.name}`, () => {
        const rig = rigAt(index);
        rig.bench.box.receive(step.frame(rig).slice(0, cut));
        return watch(rig, OPEN_AFTER_LEASE_MS + 100, OPEN_AFTER_LEASE_MS) ?? truthAndRecovery(rig);
      }),
    );
  });
}

/** The chip restarts before, during and after every message. */
function reboot(): Attempt[] {
  const instantsMs = [0, 1, 4, 9, 16, 25, 60, 120];
  return steps.flatMap((step, index) =>
    instantsMs.flatMap((afterMs) =>
      (['power', 'watchdog', 'brown-out'] as const).map((cause) =>
        attempt(`restart (${cause}) ${afterMs} ms into ${step.name}`, () => {
          const rig = rigAt(index);
          rig.bench.box.receive(step.frame(rig));
          rig.bench.box.advance(afterMs);
          rig.bench.box.restart(cause);
          return watch(rig, 100, 20) ?? truthAndRecovery(rig);
        }),
      ),
    ),
  );
}

/** The program hangs before, during and after every message, with the pulse pin either way. */
function hangProgram(): Attempt[] {
  return steps.flatMap((step, index) =>
    [0, 5, 20, 80].map((afterMs) =>
      attempt(`program hangs ${afterMs} ms into ${step.name}`, () => {
        const rig = rigAt(index);
        rig.bench.box.receive(step.frame(rig));
        rig.bench.box.advance(afterMs);
        rig.bench.box.hang();
        const trouble = watch(rig, OPEN_BY_HARDWARE_MS + 100, OPEN_BY_HARDWARE_MS);
        rig.bench.box.restart('watchdog');
        return trouble ?? truthAndRecovery(rig);
      }),
    ),
  );
}

/** Every byte of every message is damaged, in two ways. */
export function corrupt(): Attempt[] {
  return steps.flatMap((step, index) => {
    const length = step.frame(rigAt(0)).length;
    return Array.from({ length }, (_, at) => [0x01, 0xff].map((flip) => ({ at, flip }))).flatMap((hits) =>
      hits.map(({ at, flip }) =>
        attempt(`byte ${at} of ${step.name} damaged by ${flip}`, () => {
          const rig = rigAt(index);
          const bytes = step.frame(rig);
          bytes[at] = bytes[at]! ^ flip;
          rig.bench.box.receive(bytes);
          return watch(rig, OPEN_AFTER_LEASE_MS + 100, OPEN_AFTER_LEASE_MS) ?? truthAndRecovery(rig);
        }),
      ),
    );
  });
}

/** Messages are lost, doubled, overtaken by the next one, or come again much later. */
export function disorder(): Attempt[] {
  const ways: readonly (readonly [string, (frames: readonly Uint8Array[]) => readonly Uint8Array[]])[] = [
    ['lost', ([_first, second]) => [second!]],
    ['doubled', ([first, second]) => [first!, first!, second!]],
    ['overtaken', ([first, second]) => [second!, first!]],
    ['repeated late', ([first, second]) => [first!, second!, first!]],
  ];
  return steps.slice(0, -1).flatMap((step, index) =>
    ways.map(([way, order]) =>
      attempt(`${step.name} ${way}`, () => {
        const rig = rigAt(index);
        const frames = order([step.frame(rig), steps[index + 1]!.frame(rig)]);
        for (const frame of frames) {
          rig.bench.box.receive(frame);
          const trouble = watch(rig, 300, LEASE_MS);
          if (trouble !== undefined) return trouble;
        }
        return watch(rig, OPEN_AFTER_LEASE_MS + 100, OPEN_AFTER_LEASE_MS) ?? truthAndRecovery(rig);
      }),
    ),
  );
}

/** The converter hangs at every step, one or both. */
function hangMeter(): Attempt[] {
  return steps.flatMap((step, index) =>
    [[0], [1], [0, 1]].map((hung) =>
      attempt(`converter ${hung.join('+')} hangs at ${step.name}`, () => {
        const rig = rigAt(index);
        const { converters } = rig.bench.box.world;
        for (const each of hung) converters[each === 0 ? 0 : 1].isHung = true;
        rig.bench.box.receive(step.frame(rig));
        const trouble = watch(rig, OPEN_AFTER_LEASE_MS + 100, OPEN_AFTER_LEASE_MS);
        for (const converter of converters) converter.isHung = false;
        return trouble ?? truthAndRecovery(rig);
      }),
    ),
  );
}

/** Every contact is welded or fails open while driving; the box opens, or the host sees the true resistance. */
export function weld(): Attempt[] {
  const names = [...Array.from({ length: 14 }, (_, index) => index), 'limiter', 'output'] as const;
  return names.flatMap((name) =>
    (['closed', 'open'] as const).flatMap((as) =>
      ASKED_OHM.map((_ohm, which) =>
        attempt(`contact ${name} fails ${as} before ${ASKED_OHM[which]} ohm`, () => {
          const rig = rigAt(which === 0 ? 4 : 3);
          rig.bench.box.world.chain.contact(name)!.weld = as;
          rig.bench.deliver(rig.bench.frame('set', rig.asked[which]!));
          return afterWeld(rig, name === 'output' && as === 'closed');
        }),
      ),
    ),
  );
}

function afterWeld(rig: Rig, isOutputWelded: boolean): string | undefined {
  const { bench } = rig;
  const beat = bench.live(500);
  if (isOutputWelded) {
    bench.ask('open', { channel: 0 });
    bench.box.advance(700);
    if (bench.state() !== 'tripped') return 'a welded output was not noticed';
    return bench.box.world.pathOhm > 6000 ? undefined : 'not everything is in the path of a welded output';
  }
  if (bench.isOutputOpen) return bench.state() === 'tripped' ? undefined : 'open, but not tripped';
  const measuredOhm = (beat.measuredMilliohm ?? 0) / 1000;
  const gapOhm = Math.abs(measuredOhm - bench.box.world.pathOhm);
  if (gapOhm > 0.15 + 0.004 * bench.box.world.pathOhm)
    return `measured ${measuredOhm}, true ${bench.box.world.pathOhm}`;
  const madeOhm = (beat.madeMilliohm ?? 0) / 1000;
  return Math.abs(madeOhm - measuredOhm) <= 0.7 + 0.025 * madeOhm
    ? undefined
    : `made ${madeOhm}, measured ${measuredOhm}`;
}

/** Every kind of fault, by name. */
export const faultKinds: readonly (readonly [name: string, run: () => Attempt[]])[] = [
  ['link cut at every byte of every message', cutLink],
  ['restart at every step', reboot],
  ['program hangs at every step', hangProgram],
  ['every byte of every message damaged', corrupt],
  ['messages lost, doubled, overtaken, late', disorder],
  ['converter hangs at every step', hangMeter],
  ['each contact welded or open', weld],
];
