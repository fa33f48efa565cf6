import type { TrimQuestion } from '../search/trim-question';

/**
 * What a cold and a hot dash do to a thermal gauge, half of it as a part of the scale: its second limb compensates, none
 * perfectly. Common practice, no source. Copper coils follow a law and are told by it (`surroundingsEffects`).
 */
const THERMAL_PART = 0.02;

/** Half of what the gauge's own warmth does to its needle, dial units: as somebody saw it, else the interval of its kind. */
export const dashHalfOf = ({ options, problem }: Pick<TrimQuestion, 'options' | 'problem'>): number => {
  const { highestReading, lowestReading } = problem.table.gauge;
  if (options.dashShift !== undefined) return Math.abs(options.dashShift) / 2;
  return options.mechanism === 'thermal' ? THERMAL_PART * Math.abs(highestReading - lowestReading) : 0;
};
