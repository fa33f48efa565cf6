import { jobKinds } from '../../../protocol';
import type { Refused } from '../../core/result';
import { about, refuse } from '../../refusals';
import type { BoxLink } from '../../link';
import { OHMMETER_RANGES } from '../box/ohmmeter-ranges';

/** What the box makes of a resistor whose value is known from elsewhere. */
export type StandardReading = {
  readonly kind: 'standard-reading';
  readonly currentMicroamp: number;
  readonly measuredOhm: number;
  readonly uncertaintyOhm: number;
  /** Measured over stated, less one. */
  readonly deviationFraction: number;
};

/** 0.1 % of the box's reference and 0.05 % of its divider; the certificate's own share is small beside them. */
const STANDARD_LIMIT_FRACTION = 0.0015;
/** Clips. */
const STANDARD_LIMIT_OHM = 0.01;
/** Thermal voltages of leads and clips, and what the volts channel is off: at half a milliampere it is 0.03 ohm. */
const STANDARD_LIMIT_MICROVOLT = 15;
const ROUNDS = 5;

/**
 * Measures a known resistor with the ohmmeter, five times at each current that reaches it, and answers the means.
 * Refuses what the box refuses, and a deviation beyond what reference and divider explain (STANDARD_DISAGREES).
 */
export async function checkStandard(
  link: BoxLink,
  standardOhm: number,
): Promise<readonly StandardReading[] | Refused> {
  const readings: StandardReading[] = [];
  for (const { microamp, highestOhm } of OHMMETER_RANGES) {
    if (standardOhm > highestOhm) continue;
    const reading = await meanReading(link, standardOhm, microamp);
    if (reading.kind === 'refused') return reading;
    readings.push(reading);
  }
  const worst = readings.find(
    ({ measuredOhm, currentMicroamp }) =>
      !(Math.abs(measuredOhm - standardOhm) <= limitOhm(standardOhm, currentMicroamp)),
  );
  return worst === undefined ? readings : disagreement(worst, standardOhm);
}

const limitOhm = (standardOhm: number, currentMicroamp: number): number =>
  STANDARD_LIMIT_OHM + STANDARD_LIMIT_MICROVOLT / currentMicroamp + STANDARD_LIMIT_FRACTION * standardOhm;

async function meanReading(
  link: BoxLink,
  standardOhm: number,
  currentMicroamp: number,
): Promise<StandardReading | Refused> {
  let sumOhm = 0;
  let uncertaintyOhm = 0;
  for (let round = 0; round < ROUNDS; round += 1) {
    const result = await link.request('ohmmeter', {
      channel: 0,
      jobKind: jobKinds.unknown,
      currentMicroamp,
    });
    if (result.kind !== 'answer') return about(result, (message) => `Outside standard: ${message}`);
    sumOhm += result.fields.milliohm / 1000;
    uncertaintyOhm = Math.max(uncertaintyOhm, result.fields.uncertaintyMilliohm / 1000);
  }
  const measuredOhm = sumOhm / ROUNDS;
  return {
    kind: 'standard-reading',
    currentMicroamp,
    measuredOhm,
    uncertaintyOhm,
    deviationFraction: measuredOhm / standardOhm - 1,
  };
}

const disagreement = (
  { currentMicroamp, measuredOhm, deviationFraction }: StandardReading,
  standardOhm: number,
): Refused =>
  refuse('STANDARD_DISAGREES', {
    standardOhm,
    measuredOhm,
    milliamp: currentMicroamp / 1000,
    deviationPercent: deviationFraction * 100,
    limitPercent: STANDARD_LIMIT_FRACTION * 100,
  });
