import { join } from 'node:path';
import { openBench, simulatedOperator, type Human, type OpenJob } from '../../host/bench';
import { dialFromMarks, readingForAngle } from '../../host/core/dial';
import type { Gauge, Opening, SweepChoice } from '../../host/job';
import { keepLink, openLink, type ByteSource } from '../../host/link';
import { SimulatedBox } from '../../firmware-ts/board/simulated/bench';
import { describeGauge } from '../../firmware-ts/board/simulated/describe';
import { simulatedGauge, type SimulatedGauge } from '../../firmware-ts/board/simulated/gauges/catalogue';
import { answered } from '../support/answer';
import { deskOf } from './setup';
import { runUntil, VirtualClock } from './virtual-clock';

const TICK_MS = 5;
const TODAY = 20_500;

export const fiveGauges = [
  'thermal-temperature',
  'two-coil-fuel',
  'cross-coil-temperature',
  'moving-coil-pressure',
  'electronic-temperature',
] as const;

export const gaugeNamed = (name: string): SimulatedGauge => {
  const gauge = simulatedGauge(name);
  if (gauge === undefined) throw new Error(`no simulated gauge ${name}`);
  return gauge;
};

/** Where the needle truly comes to rest at a resistance, without friction and scatter, as part of the arc. */
const trueAngle = (gauge: SimulatedGauge, senderOhm: number): number => {
  const { mechanism, marks, originalSender } = gauge;
  const first = mechanism.steadyDrive(originalSender(marks[0]!.reading));
  const last = mechanism.steadyDrive(originalSender(marks.at(-1)!.reading));
  return (mechanism.steadyDrive(senderOhm) - first) / (last - first);
};

/** The same in dial units, by the dial as it is drawn. */
export const truth = (gauge: SimulatedGauge, senderOhm: number): number =>
  readingForAngle(answered(dialFromMarks(jobGauge(gauge.name).marks)), trueAngle(gauge, senderOhm));

/** The job a person would open for this gauge. */
export const jobGauge = (name: string): Gauge => {
  const told = describeGauge(gaugeNamed(name));
  const gaps = told.marks.slice(1).map((mark, index) => mark.reading - told.marks[index]!.reading);
  const ends = [told.originalSender[0]!.ohm, told.originalSender.at(-1)!.ohm] as const;
  return {
    quantity: told.quantity,
    mechanism: told.mechanism,
    unit: told.unit,
    marks: told.marks.map((mark) => ({ ...mark })),
    terminals: told.terminals,
    // A person sees fifths of the narrowest gap between two marks, and halves of those.
    divisionReading: Math.min(...gaps) / 5,
    family: { lowEndOhm: ends[0], highEndOhm: ends[1] },
  };
};

/** Firmware, board, vehicle, link and bench in one virtual time: everything but the process boundary. */
export class SimulatedBench {
  readonly clock = new VirtualClock();
  readonly box: SimulatedBox;
  readonly #needleSpeed: number;
  #received: (bytes: Uint8Array) => void = () => undefined;

  constructor(
    name: string,
    { seed, needleSpeed = 20 }: { readonly seed: number; readonly needleSpeed?: number },
  ) {
    this.#needleSpeed = needleSpeed;
    this.box = new SimulatedBox({
      gauge: gaugeNamed(name),
      seed,
      speed: needleSpeed,
      calibrationDay: TODAY - 30,
      sent: (bytes) => this.#received(bytes.slice()),
    });
    const tick = (): void => {
      this.box.advance(TICK_MS);
      this.clock.after(TICK_MS, tick);
    };
    tick();
  }

  get source(): ByteSource {
    return {
      title: 'simulated box in this program',
      connect: (listener) => {
        this.#received = (bytes) => listener.received(bytes);
        return Promise.resolve({ write: (bytes) => this.box.receive(bytes), close: () => Promise.resolve() });
      },
    };
  }

  /** A bench with one open job and a person who is there; nothing is driven. */
  async openDesk(folder: string, opening: Opening, seed = 1) {
    const { clock } = this;
    const link = keepLink(() => Promise.resolve(this.source), {
      clock,
      makeNonce: () => seed,
      today: () => TODAY,
    });
    const bench = openBench({
      jobsFolder: join(folder, 'jobs'),
      link,
      clock,
      needleSpeed: this.#needleSpeed,
    });
    const desk = await deskOf(bench.createJob(opening, 'test'));
    const leave = desk.attend('test');
    const pass = (withinMs: number, isDone?: () => boolean) =>
      runUntil(clock, () => desk.written(), { withinMs, ...(isDone ? { isDone } : {}) });
    await pass(5_000, () => link.state === 'live');
    const close = async (): Promise<void> => {
      leave();
      await bench.close();
      await link.close();
    };
    const another = () => deskOf(bench.createJob(opening, 'test'));
    return { desk, another, link, pass, leave, close };
  }

  /** A whole sweep with a simulated person; answers the desk when the sweep is over or has stopped. */
  async sweep(
    folder: string,
    gauge: Gauge,
    how: { readonly choice: SweepChoice; readonly seed: number; readonly human?: Human },
  ): Promise<OpenJob> {
    const { clock } = this;
    const link = openLink(this.source, { clock, makeNonce: () => how.seed, today: () => TODAY });
    const bench = openBench({
      jobsFolder: join(folder, 'jobs'),
      link,
      clock,
      needleSpeed: this.#needleSpeed,
    });
    const opening = {
      title: 'simulated',
      gauge,
      vehicle: 'Harrow Six saloon (1964)',
      place: 'bench' as const,
      simulated: true,
    };
    const desk = await deskOf(bench.createJob(opening, 'test'));
    const pass = (withinMs: number, isDone?: () => boolean) =>
      runUntil(clock, () => desk.written(), { withinMs, ...(isDone ? { isDone } : {}) });
    await pass(5_000, () => link.state === 'live');
    const look = () => this.box.world.vehicle.needle;
    const person = simulatedOperator({
      job: desk,
      look,
      clock,
      seed: how.seed,
      ...(how.human ? { human: how.human } : {}),
    });
    const started = await desk.submit({ kind: 'start-sweep', choice: how.choice }, person.name);
    if (started.kind === 'refused') throw new Error(`${started.code}: ${started.message}`);
    const isOver = () => desk.state.sweeps[0]?.status.kind !== 'running';
    await pass(3_600_000, isOver);
    // The box answers the opening in its own time.
    await pass(1_000);
    person.leave();
    await bench.close();
    await link.close();
    return desk;
  }
}
