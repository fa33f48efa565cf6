import { BOX_OHMS, HANDHELD, lastDigitOhm, sharedOhms, type SharedOhms } from '../../core/ohmmeter';
import type { Ohmmeter } from '../schema/instrument';
import type { Reading } from './state';

type Metered = Reading & { readonly ohmmeter: Ohmmeter };

/** Whose ohms a meter showed: all of one meter's are off alike. */
const isMetered = (reading: Reading): reading is Metered =>
  reading.source === 'hand' && reading.ohmmeter !== undefined;

/** The limits of the worst of the meters; a handheld's where none were said. */
const limitsOf = (readings: readonly Metered[]): SharedOhms =>
  sharedOhms({
    percent: Math.max(...readings.map(({ ohmmeter }) => ohmmeter.limitPercent ?? HANDHELD.percent)),
    ohm: Math.max(...readings.map(({ ohmmeter }) => ohmmeter.limitOhm ?? HANDHELD.ohm)),
  });

/**
 * What the resistances of a job's readings share: undefined where all are the box's. Where some are, what a meter's share
 * counts by the part of the readings that it measured. Source: limits as `sharedOhms` takes them; the part derived here.
 */
export function sharedByReadings(readings: readonly Reading[]): SharedOhms | undefined {
  const metered = readings.filter(isMetered);
  const own = readings.filter((each) => each.source === 'hand' && each.ohmmeter === undefined);
  if (metered.length === 0) return own.length === readings.length && own.length > 0 ? NOTHING : undefined;
  const limits = limitsOf(metered);
  if (metered.length === readings.length) return limits;
  const part = metered.length / readings.length;
  return {
    relative: Math.hypot(BOX_OHMS.relative, part * limits.relative),
    absoluteOhm: Math.hypot(BOX_OHMS.absoluteOhm, part * limits.absoluteOhm),
  };
}

/** Each of them says how well its own ohms are known. */
const NOTHING: SharedOhms = { relative: 0, absoluteOhm: 0 };

/**
 * What each resistance has of its own, standard uncertainty in ohm, in the order of the readings: the last digit of a
 * meter that measured all of them, all that is not known of it where others were made by a box.
 */
export function ownOhmsOf(readings: readonly Reading[]): readonly (number | undefined)[] {
  const metered = readings.filter(isMetered);
  const digitOhm = lastDigitOhm(metered.map(({ resistanceOhm }) => resistanceOhm));
  const isMixed = metered.length < readings.length;
  return readings.map((reading) => {
    if (reading.source !== 'hand') return undefined;
    if (reading.ohmmeter === undefined) return reading.uncertaintyOhm;
    return isMixed ? Math.hypot(digitOhm, reading.uncertaintyOhm) : digitOhm;
  });
}
