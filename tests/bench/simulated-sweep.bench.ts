import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { fiveGauges } from './simulated-bench';
import { sweepFigures, type SweepFigures } from './sweep-figures';
import { addRow } from './table';

const SEEDS = [1, 2, 3];
/** From here on the simulated stabiliser is the steady voltage that heats alike: its pulses would be sampled too coarsely. */
const NEEDLE_SPEED = 5;
const modes = ['step-and-read', 'seek'] as const;
const shown = (value: number): string => String(Number(value.toPrecision(3)));
const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;

it.each(fiveGauges.flatMap((name) => modes.map((mode) => [name, mode] as const)))(
  '%s, %s',
  async (name, mode) => {
    const folder = await mkdtemp(join(tmpdir(), 'needlewright-bench-'));
    const sweeps: SweepFigures[] = [];
    for (const seed of SEEDS)
      sweeps.push(
        await sweepFigures(name, join(folder, String(seed)), {
          choice: { mode },
          seed,
          needleSpeed: NEEDLE_SPEED,
        }),
      );
    await rm(folder, { recursive: true });
    const of = (pick: (figures: SweepFigures) => number): string => shown(median(sweeps.map(pick)));
    const [first] = sweeps;
    const laws = [...new Set(sweeps.map(({ law }) => law))].join('/');
    addRow({
      part: 'sweep',
      what: `${name}, ${mode}: ${SEEDS.length} sweeps by a simulated person, medians`,
      measured: [
        `${of(({ readings }) => readings)} readings`,
        `${of(({ answers }) => answers)} answers`,
        `${of(({ minutesOfNeedle }) => minutesOfNeedle)} min`,
        `rms ${of(({ rmsError }) => rmsError)} ${first?.unit ?? ''}`,
        `worst ${of(({ worstError }) => worstError)} ${first?.unit ?? ''} (${of(({ worstErrorPercent }) => worstErrorPercent)} % of span)`,
        `covered ${of(({ coveredFraction }) => 100 * coveredFraction)} %`,
        `on the arc: worst ${of(({ worstArcPercent }) => worstArcPercent)} % of arc, covered ${of(({ arcCoveredFraction }) => 100 * arcCoveredFraction)} %`,
        laws,
      ].join(', '),
    });
    expect(sweeps.every(({ desk }) => desk.state.sweeps[0]?.status.kind === 'finished')).toBe(true);
  },
);
