import { z } from 'zod';
import { particulars } from './particulars';
import { angleFraction, finite, name, positive, resistanceOhm } from './values';

export const quantity = z.enum(['temperature', 'fuel', 'pressure', 'other']);

export const mechanism = z.enum([
  'thermal',
  'two-coil',
  'cross-coil',
  'moving-coil',
  'electronic',
  'unknown',
]);
export type Mechanism = z.infer<typeof mechanism>;

/** A mark of the dial: what is printed, the value it stands for, where it sits on the arc. */
export const mark = z.strictObject({ label: name, reading: finite, angleFraction });
export type Mark = z.infer<typeof mark>;

const zone = z.strictObject({
  fromReading: finite,
  toReading: finite,
  meaning: z.enum(['normal', 'caution', 'danger']),
});

const FEWEST_MARKS = 2;
const MOST_MARKS = 60;

/** Both run the same way round the arc, and no two marks share a place. */
const ascendTogether = (marks: readonly Mark[]): boolean => {
  const sorted = [...marks].sort((a, b) => a.angleFraction - b.angleFraction);
  const sign = Math.sign((sorted.at(-1)?.reading ?? 0) - (sorted[0]?.reading ?? 0));
  return sorted.every((here, index) => {
    const before = sorted[index - 1];
    if (before === undefined) return true;
    return here.angleFraction > before.angleFraction && sign * (here.reading - before.reading) > 0;
  });
};

export const gauge = z.strictObject({
  quantity,
  mechanism,
  /** As it is written for a person: "degC", "%", "kPa". */
  unit: name,
  marks: z
    .array(mark)
    .min(FEWEST_MARKS)
    .max(MOST_MARKS)
    .refine(ascendTogether, 'marks must have different places on the arc and readings that run one way'),
  zones: z.array(zone).optional(),
  /** Width of the scale seen from the pivot, for drawing it. */
  arcDegrees: z.number().min(30).max(340).optional(),
  /** Smallest division printed, in dial units; the reading is believed to half of it. */
  divisionReading: positive.optional(),
  terminals: z.union([z.literal(2), z.literal(3)]).optional(),
  /** The family the gauge is thought to belong to: sender resistance at the low and at the high end of the dial. */
  family: z.strictObject({ lowEndOhm: resistanceOhm, highEndOhm: resistanceOhm }).optional(),
});
export type Gauge = z.infer<typeof gauge>;

/** What a job starts from; a person fills it in under a minute. */
export const opening = z.strictObject({
  title: name,
  gauge,
  vehicle: name,
  place: z.enum(['car', 'bench']),
  complaint: name.optional(),
  particulars: particulars.optional(),
  simulated: z.boolean(),
});
export type Opening = z.infer<typeof opening>;
