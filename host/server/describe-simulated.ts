import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { z } from 'zod';
import { simulatedGauge, type SimulatedGauge } from '../job/wire/host-messages';
import { simulatedBoxProgram } from '../link';

const run = promisify(execFile);
const LONGEST_DESCRIPTION_MS = 10_000;

/** Asks the simulated box's program which vehicles it can play; none when it is not built or does not answer. */
export async function describeSimulatedGauges(): Promise<readonly SimulatedGauge[]> {
  const program = simulatedBoxProgram();
  if (program === undefined) return [];
  try {
    const { stdout } = await run(process.execPath, [program, '--describe'], {
      timeout: LONGEST_DESCRIPTION_MS,
    });
    const described: unknown = JSON.parse(stdout);
    return z.array(simulatedGauge).parse(described);
  } catch {
    return [];
  }
}
