import { describe, expect, it } from 'vitest';
import { fitCurve, readingAt } from '../../../host/core/curve';
import type { GaugeCurve } from '../../../host/core/curve';
import { randomSource } from '../../../host/core/numeric/random';
import { randomErrors, randomGauge, sweepOf } from '../../support/random-gauge';
import { plain } from '../../../host/words/notation';
import { saidRemark } from '../../../host/words/remark';
import vectors from '../../vectors/pchip-program-needles.json';

// The needles, their readings and what PCHIP misses them by come from NumPy and SciPy; the recipe stands in the file.
const { needles } = vectors;
type Needle = (typeof needles)[number];

const curveOf = (needle: Needle): GaugeCurve => {
  const readings = needle.resistance_ohm.flatMap((resistanceOhm, i) => [
    { resistanceOhm, reading: needle.up[i]!, leg: 'up' as const },
    { resistanceOhm, reading: needle.down[i]!, leg: 'down' as const },
  ]);
  const curve = fitCurve(readings, { unit: '%', mechanism: 'unknown' });
  if (curve.kind === 'refused') throw new Error(curve.code);
  return curve;
};

const looksAt = (needle: Needle, curve: GaugeCurve) =>
  needle.place_ohm.map((ohm, i) => {
    const found = readingAt(curve, ohm);
    if (found.kind === 'refused') throw new Error(found.code);
    const error = Math.abs(found.reading - needle.truth[i]!);
    return { error, isHeld: error <= found.expandedUncertainty, part: needle.truth[i]! / 100 };
  });

const rms = (values: readonly number[]): number => Math.hypot(...values) / Math.sqrt(values.length);

describe('a needle that follows no law of coils or bimetals, its mechanism not said', () => {
  const curves = needles.map((needle) => ({ needle, curve: curveOf(needle) }));
  const looks = curves.map(({ needle, curve }) => looksAt(needle, curve));

  it('is told from one that does, and said to be so with what to read next', () => {
    expect(needles).toHaveLength(16);
    const open = curves.filter(({ curve }) => curve.model.reachPart === 1);
    expect(open.length).toBeGreaterThanOrEqual(14);
    for (const { curve } of open) {
      const said = curve.warnings.find(({ code }) => code === 'CURVE_NO_LAW');
      expect(saidRemark(said!, plain)).toMatch(/Read [\d.]+ ohm next/);
    }
  });

  it('is followed as well as PCHIP follows it on the better of two axes, to a tenth', () => {
    const byPchip = needles.map(({ pchip_rms: { ln, ohm } }) => Math.min(ln, ohm));
    expect(rms(looks.map((each) => rms(each.map(({ error }) => error))))).toBeLessThan(1.1 * rms(byPchip));
  });

  it.each([0, 1, 2])('is held by its 95 %% intervals in third %i of its scale', (third) => {
    const here = looks.flat().filter(({ part }) => Math.min(2, Math.floor(3 * part)) === third);
    expect(here.filter(({ isHeld }) => isHeld).length / here.length).toBeGreaterThan(0.93);
  });
});

it('a needle that follows its law is not taken for one that a program moves', () => {
  // Drawn from circuits by Ohm's law; six to ten settings, read as people read.
  const mechanisms = ['thermal', 'two-coil', 'cross-coil', 'moving-coil'] as const;
  const open = mechanisms.flatMap((mechanism) =>
    Array.from({ length: 12 }, (_, k) => {
      const random = randomSource(3300 + k);
      const sweep = { settings: 6 + (k % 5), legs: ['up', 'down'] as const, repeats: k % 3 };
      const curve = fitCurve(sweepOf(randomGauge(mechanism, random), randomErrors(random), sweep, random));
      return curve.kind === 'curve' && curve.model.reachPart === 1;
    }),
  );
  expect(open).toHaveLength(48);
  expect(open.filter((each) => each)).toHaveLength(0);
});
