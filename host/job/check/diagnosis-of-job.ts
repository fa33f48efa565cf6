import { dialFromMarks, placeOf } from '../../core/dial';
import { familyOf } from '../../core/diagnosis/family';
import type { Reading } from '../../core/diagnosis';
import type { Subject } from '../../core/diagnosis/cloud';
import { polarityOf, type Polarity } from '../../core/diagnosis/polarity';
import { waysOfWorking, type TestName, type Way } from '../../core/diagnosis/names';
import { isRefused } from '../../core/refusal';
import type { Gauge } from '../schema/gauge';
import type { AsFound, JobState } from '../state/state';

/** The answer that says how somebody works. */
export const WAY_QUESTION = 'check-way';

/** Its answer of whoever would rather be asked the fixed list. */
export const BY_LIST = 'list';

/**
 * Whether the diagnosis knows circuits of this kind: a gauge in its vehicle, its kind known, and the ohms of its sender
 * at both ends of its dial, and nobody wants the fixed list. Any other is asked by that list.
 */
export const isDiagnosable = ({
  place,
  gauge,
  answers,
}: Pick<JobState, 'place' | 'gauge' | 'answers'>): boolean =>
  answers[WAY_QUESTION] !== BY_LIST &&
  place === 'car' &&
  gauge.quantity !== 'other' &&
  gauge.mechanism !== 'unknown' &&
  gauge.family !== undefined &&
  gauge.family.lowEndOhm !== gauge.family.highEndOhm;

/** How somebody works; a box that was connected is in hand. Undefined while nobody has said. */
export const wayOfJob = ({ answers, box }: Pick<JobState, 'answers' | 'box'>): Way | undefined =>
  waysOfWorking.find((way) => way === answers[WAY_QUESTION]) ?? (box === undefined ? undefined : 'box');

/** Entries since the last repair: what was read before it says nothing of how things are now. */
export function sinceRepair<Entry extends { readonly n: number }>(
  { repairs }: Pick<JobState, 'repairs'>,
  entries: readonly Entry[],
): readonly Entry[] {
  const repairN = repairs.at(-1)?.n ?? 0;
  return entries.filter(({ n }) => n > repairN);
}

/** Where a reading stands on the scale: 0 at its low end, 1 at its high end, by its place on the arc. */
export function scalePlace({ marks }: Pick<Gauge, 'marks'>, reading: number): number {
  const dial = dialFromMarks(marks);
  const known = isRefused(dial) ? undefined : dial;
  const ends = marks.map((mark) => mark.reading);
  const [low, high] = [placeOf(known, Math.min(...ends)), placeOf(known, Math.max(...ends))];
  return (placeOf(known, reading) - low) / (high - low);
}

/** How far beyond its scale a needle lies that rests on a stop. Common practice, no source. */
const STOP_PLACE = { low: -0.05, high: 1.05 } as const;

const foundPlace = (gauge: Gauge, { indicated, atStop }: AsFound): number =>
  atStop === undefined ? scalePlace(gauge, indicated) : STOP_PLACE[atStop];

type Circuit = {
  readonly subject: Subject;
  readonly readings: readonly Reading[];
};

/** What is known of a job's vehicle since its last repair, as the diagnosis takes it; undefined where it cannot be asked. */
export function circuitOfJob(state: JobState): Circuit | undefined {
  const { gauge } = state;
  const way = wayOfJob(state);
  const { quantity, mechanism: kind, family } = gauge;
  if (!isDiagnosable(state) || family === undefined || way === undefined) return undefined;
  if (quantity === 'other' || kind === 'unknown') return undefined;
  const found = sinceRepair(state, state.asFound).at(-1);
  const tested = sinceRepair(state, state.tested);
  const warm = tested.filter(({ standsAt }) => standsAt !== undefined).at(-1)?.standsAt;
  const asFound =
    found === undefined
      ? []
      : [
          {
            n: found.n,
            test: 'as-found' as const,
            value: foundPlace(gauge, found),
          },
        ];
  const readings = [...asFound, ...tested].sort((one, two) => one.n - two.n);
  return {
    subject: {
      family: familyOf({ quantity, kind, ...family }),
      way,
      ...(found?.reference === undefined ? {} : { standsAt: scalePlace(gauge, found.reference) }),
      ...(warm === undefined ? {} : { warmStandsAt: warm }),
    },
    readings: readings.map(({ test, value }) => ({ test, value })),
  };
}

/** The readings that count, and which post of the battery is ground as far as it is known. */
export const polarityOfJob = (state: JobState): Polarity =>
  polarityOf(circuitOfJob(state)?.readings ?? [], skippedOfJob(state));

/** Tests that somebody said cannot be done, and that nobody did all the same. */
export const skippedOfJob = (state: JobState): readonly TestName[] => {
  const done = sinceRepair(state, state.tested).map(({ test }) => test);
  return [...new Set(sinceRepair(state, state.skippedTests).map(({ test }) => test))].filter(
    (test) => !done.includes(test),
  );
};

/** One seed a job, so that taking it up again gives the same cloud: FNV-1a over its name. Source: RFC draft eastlake-fnv. */
export function seedOfJob({ jobId }: Pick<JobState, 'jobId'>): number {
  let hash = 2_166_136_261;
  for (const letter of jobId) hash = Math.imul(hash ^ (letter.codePointAt(0) ?? 0), 16_777_619);
  return hash >>> 0;
}

/** Number of the newest entry that the diagnosis rests on: an answer of the host that knows an older one is stale. */
export const newestCheckN = (state: JobState): number =>
  Math.max(
    0,
    ...[state.tested, state.skippedTests, state.repairs, state.asFound].map((list) => list.at(-1)?.n ?? 0),
  );
