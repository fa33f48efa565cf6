import type { BenchClock } from '../../host/bench';
import type {
  ClusterLook,
  NeedleLook,
  SimulatedBox as WatchedBox,
  SimulatedBoxOptions,
  SimulatedCluster as WatchedCluster,
  SimulatedClusterOptions,
} from '../../host/link';
import { SimulatedBox } from '../../firmware-ts/board/simulated/bench';
import { ClusterBoxes } from '../../firmware-ts/board/simulated/cluster/boxes';
import { simulatedCluster } from '../../firmware-ts/board/simulated/cluster/clusters';
import { simulatedGauge } from '../../firmware-ts/board/simulated/gauges/catalogue';
import { applyChange } from '../../firmware-ts/board/simulated/world-change';
import { ManualClock } from '../support/manual-clock';

const DAY_MS = 86_400_000;
const BOX_TICK_MS = 5;
/** How often time is moved on, and the dash looked at, in real time. */
const PACE_MS = 4;
const LOOK_MS = 50;
/** A process that stood still for longer does not make up for it: box and bench stand still together. */
const LONGEST_LEAP_MS = 40;

/** The time of a bench and of its box. It runs `pace` times as fast as the machine's own while the machine keeps up. */
class LentClock extends ManualClock implements BenchClock {
  readonly #startMs = Date.now();
  #isRunning = true;

  nowIso(): string {
    return new Date(this.#startMs + this.nowMs()).toISOString();
  }

  async run(pace: number): Promise<void> {
    let lastMs = performance.now();
    while (this.#isRunning) {
      await new Promise((resolve) => setTimeout(resolve, PACE_MS));
      const nowMs = performance.now();
      await this.advance(pace * Math.min(nowMs - lastMs, LONGEST_LEAP_MS));
      lastMs = nowMs;
    }
  }

  stop(): void {
    this.#isRunning = false;
  }
}

export type LentTime = {
  readonly clock: BenchClock;
  readonly simulatedBox: (options: SimulatedBoxOptions) => WatchedBox;
  readonly simulatedCluster: (options: SimulatedClusterOptions) => WatchedCluster;
  stop(): void;
};

/**
 * A clock for bench and box together, and simulated boxes that live in it. Firmware, board and vehicle are those of the
 * program; they run in this process, in step with the bench, so that a machine that is busy delays both alike and no
 * deadline between them is ever missed for want of time.
 */
export function lentTime(pace: number): LentTime {
  const clock = new LentClock();
  void clock.run(pace);
  return {
    clock,
    simulatedBox: (options) => boxIn(clock, options),
    simulatedCluster: (options) => clusterIn(clock, options),
    stop: () => clock.stop(),
  };
}

function boxIn(clock: LentClock, { gauge: name, seed = 1, speed = 1 }: SimulatedBoxOptions): WatchedBox {
  const gauge = simulatedGauge(name);
  if (gauge === undefined) throw new Error(`no simulated gauge ${name}`);
  const watchers = new Set<(look: NeedleLook) => void>();
  let received: (bytes: Uint8Array) => void = () => undefined;
  let isStopped = false;
  const box = new SimulatedBox({
    gauge,
    seed,
    speed,
    calibrationDay: Math.floor(Date.now() / DAY_MS) - 30,
    bootSalt: Math.floor(Math.random() * 2 ** 32),
    sent: (bytes) => received(bytes.slice()),
  });
  const tick = (): void => {
    if (isStopped) return;
    box.advance(BOX_TICK_MS);
    clock.after(BOX_TICK_MS, tick);
  };
  tick();
  const looking = setInterval(() => watchers.forEach((watch) => watch(lookAt(box))), LOOK_MS);
  return {
    source: {
      title: `simulated box (${name})`,
      connect(listener) {
        const hears = (bytes: Uint8Array): void => listener.received(bytes);
        received = hears;
        return Promise.resolve({
          write(bytes) {
            if (received === hears && !isStopped) box.receive(bytes);
          },
          close() {
            if (received === hears) received = () => undefined;
            return Promise.resolve();
          },
        });
      },
    },
    subscribeNeedle(watch) {
      watchers.add(watch);
      return () => watchers.delete(watch);
    },
    tellWorld(change) {
      const trouble = applyChange(box, JSON.stringify(change));
      if (trouble !== undefined) throw new Error(trouble);
    },
    stop() {
      isStopped = true;
      clearInterval(looking);
      return Promise.resolve();
    },
  };
}

function clusterIn(clock: LentClock, asked: SimulatedClusterOptions): WatchedCluster {
  const { cluster: name, boxCount, order, seed = 1, speed = 1 } = asked;
  const cluster = simulatedCluster(name);
  if (cluster === undefined) throw new Error(`no simulated cluster ${name}`);
  const watchers = new Set<(look: ClusterLook) => void>();
  const received = new Map<number, (bytes: Uint8Array) => void>();
  let isStopped = false;
  const boxes = new ClusterBoxes({
    cluster,
    count: boxCount,
    ...(order === undefined ? {} : { order }),
    seed,
    speed,
    calibrationDay: Math.floor(Date.now() / DAY_MS) - 30,
    bootSalt: Math.floor(Math.random() * 2 ** 32),
    sent: (box, bytes) => received.get(box)?.(bytes.slice()),
  });
  const tick = (): void => {
    if (isStopped) return;
    boxes.advance(BOX_TICK_MS);
    clock.after(BOX_TICK_MS, tick);
  };
  tick();
  const looking = setInterval(() => {
    for (const [box, each] of boxes.boxes.entries())
      watchers.forEach((watch) => watch({ ...lookAt(each), box, gauge: boxes.gaugeOf[box] ?? box }));
  }, LOOK_MS);
  return {
    sources: boxes.boxes.map((_, box) => ({
      title: `simulated box ${box + 1} (${name})`,
      connect(listener) {
        const hears = (bytes: Uint8Array): void => listener.received(bytes);
        received.set(box, hears);
        return Promise.resolve({
          write(bytes) {
            if (received.get(box) === hears && !isStopped) boxes.receive(box, bytes);
          },
          close() {
            if (received.get(box) === hears) received.delete(box);
            return Promise.resolve();
          },
        });
      },
    })),
    subscribeNeedles(watch) {
      watchers.add(watch);
      return () => watchers.delete(watch);
    },
    tellWorld(change) {
      const trouble = boxes.applyChange(JSON.stringify(change));
      if (trouble !== undefined) throw new Error(trouble);
    },
    stop() {
      isStopped = true;
      clearInterval(looking);
      return Promise.resolve();
    },
  };
}

const lookAt = ({ world, nowMs }: SimulatedBox): NeedleLook => ({
  ms: nowMs,
  angleFraction: world.vehicle.needle.angleFraction,
  senderOhm: Number.isFinite(world.pathOhm) ? world.pathOhm : undefined,
  thermometer:
    world.calPost.kind === 'bath' ? Math.round(world.calPost.bath.thermometer * 10) / 10 : undefined,
});
