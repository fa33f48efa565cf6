import type { CurveRemarks } from '../../core/curve/remarks';
import { counted, listed, type Sentence } from '../sentence';

type Words = { readonly [Code in keyof CurveRemarks]: Sentence<CurveRemarks[Code]> };

/** Why a law is not followed though it was asked for, or was not chosen. */
export const contradictionWords = (by: number): string =>
  `a smooth curve follows the readings better by ${by.toFixed(1)}`;

/** What is said where up and down were not compared. */
export const LEGS_UNKNOWN = 'The same resistances were not read with the needle moving both ways.';

/** Remarks on gauge curves. */
export const curveRemarks: Words = {
  CURVE_READING_QUESTIONED: ({ readingNumber, reading, unit, resistanceOhm, residual, weightPercent }, say) =>
    `Reading ${readingNumber} (${say.of(reading, unit)} at ${say.ohm(resistanceOhm)}) lies ${say.lowOrHigh(residual, unit)} of the curve and ${weightPercent === 0 ? 'does not count' : `counts ${weightPercent} %`}. Read ${say.ohm(resistanceOhm)} again.`,
  CURVE_SETTING_DIFFERS: ({ resistanceOhm, readings, unit }, say) =>
    `At ${say.ohm(resistanceOhm)} the readings ${listed(readings.map((each) => say.of(each, unit)))} differ as at no other setting. Read ${say.ohm(resistanceOhm)} again.`,
  CURVE_STICKY: ({ difference, unit, percentOfSpan }, say) =>
    `The needle sticks: up and down differ by about ${say.of(difference, unit)} everywhere, ${Math.round(percentOfSpan)} % of the span. The curve is their middle and its uncertainty holds both. Free the movement, or tap the glass before each reading, and read again.`,
  CURVE_SUPPLY_STEP: ({ upVolt, downVolt, exponent, largestChange, unit }, say) =>
    exponent === 0
      ? `The supply changed between up and down, from ${say.of(upVolt, 'V')} to ${say.of(downVolt, 'V')}. The needle does not follow it.`
      : `The supply changed between up and down, from ${say.of(upVolt, 'V')} to ${say.of(downVolt, 'V')}. The needle follows it; that is taken out and is no lag. From 12 V to 14 V a mark moves by up to ${say.of(largestChange, unit)}.`,
  CURVE_WARMING: ({ difference, unit }, say) =>
    `The gauge was still warming, or its supply drifted: up and down differ by more the longer lay between them, up to ${say.of(difference, unit)}. Leave it powered for ten minutes and read again.`,
  CURVE_ONE_LEG: ({ isPartlyMeasured, allowedHalf, unit }, say) =>
    `Only one direction was read${isPartlyMeasured ? ' often enough' : ''}; ${say.spread(allowedHalf, unit)} is allowed for the other. Read the same resistances with the needle moving up and down.`,
  CURVE_MARK_UNREACHED: ({ reading, unit }, say) =>
    `No resistance puts the needle on ${say.of(reading, unit)}: the curve does not reach it.`,
  CURVE_EXTRAPOLATED: ({ reading, unit }, say) =>
    `The mark ${say.of(reading, unit)} lies beyond the readings: its resistance rests on the law alone. Measure nearer to it.`,
  CURVE_LAW_CONTRADICTED: ({ law, by }) =>
    `The readings contradict the law ${law}: ${contradictionWords(by)}.`,
  CURVE_LAW_UNDECIDED: ({ laws, isMechanismSaid }) =>
    `The readings do not decide between ${listed(laws)}. Their difference is part of the uncertainty: ${isMechanismSaid ? '' : 'say which mechanism it is, or '}read more resistances.`,
  CURVE_NO_LAW: ({ resistanceOhm, expandedUncertainty, unit }, say) =>
    `No law of a coil or a heated strip follows these readings: a program moves the needle, or it is worn. It may rest between two resistances. Read ${say.ohm(resistanceOhm)} next: there it is known only to ${say.spread(expandedUncertainty, unit)}.`,
  CURVE_STOP_INFERRED: ({ side, reading, unit, seenFromOhm, seenToOhm }, say) =>
    `The needle rests at ${say.of(reading, unit)} from ${say.ohms(seenFromOhm, seenToOhm)}. That is taken as the ${side} stop: these readings only bound the curve.`,
  CURVE_PLATEAU: ({ fromOhm, toOhm, reading, unit }, say) =>
    `The needle rests at ${say.of(reading, unit)} from ${say.ohms(fromOhm, toOhm)}. There a reading does not tell the resistance.`,
  CURVE_FEW_READINGS: ({ readingCount }) =>
    `${counted(readingCount, 'reading')} without repeats: the scatter is partly assumed, so the uncertainty is wide.`,
  CURVE_REST_UNSEEN: ({ settingCount }) =>
    `${counted(settingCount, 'resistance')} cannot show whether the needle rests between two of them, as an electronic gauge may. Measure between them, or say which mechanism it is.`,
};
