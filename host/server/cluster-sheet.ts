import { conditionFrom, jobIn, worstPercentOf, type GaugeCondition } from '../job/state/cluster-sheet';
import { foldCluster } from '../job/state/cluster-state';
import { inShownUnit } from '../job/state/shown-unit';
import type { JobState } from '../job/state/state';
import type { BatchRow, BatchTable, ClusterSheet } from '../job/wire/cluster-messages';
import { adjustedWords } from '../words/cluster';
import { printed } from '../words/notation';
import type { Computer } from './findings/computer';
import type { ServedBench, ServedCluster, ServedClusters } from './route-parts';

/** A curve takes its time: it is fitted where findings are, off the thread that keeps the boxes alive. */
async function conditionOf(
  computer: Computer,
  job: JobState,
  state: 'as-found' | 'as-left',
): Promise<GaugeCondition | undefined> {
  const inIt = jobIn(job, state);
  if (inIt === undefined) return undefined;
  // Only the curve is wanted.
  const bare: JobState = { ...inIt, senderPoints: [], measurements: [] };
  const findings = await computer.findings(bare);
  if ('kind' in findings || findings.curve === undefined) return undefined;
  return conditionFrom(inShownUnit(bare), findings.curve.curve);
}

const doneTo = ({ adjustments, gauge }: JobState): string =>
  adjustments.map((each) => adjustedWords(each, gauge.unit, printed)).join('; ');

/** As found, what was done, as left: of every gauge. */
export async function clusterSheet(computer: Computer, { gauges }: ServedCluster): Promise<ClusterSheet> {
  const rows = await Promise.all(
    gauges.map(async ({ jobId, place, desk: { state } }) => {
      const found = await conditionOf(computer, state, 'as-found');
      const left = await conditionOf(computer, state, 'as-left');
      return {
        jobId,
        place,
        done: doneTo(state),
        ...(found === undefined ? {} : { found }),
        ...(left === undefined ? {} : { left }),
      };
    }),
  );
  return { gauges: rows };
}

/** Every cluster of these jobs, a row a gauge. */
export async function batchTable(
  computer: Computer,
  bench: ServedBench,
  clusters: ServedClusters,
): Promise<BatchTable> {
  const rows: BatchRow[] = [];
  const unreadable: string[] = [];
  for (const { clusterId, events } of await clusters.list()) {
    const state = 'kind' in events ? undefined : foldCluster(events);
    if (state === undefined) unreadable.push('kind' in events ? events.message : clusterId);
    const minutes = [...(state?.swept ?? []), ...(state?.sweptByHand ?? [])].reduce(
      (sum, each) => sum + each.minutes,
      0,
    );
    for (const { jobId, place } of state?.gauges ?? []) {
      const job = await bench.openJob(jobId);
      if ('kind' in job || state === undefined) continue;
      const row = await rowOf(computer, job.state);
      const { title, vehicle, simulated, openedAt } = state;
      const about = { clusterId, title, vehicle, simulated, openedAt, place, jobId };
      rows.push({ ...about, ...(minutes === 0 ? {} : { minutes }), ...row });
    }
  }
  return { rows, unreadable };
}

async function rowOf(computer: Computer, job: JobState) {
  const found = worstPercentOf(job, await conditionOf(computer, job, 'as-found'));
  const left = worstPercentOf(job, await conditionOf(computer, job, 'as-left'));
  return {
    quantity: job.gauge.quantity,
    done: doneTo(job),
    ...(found === undefined ? {} : { foundPercent: found }),
    ...(left === undefined ? {} : { leftPercent: left }),
  };
}
