import { appendFileSync, mkdirSync } from 'node:fs';

/** One line of the table that `npm run bench` prints at its end. */
export type BenchRow = {
  readonly part: string;
  readonly what: string;
  readonly measured: string;
  readonly goal?: string;
};

export const rowsFile = new URL('../../.test-output/bench-rows.ndjson', import.meta.url);

/** Adds a row to the one table printed when every bench file has run. */
export function addRow(row: BenchRow): void {
  mkdirSync(new URL('.', rowsFile), { recursive: true });
  appendFileSync(rowsFile, `${JSON.stringify(row)}\n`);
}

/** Median of the times of `rounds` calls, in milliseconds; a tenth of the rounds first, to warm up. */
export function medianMs(rounds: number, call: () => unknown): number {
  const times: number[] = [];
  let consumed: unknown;
  for (let round = -Math.ceil(rounds / 10); round < rounds; round += 1) {
    const startMs = performance.now();
    consumed = call();
    if (round >= 0) times.push(performance.now() - startMs);
  }
  if (consumed === rowsFile) throw new Error('unreachable: keeps the result alive');
  times.sort((left, right) => left - right);
  return times[Math.floor(times.length / 2)] ?? 0;
}

/** What this process has worked so far, in milliseconds: what other programs do on the machine is not among it. */
export function workedMs(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1_000;
}

/** The middle one of some figures; 0 of none. */
export const medianOf = (values: readonly number[]): number =>
  [...values].sort((one, two) => one - two)[Math.floor(values.length / 2)] ?? 0;
