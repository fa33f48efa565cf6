/** A box that still ramps counts an open output as this resistance; its own figure is in its firmware. */
const RAMP_START_OHM = 4_000;

/** Stay this far inside the step the box allows: it compares with what it really makes. */
const RAMP_CAUTION = 1.1;

/**
 * The resistances to go through on the way down when the box allows only a part of the present one at a time (unknown
 * gauges); the aim is the last. `rampFraction` 0 = at once.
 */
export const rampDown = (presentOhm: number | undefined, aimOhm: number, rampFraction: number): number[] => {
  const fraction = rampFraction * RAMP_CAUTION;
  if (!(fraction > 0 && fraction < 1)) return [aimOhm];
  const path: number[] = [];
  for (let ohm = (presentOhm ?? RAMP_START_OHM) * fraction; ohm > aimOhm; ohm *= fraction) path.push(ohm);
  return [...path, aimOhm];
};
