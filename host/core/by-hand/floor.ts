/** What is known of a gauge before anything is put on its sender wire by hand. */
export type HandGauge = {
  readonly mechanism: 'thermal' | 'two-coil' | 'cross-coil' | 'moving-coil' | 'electronic' | 'unknown';
  /** Ohms of its sender at both ends of the dial; left out where nobody knows. */
  readonly family?: { readonly lowEndOhm: number; readonly highEndOhm: number } | undefined;
};

/**
 * The least ohms that any sender of a heater's families is published with (8 to 73 ohm). A gauge of unknown kind may be
 * one. Common practice, no source.
 */
const LEAST_HEATER_OHM = 8;
/** Families of coils are published down to 0: less than this is a wire to ground, and that is never asked for. */
const LEAST_COIL_OHM = 1;
/** Where nobody knows the sender's family the first resistance is this or more. */
export const UNKNOWN_START_OHM = 1_000;
/** ... and no next one is less than this share of the one before. */
export const MOST_DOWN_SHARE = 0.5;

/**
 * Nothing below this is ever put on by hand, in ohm: the least that a sender of the family has, and of the kind of gauge
 * where the family ends in a short. Nothing opens by itself in a person's hand. Source: the trade's safety rules; common practice.
 */
export function leastHandOhm({ mechanism, family }: HandGauge): number {
  const isHeater = mechanism === 'thermal' || mechanism === 'unknown';
  const leastOfKind = isHeater ? LEAST_HEATER_OHM : LEAST_COIL_OHM;
  if (family === undefined) return LEAST_HEATER_OHM;
  return Math.max(leastOfKind, Math.min(family.lowEndOhm, family.highEndOhm));
}

/** A reading with the ends of its dial, in one unit. */
export type EndOfDial = {
  readonly reading: number;
  readonly atStop?: 'low' | 'high' | undefined;
};

/** So near to an end of the scale the needle has arrived there, as a part of it. Common practice, no source. */
const AT_END_PART = 0.02;

const endOf = (
  { reading, atStop }: EndOfDial,
  scale: { readonly lowest: number; readonly highest: number },
): 'low' | 'high' | undefined => {
  const room = AT_END_PART * (scale.highest - scale.lowest);
  if (atStop !== undefined) return atStop;
  if (reading <= scale.lowest + room) return 'low';
  return reading >= scale.highest - room ? 'high' : undefined;
};

/**
 * Whether the needle of an unknown gauge has come to the far end of its scale: not the end at which it stood, or to which
 * it was nearer, at the highest resistance. Readings oldest first, in dial units.
 */
export function hasReachedFullScale(
  readings: readonly EndOfDial[],
  scale: { readonly lowest: number; readonly highest: number },
): boolean {
  const [first] = readings;
  if (first === undefined) return false;
  const middle = (scale.lowest + scale.highest) / 2;
  const start = endOf(first, scale) ?? (first.reading < middle ? 'low' : 'high');
  return readings.slice(1).some((each) => {
    const end = endOf(each, scale);
    return end !== undefined && end !== start;
  });
}
