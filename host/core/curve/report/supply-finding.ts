import { readingOf } from '../../dial';
import { remark } from '../../remark';
import type { SupplyChoice } from '../choice/supply-law';
import { legVolts, readingAtVolts } from '../readings/at-volts';
import type { GaugeCurve, GaugeReading, SupplyFinding } from '../types';

/** Legs whose mean volts differ by more than this part were read at two voltages. */
const STEP_PART = 0.03;

/**
 * A curve of readings that were taken to one voltage, told in the volts they were read at. Source: `readingAtVolts`;
 * the step is the difference of the legs' mean volts.
 */
export function withSupply(
  curve: GaugeCurve,
  readings: readonly GaugeReading[],
  { supply, referenceVolt }: { readonly supply: SupplyChoice; readonly referenceVolt: number },
): GaugeCurve {
  const { dial } = curve.model;
  const at = (reading: number, volt: number): number =>
    readingAtVolts(reading, supply, { dial, ratio: volt / referenceVolt });
  const step = stepOf(readings);
  const finding: SupplyFinding = {
    referenceVolt,
    exponent: supply.exponent,
    ...(supply.exponent === 0 ? {} : { noCurrentReading: readingOf(dial, supply.noCurrentPlace) }),
    odds: supply.odds,
    ...(step === undefined ? {} : { step }),
    change12To14: curve.marks.map(({ reading }) => ({ reading, change: at(reading, 14) - at(reading, 12) })),
  };
  const changes = finding.change12To14.map(({ change }) => Math.abs(change));
  return {
    ...curve,
    supply: finding,
    points: curve.points.map((point, i) => {
      const { reading, leg, supplyVolt = referenceVolt } = readings[i]!;
      const fitted = at(point.fitted, supplyVolt);
      const residual = at(point.fitted + point.residual, supplyVolt) - fitted;
      return { ...point, ...(leg === undefined ? {} : { leg }), reading, fitted, residual };
    }),
    warnings: [
      ...curve.warnings,
      ...(step === undefined
        ? []
        : [
            remark('CURVE_SUPPLY_STEP', {
              ...step,
              exponent: supply.exponent,
              unit: curve.unit,
              largestChange: Math.max(0, ...changes),
            }),
          ]),
    ],
  };
}

function stepOf(readings: readonly GaugeReading[]): SupplyFinding['step'] {
  const { upVolt, downVolt } = legVolts(readings);
  return Math.abs(upVolt / downVolt - 1) > STEP_PART ? { upVolt, downVolt } : undefined;
}
