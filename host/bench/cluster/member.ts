import type { JobKind } from '../../../protocol';
import type { Gauge, JobState } from '../../job';
import type { Box } from '../box/box';
import { boxKindOf, usualFamilyOf } from '../rules';

/** One gauge of a cluster on the bench. */
export type Member = {
  readonly jobId: string;
  readonly place: string;
  readonly gauge: Gauge;
  readonly box: Box;
};

/** Least and most ohms of a gauge's usual sender, never a short. */
export const endsOf = (gauge: Gauge): { readonly leastOhm: number; readonly mostOhm: number } => {
  const { lowEndOhm, highEndOhm } = usualFamilyOf(gauge);
  return { leastOhm: Math.max(1, Math.min(lowEndOhm, highEndOhm)), mostOhm: Math.max(lowEndOhm, highEndOhm) };
};

/** Where a gauge stands while others are read: mid-scale in ln R. An unloaded stabiliser is not the one in the car. */
export const restOhmOf = (gauge: Gauge): number => {
  const { leastOhm, mostOhm } = endsOf(gauge);
  return Math.sqrt(leastOhm * mostOhm);
};

/** How a box that holds this gauge still is armed: as for its sweep. */
export const armingOf = (gauge: Gauge): { readonly kind: JobKind; readonly originalLeastOhm?: number } => {
  const kind = boxKindOf(gauge);
  return kind === 'fuel' ? { kind, originalLeastOhm: endsOf(gauge).leastOhm } : { kind };
};

/** Before anybody knows which box is on which gauge: as the strictest of them allows. */
export const cautiousKindOf = (gauges: readonly Gauge[]): JobKind => {
  const kinds = new Set(gauges.map(boxKindOf));
  const [only = 'unknown'] = kinds;
  return kinds.size === 1 ? only : 'unknown';
};

/**
 * Two resistances that no gauge of the cluster minds, whichever it turns out to be: within every family where they
 * overlap, else above them all.
 */
export const harmlessOhms = (
  gauges: readonly Gauge[],
): { readonly highOhm: number; readonly lowOhm: number } => {
  const ends = gauges.map(endsOf);
  const least = Math.max(...ends.map(({ leastOhm }) => leastOhm));
  const most = Math.min(...ends.map(({ mostOhm }) => mostOhm));
  const lowOhm = Math.min(2 * least, Math.max(least, most));
  return { lowOhm, highOhm: Math.max(most, 3 * lowOhm) };
};

export const isRunning = ({ sweeps }: JobState): boolean => sweeps.at(-1)?.status.kind === 'running';
