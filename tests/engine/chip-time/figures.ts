import { Bench } from '../bench';
import type { BenchOptions } from '../bench';
import type { Spent } from './chip';
import type { ChipFirmware } from './firmware';

/** What a stretch of work costs: computrons of turns without and with a request or an answer, and the longest waits. */
export type Figures = {
  readonly medianTurn: number;
  readonly longestTurn: number;
  /** A turn that takes bytes, does a request, or puts an answer into bytes. */
  readonly longestRequest: number;
  readonly longestPulseGapMs: number;
  readonly oldestMeterMs: number;
};

type Work = readonly [what: string, prepare: (bench: Bench) => void, work: (bench: Bench) => void];

const RUBBISH = Uint8Array.from({ length: 1152 }, (_, index) => (index * 37) & 0xff);
const RESIDUAL = 15;
const WINDOW_FULL_MS = 8_000;

const drive = (bench: Bench): void => {
  bench.hello();
  const table = bench.table();
  bench.arm('thermal');
  bench.box.advance(1000);
  const made = bench.set(100, table);
  if (made.refused !== undefined) throw new Error(`set: ${made.refused} ${made.detail}`);
  bench.live(WINDOW_FULL_MS);
};
const rest = (bench: Bench): void => {
  bench.hello();
  bench.box.advance(WINDOW_FULL_MS);
};
const ask = (name: 'heartbeat' | 'measure') => (bench: Bench) => {
  for (let count = 0; count < 8; count += 1) {
    bench.box.advance(250);
    bench.ask(name, { channel: 0 });
  }
};
const live = (bench: Bench): void => void bench.live(3000);

/** Every work has the ripple window full when it begins. */
export const works: readonly Work[] = [
  ['at rest', rest, (bench) => bench.box.advance(3000)],
  ['at rest, heartbeat', rest, ask('heartbeat')],
  ['at rest, measure', rest, ask('measure')],
  ['greeting and arming', rest, (bench) => void [bench.hello(2), bench.arm('thermal')]],
  ['driving', drive, live],
  ['driving, heartbeat', drive, ask('heartbeat')],
  ['driving, measure', drive, ask('measure')],
  ['driving, set', drive, (bench) => [150, 40, 800].forEach((ohm) => bench.set(ohm, bench.table()))],
  [
    'driving, a full line of bytes',
    drive,
    (bench) => {
      bench.box.receive(RUBBISH);
      bench.box.advance(1000);
    },
  ],
  [
    'calibration',
    (bench) => {
      bench.box.world.calPost = { kind: 'chain' };
      rest(bench);
    },
    (bench) => bench.ask('calibrateElement', { channel: 0, index: RESIDUAL }),
  ],
  [
    'ohmmeter',
    (bench) => {
      bench.box.world.calPost = { kind: 'sender', ohm: 100 };
      rest(bench);
    },
    (bench) => bench.ask('ohmmeter', { channel: 0, jobKind: 0, currentMicroamp: 500 }),
  ],
];

/** Two gauges: one on a steady feed, one on a pulsing stabiliser. */
export const gauges = ['thermal-fuel-steady', 'thermal-temperature'] as const;

/** The figures of one work. */
export function figuresOf(firmware: ChipFirmware, [, prepare, work]: Work, gauge: string): Figures {
  const options: BenchOptions = { gauge, firmware: firmware.start };
  const bench = new Bench(options);
  prepare(bench);
  const spent = firmware.spentIn(() => work(bench)).filter(({ call }) => call === 'timer');
  const isRequest = ({ readBytes, sentBytes }: Spent): boolean => readBytes > 0 || sentBytes > 0;
  const ascending = (some: readonly Spent[]): number[] =>
    some.map(({ computrons }) => computrons).sort((a, b) => a - b);
  const turns = ascending(spent.filter((one) => !isRequest(one)));
  return {
    medianTurn: turns[turns.length >> 1] ?? 0,
    longestTurn: turns.at(-1) ?? 0,
    longestRequest: ascending(spent.filter(isRequest)).at(-1) ?? 0,
    longestPulseGapMs: longestGap(spent.filter(({ hasPulse }) => hasPulse)),
    oldestMeterMs: longestGap(spent.filter(({ isFresh }) => isFresh)),
  };
}

/** Longest time from the end of one turn to the end of a later one. */
function longestGap(spent: readonly Spent[]): number {
  const endsMs = spent.map(({ atMs, tookMs }) => atMs + tookMs);
  return Math.max(0, ...endsMs.slice(1).map((endMs, index) => endMs - endsMs[index]!));
}
