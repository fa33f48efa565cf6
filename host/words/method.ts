import type { JobState } from '../job/state/state';
import { listed } from './sentence';

type Counted = Pick<JobState, 'readings' | 'sweeps'>;

/** How the curve was measured, for a record: who made the resistances, with which meter, which way the needle went. */
export function methodWords({ readings, sweeps }: Counted): string {
  const counted = readings.filter((each) => each.struckBecause === undefined);
  if (counted.length === 0) return 'The needle was not read with known resistances';
  const byHand = counted.filter(({ source }) => source === 'hand');
  const tables = sweeps.flatMap(({ fromTable }) => (fromTable === undefined ? [] : [fromTable]));
  const meters = [
    ...new Set(byHand.flatMap(({ ohmmeter }) => (ohmmeter === undefined ? [] : [ohmmeter.name]))),
  ];
  const made = [
    ...(byHand.length < counted.length ? ['known resistances'] : []),
    ...(byHand.length === 0
      ? []
      : [`resistances put on by hand${meters.length === 0 ? '' : ` (${listed(meters)})`}`]),
  ];
  const from = tables.length === 0 ? '' : `; from a table (${listed([...new Set(tables)])})`;
  const short = sweeps.flatMap(({ short: cut }) => (cut === undefined ? [] : [cut.looksLike]));
  const cut =
    short.length === 0
      ? ''
      : `; a short sweep, ended when the catalogue took it for ${listed([...new Set(short)])}: how this gauge differs from its model is known less well`;
  return `${listed(made)} in place of the sender; the needle read by eye, ${waysOf(counted)}${from}${cut}`;
}

function waysOf(counted: JobState['readings']): string {
  const legs = new Set(counted.map(({ leg }) => leg));
  if (legs.size !== 1) return 'upscale and downscale';
  return legs.has('up') ? 'rising only' : 'falling only';
}
