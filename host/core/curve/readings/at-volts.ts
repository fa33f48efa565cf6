import { placeOf, readingOf } from '../../dial';
import type { CurveOptions, GaugeReading } from '../types';

/** How the needle follows its supply: its deflection from where it stands without current goes with volts to this power. */
export type SupplyLaw = { readonly exponent: number; readonly noCurrentPlace: number };

/**
 * A reading as it would be at another voltage; one without volts stays. Source: deflection = (volts)^n times a law of the
 * resistance, trade notes 1.1 (heat, n = 2) and 1.4 (current, n = 1).
 */
export function readingAtVolts(
  reading: number,
  { exponent, noCurrentPlace }: SupplyLaw,
  { dial, ratio }: { readonly dial: CurveOptions['dial']; readonly ratio: number },
): number {
  if (exponent === 0 || ratio === 1) return reading;
  const place = placeOf(dial, reading);
  return readingOf(dial, noCurrentPlace + (place - noCurrentPlace) * ratio ** exponent);
}

/** Volts within a leg that differ by less than this part are one voltage, legs by more are two. */
const ONE_VOLTAGE_PART = 0.015;

/** Mean volts of the two legs. Source: definition. */
export function legVolts(readings: readonly GaugeReading[]): {
  readonly upVolt: number;
  readonly downVolt: number;
} {
  const mean = (leg: 'up' | 'down'): number => {
    const volts = readings.flatMap((one) => (one.leg === leg ? (one.supplyVolt ?? []) : []));
    return volts.reduce((sum, volt) => sum + volt, 0) / volts.length;
  };
  return { upVolt: mean('up'), downVolt: mean('down') };
}

/**
 * Readings without their legs where each leg had a voltage of its own: then a lag of the needle cannot be told from what
 * the volts do, and the volts are the likelier. Source: the two are collinear in the difference of the legs.
 */
export function withoutConfoundedLegs(readings: readonly GaugeReading[]): readonly GaugeReading[] {
  const { upVolt, downVolt } = legVolts(readings);
  const isOwn = readings.every(({ leg, supplyVolt }) => {
    const usual = leg === 'up' ? upVolt : downVolt;
    return (
      leg === undefined || supplyVolt === undefined || Math.abs(supplyVolt / usual - 1) < ONE_VOLTAGE_PART
    );
  });
  const isConfounded = isOwn && Math.abs(upVolt / downVolt - 1) > 2 * ONE_VOLTAGE_PART;
  return isConfounded ? readings.map((one) => ({ ...one, leg: undefined })) : readings;
}

/** All readings taken to one voltage. Source: `readingAtVolts`. */
export const atVolts = (
  readings: readonly GaugeReading[],
  law: SupplyLaw,
  { dial, referenceVolt }: { readonly dial: CurveOptions['dial']; readonly referenceVolt: number },
): GaugeReading[] =>
  readings.map((one) =>
    one.supplyVolt === undefined || one.atStop !== undefined
      ? one
      : {
          ...one,
          reading: readingAtVolts(one.reading, law, { dial, ratio: referenceVolt / one.supplyVolt }),
        },
  );
