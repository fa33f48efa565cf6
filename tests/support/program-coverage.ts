import { fitCurve, readingAt } from '../../host/core/curve';
import type { GaugeReading } from '../../host/core/curve';
import { cubicAt, monotoneCubic } from '../../host/core/numeric/monotone-cubic';
import { randomSource } from '../../host/core/numeric/random';
import { programGauge, programKinds, programSweep } from './program-gauge';
import type { ProgramGauge, ProgramKind } from './program-gauge';

const LOOKS = 60;

/** PCHIP through the mean of each setting; equal to SciPy's in tests/core/numeric/monotone-cubic.test.ts. */
function pchip(readings: readonly GaugeReading[], axis: (ohm: number) => number): (ohm: number) => number {
  const means = new Map<number, number[]>();
  for (const { resistanceOhm, reading } of readings)
    means.set(resistanceOhm, [...(means.get(resistanceOhm) ?? []), reading]);
  const knots = [...means].sort(([one], [other]) => one - other);
  const cubic = monotoneCubic(
    knots.map(([ohm]) => axis(ohm)),
    knots.map(([, values]) => values.reduce((sum, value) => sum + value, 0) / values.length),
  );
  if (cubic.kind === 'refused') throw new Error(cubic.code);
  return (ohm) => cubicAt(cubic, axis(ohm));
}

type Sweep = { readonly settings: number; readonly spacing: 'ln' | 'ohm' };

const placesOf = ({ lowOhm, highOhm }: ProgramGauge, { spacing }: Sweep): number[] =>
  Array.from({ length: LOOKS + 1 }, (_, k) =>
    spacing === 'ln' ? lowOhm * (highOhm / lowOhm) ** (k / LOOKS) : lowOhm + ((highOhm - lowOhm) * k) / LOOKS,
  );

/** How many 95 % intervals hold the truth, by third of the scale and inside the first rest, and the error beside PCHIP's. */
export function programCoverage(how: Sweep, gauges: number) {
  const thirds = [0, 1, 2].map(() => ({ held: 0, all: 0 }));
  const rests = { held: 0, all: 0 };
  const squares = new Map<ProgramKind, { own: number; ln: number; ohm: number }>();
  let [stated, looks] = [0, 0];
  for (const kind of programKinds)
    for (let i = 0; i < gauges; i += 1) {
      const random = randomSource(7000 + i);
      const gauge = programGauge(kind, random);
      const readings = programSweep(gauge, how, random);
      const curve = fitCurve(readings, { mechanism: 'unknown' });
      if (curve.kind === 'refused') continue;
      const [onLn, onOhm] = [pchip(readings, Math.log), pchip(readings, (ohm) => ohm)];
      const sum = squares.get(kind) ?? { own: 0, ln: 0, ohm: 0 };
      for (const ohm of placesOf(gauge, how)) {
        const truth = gauge.reading(ohm);
        const found = readingAt(curve, ohm);
        if (found.kind === 'refused') continue;
        const error = found.reading - truth;
        const held = Math.abs(error) <= found.expandedUncertainty ? 1 : 0;
        for (const count of [
          thirds[Math.min(2, Math.max(0, Math.floor((3 * truth) / 100)))]!,
          ...(isResting(gauge, ohm) ? [rests] : []),
        ]) {
          count.held += held;
          count.all += 1;
        }
        sum.own += error ** 2;
        sum.ln += (onLn(ohm) - truth) ** 2;
        sum.ohm += (onOhm(ohm) - truth) ** 2;
        stated += found.expandedUncertainty;
        looks += 1;
      }
      squares.set(kind, sum);
    }
  const ratioOf = ({ own, ln, ohm }: { own: number; ln: number; ohm: number }): number =>
    Math.sqrt(own / Math.min(ln, ohm));
  const total = { own: 0, ln: 0, ohm: 0 };
  for (const { own, ln, ohm } of squares.values()) {
    total.own += own;
    total.ln += ln;
    total.ohm += ohm;
  }
  return {
    thirds,
    rests,
    stated: stated / looks,
    ratio: ratioOf(total),
    ratios: [...squares].map(([kind, sum]) => ({ kind, ratio: ratioOf(sum) })),
  };
}

const isResting = ({ rest }: ProgramGauge, ohm: number): boolean =>
  rest !== undefined && ohm > rest.fromOhm && ohm < rest.toOhm;
