import { fitCurve, marksOf, readingAt } from '../../host/core/curve';
import { randomErrors, randomGauge, randomSource, sweepOf } from './random-gauge';
import type { Mechanism } from './random-gauge';

/** Parts of the scale at which the intervals are held against the truth. */
export const coveragePlaces = [0.05, 0.25, 0.5, 0.75, 0.95] as const;

/** How many 95 % intervals of a mark's resistance hold the true one, at each place; a dead zone's own mark is left out. */
export function markCoverage(mechanism: Mechanism, gauges: number, firstSeed: number) {
  const counts = coveragePlaces.map(() => ({ held: 0, all: 0 }));
  for (let i = 0; i < gauges; i += 1) {
    const random = randomSource(firstSeed + i);
    const gauge = randomGauge(mechanism, random);
    const sweep = { settings: 10, legs: ['up', 'down'] as const, repeats: 2 };
    const curve = fitCurve(sweepOf(gauge, randomErrors(random), sweep, random));
    if (curve.kind === 'refused') throw new Error(curve.code);
    coveragePlaces.forEach((part, place) => {
      if (mechanism === 'electronic' && part === 0.5) return;
      const reading = gauge.lowestReading + part * (gauge.highestReading - gauge.lowestReading);
      const [mark] = marksOf(curve, [reading]);
      const isHeld =
        mark !== undefined &&
        Math.abs(mark.resistanceOhm - gauge.ohm(reading)) <= mark.expandedUncertaintyOhm;
      counts[place]!.all += 1;
      if (isHeld) counts[place]!.held += 1;
    });
  }
  return counts;
}

const LOOKS = 40;

/**
 * Part of the measured range in which the stated 95 % interval of the reading holds the true one, with so many settings
 * and the mechanism known.
 */
export function scaleCoverage(
  mechanism: Mechanism,
  gauges: number,
  how: { settings: number; seed: number },
): number {
  let held = 0;
  let all = 0;
  for (let i = 0; i < gauges; i += 1) {
    const random = randomSource(how.seed + i);
    const gauge = randomGauge(mechanism, random);
    const sweep = { settings: how.settings, legs: ['up', 'down'] as const, repeats: 2 };
    const curve = fitCurve(sweepOf(gauge, randomErrors(random), sweep, random), { mechanism });
    if (curve.kind === 'refused') continue;
    const to = curve.model.measuredToOhm;
    const from = Math.max(curve.model.measuredFromOhm, to / 1000);
    for (let k = 0; k <= LOOKS; k += 1) {
      const ohm = from * (to / from) ** (k / LOOKS);
      const predicted = readingAt(curve, ohm);
      if (predicted.kind === 'refused') continue;
      all += 1;
      if (Math.abs(predicted.reading - gauge.reading(ohm)) <= predicted.expandedUncertainty) held += 1;
    }
  }
  return held / all;
}
