import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { z } from 'zod';
import {
  simulatedCluster,
  simulatedGauge,
  type SimulatedCluster,
  type SimulatedGauge,
} from '../job/wire/host-messages';
import { builtProgram, simulatedBoxProgram } from '../link';

const run = promisify(execFile);
const LONGEST_DESCRIPTION_MS = 10_000;

/** What a program of simulated boxes says of itself; nothing when it is not built or does not answer. */
async function described<Row>(program: string | undefined, row: z.ZodType<Row>): Promise<readonly Row[]> {
  if (program === undefined) return [];
  try {
    const { stdout } = await run(process.execPath, [program, '--describe'], {
      timeout: LONGEST_DESCRIPTION_MS,
    });
    const said: unknown = JSON.parse(stdout);
    return z.array(row).parse(said);
  } catch {
    return [];
  }
}

/** Which vehicles the simulated box can play. */
export const describeSimulatedGauges = (): Promise<readonly SimulatedGauge[]> =>
  described(simulatedBoxProgram(), simulatedGauge);

/** Which clusters several simulated boxes can stand at. */
export const describeSimulatedClusters = (): Promise<readonly SimulatedCluster[]> =>
  described(builtProgram('cluster'), simulatedCluster);
