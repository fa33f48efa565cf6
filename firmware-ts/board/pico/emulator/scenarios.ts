import type { RunOptions, ScenarioName } from './arguments';
import { calibrate } from './calibrate';
import type { ChipParts } from './chip';
import { jobKinds } from './drive';
import { hold } from './hold';
import type { Held } from './hold';
import { hungBus } from './hung-bus';
import { ohmmeter } from './ohmmeter';
import { powerCuts } from './power-cut';
import { Rig } from './rig';
import type { Figures } from './tally';
import type { Gauge } from './world';

/** One run of the harness. */
export type Session = {
  readonly parts: ChipParts;
  readonly options: RunOptions;
  /** What the end of the flash holds after a calibration. */
  storage: Uint8Array | undefined;
  readonly print: (line: string) => void;
  readonly keep: (storage: Uint8Array) => void;
};

/** 5 V behind the heater of a thermal gauge (12.2 ohm: the published circuit of hardware-notes), steady. */
const steady: Gauge = { kind: 'gauge', feedVolt: 5, seriesOhm: 12.2 };
/** The same gauge on a stabiliser that switches the battery: pulses of 12.6 V once a second that heat as 5 V do. */
const pulsing: Gauge = {
  kind: 'gauge',
  feedVolt: 12.6,
  seriesOhm: 12.2,
  pulse: { periodMs: 1000, duty: (5 / 12.6) ** 2 },
};

/** The last: 60 ms of patience with a silent meter, and a turn. */
const LIMITS = { pulseGapMs: 45, meterAgeMs: 45, turnMs: 20.5, busReactionMs: 72 } as const;
const WRAPS = { signed: 2 ** 31, unsigned: 2 ** 32 } as const;
/** A third of the time before the wrap, the rest after it. */
const BEFORE_WRAP = 1 / 3;

/** Runs one scenario, prints its figures, and answers whether they are good. */
export function runScenario(session: Session, name: ScenarioName): boolean {
  switch (name) {
    case 'calibrate':
      return runCalibrate(session).isGood;
    case 'hold':
      return runHolds(session, 'heartbeat', steady);
    case 'measure':
      return runHolds(session, 'measure', steady);
    case 'pulsing':
      return runHolds(session, 'heartbeat', pulsing);
    case 'ohmmeter':
      return runOhmmeter(session);
    case 'hung-bus':
      return runHungBus(session);
    case 'clock-wrap':
      return runClockWrap(session);
    case 'power-cut':
      return runPowerCuts(session);
  }
}

function start(session: Session, nanos = 0, storage = session.storage): Rig {
  return new Rig(session.parts, storage === undefined ? { nanos } : { nanos, storage });
}

function runCalibrate(session: Session): { readonly isGood: boolean; readonly rig: Rig } {
  const rig = start(session);
  const { refused, tookMs, goodCopyCount } = calibrate(rig);
  session.print(
    `calibrate: ${refused ?? `${goodCopyCount} good copies`}, ${tookMs.toFixed(0)} ms, ${figuresText(rig.tally.figures())}`,
  );
  if (refused === undefined) {
    session.storage = rig.chip.storage();
    session.keep(session.storage);
  }
  return { isGood: refused === undefined && goodCopyCount === 2 && rig.resetCount === 0, rig };
}

/** The other scenarios need a box with a table. */
function ensureTable(session: Session): void {
  if (session.storage === undefined) runCalibrate(session);
}

function runHolds(session: Session, asks: Held['asks'], gauge: Gauge): boolean {
  ensureTable(session);
  const forMs = session.options.seconds * 1000;
  return session.options.ohms
    .map((ohm) => {
      const job = { ohm, gauge, jobKind: ohm < 8 ? jobKinds.magnetic : jobKinds.thermal };
      const rig = start(session);
      const held = hold(rig, { job, asks, forMs });
      return (
        printHeld(session, `${gauge.pulse === undefined ? 'hold' : 'pulsing'} ${asks}`, held) &&
        rig.resetCount === 0
      );
    })
    .every(Boolean);
}

function printHeld({ print }: Session, title: string, held: Held): boolean {
  const { ohm, heldMs, opened, measuredOhm, trueOhm, figures } = held;
  print(
    `${title} ${ohm} ohm: ${opened ?? 'held'} after ${(heldMs / 1000).toFixed(1)} s, ` +
      `measured ${measuredOhm.toFixed(3)} of ${trueOhm.toFixed(3)} ohm, ${figuresText(figures)}`,
  );
  const isInTime = figures.pulseGapMaxMs <= LIMITS.pulseGapMs && figures.meterAgeMaxMs <= LIMITS.meterAgeMs;
  return opened === undefined && isInTime && !(figures.turnMaxMs > LIMITS.turnMs);
}

function figuresText(figures: Figures): string {
  const ms = (value: number): string => value.toFixed(1);
  return (
    `turn ${ms(figures.turnMedianMs)} median, ${ms(figures.turnP99Ms)} p99, ${ms(figures.turnMaxMs)} max of ` +
    `${figures.turnCount}, pulse gap ${ms(figures.pulseGapMaxMs)}, meter age ${ms(figures.meterAgeMaxMs)} ms`
  );
}

function runOhmmeter(session: Session): boolean {
  ensureTable(session);
  const { ohm, restMs, tookMs, readOhm, refused, isRight } = ohmmeter(start(session), {
    ohm: 470,
    restMs: session.options.seconds * 1000,
  });
  session.print(
    `ohmmeter ${ohm} ohm after ${restMs / 1000} s of rest: ${refused ?? `${readOhm.toFixed(3)} ohm`}, ${tookMs.toFixed(0)} ms`,
  );
  return isRight;
}

function runHungBus(session: Session): boolean {
  ensureTable(session);
  const hung = hungBus(start(session), { ohm: 100, gauge: steady, jobKind: jobKinds.thermal });
  const ms = (value: number): string => `${value.toFixed(1)} ms`;
  session.print(
    `hung bus: ${hung.trouble ?? hung.told ?? 'not told'}; K16 commanded off after ${ms(hung.commandedMs)}, open after ` +
      `${ms(hung.openedMs)}, supply gone after ${ms(hung.supplyGoneMs)}, longest turn ${ms(hung.turnMaxMs)}; ` +
      `afterwards ${hung.isBack ? 'the meter reads again' : 'silent'}`,
  );
  return hung.trouble === undefined && hung.isBack && hung.commandedMs <= LIMITS.busReactionMs;
}

/** Driving and at rest from before each wrap of the millisecond count to after it. */
function runClockWrap(session: Session): boolean {
  ensureTable(session);
  const forMs = session.options.seconds * 1000;
  const beforeMs = forMs * BEFORE_WRAP;
  return Object.entries(WRAPS)
    .map(([name, wrapMs]) => {
      const startNanos = (wrapMs - beforeMs) * 1e6;
      const driving = start(session, startNanos);
      const job = { ohm: 100, gauge: steady, jobKind: jobKinds.thermal };
      const held = hold(driving, { job, asks: 'heartbeat', forMs });
      const isHeld = printHeld(session, `clock wrap (${name}), driving`, held);
      const read = ohmmeter(start(session, startNanos), { ohm: 470, restMs: forMs });
      session.print(
        `clock wrap (${name}), ${forMs / 1000} s at rest: ohmmeter ${read.refused ?? `${read.readOhm.toFixed(3)} ohm`}`,
      );
      return isHeld && read.isRight;
    })
    .every(Boolean);
}

function runPowerCuts(session: Session): boolean {
  const { isGood, rig } = runCalibrate(session);
  if (!isGood) return false;
  const { cuts, trouble } = powerCuts(rig, (storage) => start(session, 0, storage));
  for (const { kind, before, during, after, isRight } of cuts) {
    session.print(
      `power cut in ${kind}: ${before} stored, ${during} being stored, ${after} after: ${isRight ? 'right' : 'WRONG'}`,
    );
  }
  if (trouble !== undefined) session.print(`power cut: ${trouble}`);
  return trouble === undefined && cuts.length > 0 && cuts.every(({ isRight }) => isRight);
}
