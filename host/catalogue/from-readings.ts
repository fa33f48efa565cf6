import type { CurveOptions, GaugeReading } from '../core/curve';
import type { Quantity } from '../core/response';
import type { SenderPoint } from '../core/sender';
import { quantityOfUnit } from '../core/units';
import { CARD_SCHEMA, type GaugeCard, type Licence, type SenderCard } from './card';

/** What a file of readings is and says beside its points. */
export type FileMaking = {
  /** Left out for what was pasted. */
  readonly file: string | undefined;
  readonly program: string;
  readonly licence: Licence;
  /** Left out where nothing names the part. */
  readonly description?: string | undefined;
  readonly simulated: boolean;
};

type GaugeFile = {
  readonly quantity: Quantity | undefined;
  readonly unit: string;
  readonly readings: readonly GaugeReading[];
  readonly reader: Pick<CurveOptions, 'dial' | 'readingStep' | 'mechanism' | 'resistanceUncertainty'>;
};

/** The card of a gauge from a file of readings (CSV, or what `curve --json` wrote): its points, never its fit. */
export function gaugeCardFromReadings(
  { quantity, unit, readings, reader }: GaugeFile,
  making: FileMaking,
): GaugeCard {
  const { dial, readingStep, mechanism, resistanceUncertainty: shared } = reader;
  return {
    schema: CARD_SCHEMA,
    kind: 'gauge',
    quantity: quantity ?? quantityOfUnit(unit),
    unit,
    ...(dial === undefined
      ? {}
      : {
          marks: dial.marks.map(({ label, reading, angleFraction }) => ({
            label,
            reading,
            angle_fraction: angleFraction,
          })),
        }),
    ...(readingStep === undefined || readingStep === 0 ? {} : { division: 2 * readingStep }),
    ...(mechanism === undefined ? {} : { mechanism }),
    ...(shared === undefined ? {} : { ohms_shared: { relative: shared.relative, ohm: shared.absoluteOhm } }),
    points: readings.map((one) => ({
      resistance_ohm: one.resistanceOhm,
      reading: one.reading,
      ...(one.leg === undefined ? {} : { leg: one.leg }),
      ...(one.atStop === undefined ? {} : { at_stop: one.atStop }),
      ...(one.readingUncertainty === undefined ? {} : { u_reading: one.readingUncertainty }),
      ...(one.resistanceUncertaintyOhm === undefined ? {} : { u_ohm: one.resistanceUncertaintyOhm }),
      ...(one.supplyVolt === undefined ? {} : { supply_V: one.supplyVolt }),
      ...(one.supplyAt === undefined ? {} : { supply_at: one.supplyAt }),
      method: one.isSought === true ? ('seek' as const) : ('typed' as const),
    })),
    ...common(making),
  };
}

type SenderFile = { readonly unit: string; readonly points: readonly SenderPoint[] };

/** The card of a sender from a file of points. */
export const senderCardFromPoints = ({ unit, points }: SenderFile, making: FileMaking): SenderCard => ({
  schema: CARD_SCHEMA,
  kind: 'sender',
  quantity: quantityOfUnit(unit),
  unit,
  points: points.map((one) => ({
    value: one.value,
    resistance_ohm: one.resistanceOhm,
    ...(one.valueUncertainty === undefined ? {} : { u_value: one.valueUncertainty }),
    ...(one.resistanceUncertaintyOhm === undefined ? {} : { u_ohm: one.resistanceUncertaintyOhm }),
  })),
  ...common(making),
});

const common = ({ file, program, licence, description, simulated }: FileMaking) => ({
  ...(description === undefined ? {} : { description }),
  made_from: { ...(file === undefined ? {} : { file }), program },
  licence,
  simulated,
});
