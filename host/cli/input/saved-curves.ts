import { z } from 'zod';
import { factorFound, factorFromStill, type DissipationFactor } from '../../core/at-work';
import { lawNames, mechanisms, type CurveOptions, type GaugeReading, type LawName } from '../../core/curve';
import { dialFromMarks, scaleEnds } from '../../core/dial';
import type { Quantity } from '../../core/response';
import type { SenderLawName, SenderPoint } from '../../core/sender';
import { plainIssue } from '../../job';
import { MOST_ROWS } from '../../core/text/table';
import { InputError } from '../input-error';
import { plain } from '../../words/notation';
import { saidRefusal } from '../../words/refusal';

/**
 * The JSON of `curve` and `sender`, read back as far as it is needed: the points, their unit, the law. The fit is made
 * again from the points, so an edited or older document cannot smuggle in numbers that do not follow from them.
 */
const SavedCurve = z.looseObject({
  kind: z.literal('curve'),
  quantity: z.enum(['temperature', 'fuel', 'pressure', 'other']),
  unit: z.string(),
  mechanism: z.enum(mechanisms).optional(),
  dial: z
    .looseObject({
      marks: z.array(
        z.looseObject({ label: z.string(), reading: z.number(), angle_fraction: z.number().min(0).max(1) }),
      ),
      reading_step: z.number().nonnegative().optional(),
    })
    .optional(),
  resistance_uncertainty: z
    .looseObject({ relative: z.number().nonnegative(), ohm: z.number().nonnegative() })
    .optional(),
  law: z.looseObject({ name: z.enum(lawNames), forced: z.boolean() }),
  points: z
    .array(
      z.looseObject({
        resistance_ohm: z.number().nonnegative(),
        reading: z.number(),
        leg: z.enum(['up', 'down']).optional(),
        at_stop: z.enum(['low', 'high']).optional(),
        u_reading: z.number().positive().optional(),
        u_resistance_ohm: z.number().nonnegative().optional(),
        supply_V: z.number().positive().optional(),
        supply_at: z.enum(['feed', 'battery']).optional(),
        sought: z.boolean().optional(),
      }),
    )
    .min(1)
    .max(MOST_ROWS),
});

const MODELS = ['steinhart-hart', 'beta', 'exponential', 'linear', 'polynomial', 'table'] as const;

const SavedSender = z.looseObject({
  kind: z.literal('sender'),
  unit: z.string(),
  model: z.enum(MODELS),
  points: z
    .array(
      z.looseObject({
        value: z.number(),
        resistance_ohm: z.number().nonnegative(),
        u_value: z.number().nonnegative().optional(),
        u_resistance_ohm: z.number().nonnegative().optional(),
      }),
    )
    .min(1),
  working_current: z
    .looseObject({
      method: z.enum(['flowing', 'still']),
      dissipation_mW_per_K: z.number().positive(),
      standard_uncertainty_mW_per_K: z.number().nonnegative(),
    })
    .optional(),
});

/** What the sender sheds, as `sender --working-current` found it; made again from its two figures. */
function dissipationOf(saved: z.infer<typeof SavedSender>['working_current']): DissipationFactor | undefined {
  if (saved === undefined) return undefined;
  const [found, uncertainty] = [saved.dissipation_mW_per_K / 1e3, saved.standard_uncertainty_mW_per_K / 1e3];
  return saved.method === 'still'
    ? factorFromStill(found, uncertainty)
    : factorFound(found, uncertainty, 'flowing');
}

export type SavedGauge = {
  readonly file: string;
  readonly quantity: Quantity;
  readonly unit: string;
  readonly readings: readonly GaugeReading[];
  readonly law: LawName | undefined;
  /** What is known of the dial and of how it was read. */
  readonly reader: Pick<
    CurveOptions,
    'dial' | 'scale' | 'readingStep' | 'mechanism' | 'resistanceUncertainty'
  >;
  readonly warnings: readonly string[];
};

/** The readings in a document that `curve --json` wrote. Refuses any other JSON, naming the field. */
export function readingsFromCurveJson(file: string, document: unknown): SavedGauge {
  const saved = checked(SavedCurve, file, document, 'curve');
  return {
    file,
    quantity: saved.quantity,
    unit: saved.unit,
    law: saved.law.forced ? saved.law.name : undefined,
    readings: saved.points.map((point) => ({
      resistanceOhm: point.resistance_ohm,
      reading: point.reading,
      leg: point.leg,
      atStop: point.at_stop,
      readingUncertainty: point.u_reading,
      resistanceUncertaintyOhm: point.u_resistance_ohm,
      supplyVolt: point.supply_V,
      supplyAt: point.supply_at,
      isSought: point.sought,
    })),
    reader: readerOf(file, saved),
    warnings: [],
  };
}

function readerOf(
  file: string,
  { dial: saved, mechanism, resistance_uncertainty: ohms }: z.infer<typeof SavedCurve>,
): SavedGauge['reader'] {
  const known = {
    ...(mechanism === undefined ? {} : { mechanism }),
    ...(ohms === undefined
      ? {}
      : { resistanceUncertainty: { relative: ohms.relative, absoluteOhm: ohms.ohm } }),
  };
  if (saved === undefined) return known;
  const marks = saved.marks.map(({ angle_fraction, ...mark }) => ({
    ...mark,
    angleFraction: angle_fraction,
  }));
  const dial = dialFromMarks(marks);
  if ('code' in dial) throw new InputError(`dial: ${saidRefusal(dial, plain)}`, { file });
  const readingStep = saved.reading_step;
  return { ...known, dial, scale: scaleEnds(dial), ...(readingStep === undefined ? {} : { readingStep }) };
}

export type SavedSenderPoints = {
  readonly file: string;
  readonly unit: string;
  readonly model: SenderLawName;
  readonly points: readonly SenderPoint[];
  readonly dissipation?: DissipationFactor | undefined;
  readonly warnings: readonly string[];
};

/** The points in a document that `sender --json` wrote. Refuses any other JSON, naming the field. */
export function pointsFromSenderJson(file: string, document: unknown): SavedSenderPoints {
  const saved = checked(SavedSender, file, document, 'sender');
  return {
    file,
    unit: saved.unit,
    model: saved.model,
    dissipation: dissipationOf(saved.working_current),
    points: saved.points.map((point) => ({
      value: point.value,
      resistanceOhm: point.resistance_ohm,
      valueUncertainty: point.u_value,
      resistanceUncertaintyOhm: point.u_resistance_ohm,
    })),
    warnings: [],
  };
}

function checked<Shape extends z.ZodType>(
  shape: Shape,
  file: string,
  document: unknown,
  wanted: 'curve' | 'sender',
): z.infer<Shape> {
  const kind = z.looseObject({ kind: z.string() }).safeParse(document);
  if (kind.success && kind.data.kind !== wanted && ['curve', 'sender'].includes(kind.data.kind)) {
    throw new InputError(
      `this holds a ${kind.data.kind}, a ${wanted} is needed here; are two files swapped?`,
      { file },
    );
  }
  const read = shape.safeParse(document);
  if (read.success) return read.data;
  const issue = read.error.issues[0];
  const field =
    issue === undefined ? '' : ` (field ${issue.path.join('.') || 'at the top'}: ${plainIssue(issue)})`;
  throw new InputError(`this JSON is not what "needlewright ${wanted} --json" writes${field}`, { file });
}
