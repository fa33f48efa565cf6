import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import { expect, it } from 'vitest';

import { fitCurve } from '../../host/core/curve';
import { curveProblem, leastSquares } from '../../host/core/numeric/least-squares';
import { coveragePlaces, markCoverage, scaleCoverage } from '../support/curve-coverage';
import { programCoverage } from '../support/program-coverage';
import * as models from '../support/nist-models';
import { mechanisms, randomErrors, randomGauge, randomSource, sweepOf } from '../support/random-gauge';
import misra1d from '../vectors/nist-strd-misra1d.json';
import { addRow } from './table';

const part = 'curve';
const GAUGES = 220;
const PROGRAM_GAUGES = 60;

function medianMs(runs: number, work: () => void): number {
  for (let i = 0; i < 20; i += 1) work();
  const times = Array.from({ length: runs }, () => {
    const start = performance.now();
    work();
    return performance.now() - start;
  });
  return times.sort((a, b) => a - b)[runs >> 1]!;
}

const row = (what: string, measured: string, goal?: string): void =>
  addRow({ part, what, measured, ...(goal === undefined ? {} : { goal }) });

it('covers the truth', () => {
  for (const [i, mechanism] of mechanisms.entries()) {
    const counts = markCoverage(mechanism, GAUGES, 100_000 * (i + 1));
    const rates = counts.map(({ held, all }) => (all === 0 ? '-' : ((100 * held) / all).toFixed(1)));
    row(
      `95 % intervals, ${mechanism}, ${GAUGES} gauges, at ${coveragePlaces.map((place) => 100 * place).join('/')} % of scale`,
      `${rates.join(' / ')} %`,
      '93 to 98 %',
    );
    // Of 220 intervals of 95 % fewer than 92 % hold in one run of fifty.
    for (const { held, all } of counts) if (all > 0) expect(held / all).toBeGreaterThan(0.92);
  }
});

it('covers dead zones that few settings do not show', () => {
  const few = [3, 4, 5, 6, 8, 10];
  const rates = few.map((settings) => scaleCoverage('electronic', 100, { settings, seed: 31_000 }));
  row(
    `95 % intervals over the whole scale, electronic and known to be, 100 gauges, ${few.join('/')} settings`,
    `${rates.map((rate) => (100 * rate).toFixed(1)).join(' / ')} %`,
    '>= 93 %',
  );
  for (const rate of rates) expect(rate).toBeGreaterThan(0.93);
});

it('follows needles that no law describes, their mechanism not said', () => {
  const sweeps = [7, 10, 14].flatMap((settings) =>
    (['ln', 'ohm'] as const).map((spacing) => ({ settings, spacing })),
  );
  for (const how of sweeps) {
    const found = programCoverage(how, PROGRAM_GAUGES);
    const percent = ({ held, all }: { held: number; all: number }): string => ((100 * held) / all).toFixed(1);
    row(
      `a program's needle, mechanism unsaid, ${how.settings} settings even in ${how.spacing} R, ${PROGRAM_GAUGES} gauges of each of four kinds: thirds of scale, in rests`,
      `${found.thirds.map(percent).join(' / ')}, ${percent(found.rests)} %, stated ${found.stated.toFixed(1)} % of span`,
      '93 to 98 %',
    );
    row(
      'the same, rms error by that of PCHIP on the better of ln R and ohms, all gauges together, and per kind',
      `${found.ratio.toFixed(2)}; ${found.ratios.map(({ kind, ratio }) => `${kind} ${ratio.toFixed(2)}`).join(', ')}`,
      '<= 1.10',
    );
    for (const { held, all } of [...found.thirds, found.rests]) expect(held / all).toBeGreaterThan(0.9);
    expect(found.ratio).toBeLessThan(1.15);
  }
});

it('fits thirty readings', () => {
  const random = randomSource(4);
  const sweep = { settings: 14, legs: ['up', 'down'] as const, repeats: 2 };
  const readings = sweepOf(randomGauge('thermal', random), randomErrors(random), sweep, random);
  expect(readings).toHaveLength(30);
  row(
    '30 readings, all laws + spline + uncertainty',
    `${medianMs(60, () => void fitCurve(readings)).toFixed(1)} ms`,
    '< 20 ms',
  );
});

it('fits thousands of readings', () => {
  const random = randomSource(5);
  const readings = Array.from({ length: 10_000 }, () => {
    const resistanceOhm = 30 * 10 ** random.uniform();
    const reading = 40 + 90 * (111 / (60 + resistanceOhm) / 1.233) ** 2 + random.normal();
    return { resistanceOhm: Math.round(100 * resistanceOhm) / 100, reading: Math.round(10 * reading) / 10 };
  });
  const before = process.cpuUsage();
  fitCurve(readings);
  const used = process.cpuUsage(before);
  row(
    '10,000 readings, all laws + spline + uncertainty',
    `${((used.user + used.system) / 1e6).toFixed(1)} CPU-s`,
    '< 2 s',
  );
});

it('fits one law beside a peer', () => {
  const start = misra1d.start_2;
  const ours = () => leastSquares(curveProblem(misra1d, 2, models.misra1d), { start });
  const theirs = () =>
    levenbergMarquardt(
      { x: misra1d.x, y: misra1d.y },
      ([b1 = 0, b2 = 0]) =>
        (x) =>
          (b1 * b2 * x) / (1 + b2 * x),
      {
        initialValues: start,
        maxIterations: 100,
        errorTolerance: 1e-12,
        gradientDifference: 1e-6,
        damping: 1e-3,
        improvementThreshold: 1e-12,
      },
    );
  const fit = ours();
  if (fit.kind === 'refused') throw new Error(fit.code);
  const digits = (parameters: readonly number[]) =>
    Math.min(
      ...parameters.map(
        (value, j) => -Math.log10(Math.abs(value / misra1d.certified_parameters[j]! - 1) + 1e-16),
      ),
    );
  const [ownMs, peerMs] = [medianMs(200, () => void ours()), medianMs(60, () => void theirs())];
  row(
    'one fit (NIST Misra1d, start 2)',
    `${ownMs.toFixed(3)} ms, ${digits(fit.parameters).toFixed(1)} digits`,
  );
  row(
    'the same, ml-levenberg-marquardt',
    `${peerMs.toFixed(3)} ms, ${digits(theirs().parameterValues).toFixed(1)} digits, ratio ${(peerMs / ownMs).toFixed(1)}`,
  );
});
