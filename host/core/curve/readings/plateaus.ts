import type { Setting } from './settings';
import { scatterBehind, sharedRounding } from './reading-step';
import type { LogAxis, PlateauReport } from '../types';

type Noise = {
  readonly scatter: number;
  readonly step: number;
  readonly span: number;
  readonly rises: boolean;
  /** Half the difference between the legs. */
  readonly half: number;
  /** As the repeats of a setting show it. */
  readonly ownScatter: number;
};

/** A run counts as flat when it moves less than this part of what its neighbourhood would have moved. */
const FLAT_PART = 0.25;
/** Largest difference between settings that can be one reading, in standard deviations of a reading. */
const FLAT_SPREAD = 2.6;
/** ...and falls short of that movement by more than this many standard deviations. */
const SIGNIFICANCE = 4.5;
/** ...and that movement is worth reporting: part of the span, and steps of the reading. */
const LEAST_MISSED_PART = 0.03;
const LEAST_MISSED_STEPS = 2;
/** A lag between the legs also holds a needle still, for twice its half. */
const LEAST_MISSED_HALVES = 4;

const LARGEST_SPEED_RATIO = 6;

export type Plateau = {
  readonly report: PlateauReport;
  /** Speed of the needle (per ln R) just after the plateau by that just before it. */
  readonly speedRatio: number;
};

type Run = { readonly from: number; readonly to: number; readonly strength: number };

/**
 * Stretches of resistance in which the needle does not move although it moves on both sides: dead zones of electronic
 * gauges. No law of a coil or a bimetal has a slope (per ln R) that is smaller inside than on both sides, so a smooth
 * curve cannot be mistaken for one except by noise.
 * Source: derived here; trade notes 1.5.
 */
export function findPlateaus(settings: readonly Setting[], axis: LogAxis, noise: Noise): Plateau[] {
  const runs: Run[] = [];
  for (let from = 1; from + 2 < settings.length; from += 1)
    for (const to of oneReadingFrom(settings, from, noise)) {
      const strength = flatness(settings, from, to, noise);
      if (strength > 0) runs.push({ from, to, strength });
    }
  runs.sort((one, other) => other.to - other.from - (one.to - one.from) || other.strength - one.strength);
  const kept: Run[] = [];
  for (const run of runs)
    if (kept.every((other) => run.to < other.from - 1 || run.from > other.to + 1)) kept.push(run);
  return kept.sort((one, other) => one.from - other.from).map((run) => describe(settings, axis, run, noise));
}

/** Ends of the runs from one setting on that could be one reading: neither their ends nor anything between stands out. */
function oneReadingFrom(settings: readonly Setting[], from: number, noise: Noise): number[] {
  const able = Math.max(FLAT_SPREAD * noise.scatter, 1.05 * noise.step);
  const ends: number[] = [];
  let lowest = settings[from]!.reading;
  let highest = lowest;
  for (let to = from + 1; to + 1 < settings.length; to += 1) {
    lowest = Math.min(lowest, settings[to]!.reading);
    highest = Math.max(highest, settings[to]!.reading);
    // A longer run only spreads further.
    if (highest - lowest > able) break;
    ends.push(to);
  }
  return ends;
}

/** How many standard deviations a run falls short of its neighbourhood's movement; 0 when it is not flat. */
function flatness(settings: readonly Setting[], from: number, to: number, noise: Noise): number {
  const sense = noise.rises ? 1 : -1;
  const moved = Math.abs(settings[to]!.reading - settings[from]!.reading);
  const length = settings[to]!.position - settings[from]!.position;
  const before = sense * steepest(settings, from, -1);
  const after = sense * steepest(settings, to, 1);
  const missed = Math.min(before, after) * length;
  const least = Math.max(
    LEAST_MISSED_PART * noise.span,
    LEAST_MISSED_STEPS * noise.step,
    LEAST_MISSED_HALVES * noise.half,
  );
  if (!(missed > least)) return 0;
  if (moved > FLAT_PART * missed) return 0;
  // The movement is a difference of two settings; its expectation leans on two more, stretched to the run's length.
  const lever = Math.max(1, length / Math.min(gap(settings, from, -1), gap(settings, to, 1)));
  const strength = (missed - moved) / (noise.scatter * Math.SQRT2 * Math.hypot(1, lever));
  return strength > SIGNIFICANCE ? strength : 0;
}

/** The steeper of the two intervals next to a run on one side: the nearer one may hold part of the plateau. */
function steepest(settings: readonly Setting[], edge: number, direction: -1 | 1): number {
  const slope = (one: number, other: number): number =>
    (settings[other]!.reading - settings[one]!.reading) /
    (settings[other]!.position - settings[one]!.position);
  const near = slope(edge, edge + direction);
  if (settings[edge + 2 * direction] === undefined) return near;
  const next = slope(edge + direction, edge + 2 * direction);
  return Math.abs(next) > Math.abs(near) ? next : near;
}

const gap = (settings: readonly Setting[], edge: number, direction: -1 | 1): number =>
  Math.abs(settings[edge + direction]!.position - settings[edge]!.position);

/** The run with its edges: where the neighbouring intervals, gone on straight, meet the reading of the plateau. */
function describe(
  settings: readonly Setting[],
  axis: LogAxis,
  run: Run,
  { step, ownScatter }: Noise,
): Plateau {
  const inside = settings.slice(run.from, run.to + 1);
  const count = inside.reduce((sum, one) => sum + one.count, 0);
  const reading = inside.reduce((sum, one) => sum + one.count * one.reading, 0) / count;
  const edgeOhm = (edge: number, direction: -1 | 1): number => {
    const outside = settings[edge + direction]!;
    const slope = steepest(settings, edge, direction);
    const met = outside.position + (reading - outside.reading) / slope;
    const [low, high] = [outside.position, settings[edge]!.position].sort((a, b) => a - b);
    return Math.exp(Math.min(Math.max(met, low!), high!)) - axis.offsetOhm;
  };
  const ratio = Math.abs(steepest(settings, run.to, 1) / steepest(settings, run.from, -1));
  return {
    report: {
      fromOhm: edgeOhm(run.from, -1),
      toOhm: edgeOhm(run.to, 1),
      reading,
      points: count,
      roundingUncertainty: Math.sqrt(
        Math.max(0, sharedRounding(step, scatterBehind(step, ownScatter ** 2), 0)),
      ),
    },
    speedRatio: Math.min(Math.max(ratio, 1 / LARGEST_SPEED_RATIO), LARGEST_SPEED_RATIO),
  };
}
