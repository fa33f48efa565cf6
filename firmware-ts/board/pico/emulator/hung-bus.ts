import { startDriving, tripOf } from './drive';
import type { Job } from './drive';
import type { Rig } from './rig';

/** Times from the moment the bus hangs, ms; NaN: never. */
export type Hung = {
  readonly trouble: string | undefined;
  /** K16's pin goes low; its contact is open; its supply is gone. */
  readonly commandedMs: number;
  readonly openedMs: number;
  readonly supplyGoneMs: number;
  readonly pulseGapMaxMs: number;
  readonly turnMaxMs: number;
  readonly told: string | undefined;
  /** The box answers again after the bus is free, and the meter reads. */
  readonly isBack: boolean;
};

const HUNG_MS = 1000;

/** A converter holds the clock line low while the box drives. */
export function hungBus(rig: Rig, job: Job): Hung {
  const { chip, box, line, tally } = rig;
  const trouble = startDriving(rig, job);
  rig.pass(300);
  line.ask({ name: 'heartbeat', fields: { channel: 0 } });
  const startNanos = chip.clock.nanos;
  const since = (atNanos: number): number => (atNanos - startNanos) / 1e6;
  let [commandedMs, openedMs, supplyGoneMs] = [NaN, NaN, NaN];
  box.watch.command = (isOn, at) => {
    if (!isOn && Number.isNaN(commandedMs)) commandedMs = since(at);
  };
  box.watch.output = (isClosed, at) => {
    if (!isClosed && Number.isNaN(openedMs)) openedMs = since(at);
  };
  box.watch.rail = (isOn, at) => {
    if (!isOn && Number.isNaN(supplyGoneMs)) supplyGoneMs = since(at);
  };
  tally.restart();
  box.bus.hang(true);
  rig.pass(100);
  const { pulseGapMaxMs, turnMaxMs } = tally.figures();
  rig.pass(HUNG_MS - 100);
  line.ask({ name: 'heartbeat', fields: { channel: 0 } });
  const told = tripOf(rig);
  box.bus.hang(false);
  rig.pass(300);
  const outcome = line.ask({ name: 'heartbeat', fields: { channel: 0 } });
  const isBack =
    outcome?.kind === 'answer' && outcome.name === 'heartbeat' && outcome.fields.meterAgeMs < HUNG_MS / 10;
  return { trouble, commandedMs, openedMs, supplyGoneMs, pulseGapMaxMs, turnMaxMs, told, isBack };
}
