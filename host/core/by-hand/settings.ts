import { logSpaced } from '../plan';
import { nearestMade, type Allowed, type Made } from './drawer';
import { MOST_DOWN_SHARE } from './floor';

/** Settings nearer to each other than this tell the same of the curve. */
const LEAST_APART_RATIO = 1.06;

/** What can be put on: a drawer's list, or what a decade box makes of a wanted value. */
export type Makes = (wantedOhm: number, allowed: Allowed) => Made | undefined;

export const fromList =
  (list: readonly Made[]): Makes =>
  (wantedOhm, allowed) =>
    nearestMade(list, wantedOhm, allowed);

/** `isSame`: so near that nothing new would be read. */
export const isSameSetting = (oneOhm: number, otherOhm: number): boolean =>
  Math.abs(Math.log(oneOhm / otherOhm)) < Math.log(LEAST_APART_RATIO);

/**
 * Settings from one end of a family to the other, evenly in ln R as far as the parts make them, each once, in that order.
 * Ends below the floor begin at the floor.
 */
export function handSettings(
  makes: Makes,
  ends: { readonly fromOhm: number; readonly toOhm: number; readonly count: number },
  allowed: Allowed,
): readonly Made[] {
  const [fromOhm, toOhm] = [ends.fromOhm, ends.toOhm].map((ohm) => Math.max(ohm, allowed.leastOhm));
  const spaced = logSpaced(fromOhm ?? 0, toOhm ?? 0, ends.count);
  if (spaced.kind === 'refused') return [];
  return spaced.resistancesOhm.reduce<Made[]>((chosen, wantedOhm) => {
    const made = makes(wantedOhm, allowed);
    const isNew =
      made !== undefined && !chosen.some((each) => isSameSetting(each.resistanceOhm, made.resistanceOhm));
    return isNew ? [...chosen, made] : chosen;
  }, []);
}

/**
 * The next lower setting for a gauge of which nobody knows how low it may go: never less than half of the one before,
 * and of what is left the lowest. Undefined where there is none.
 */
export function nextDown(makes: Makes, lastOhm: number, allowed: Allowed): Made | undefined {
  const leastOhm = Math.max(allowed.leastOhm, lastOhm * MOST_DOWN_SHARE);
  const mostOhm = lastOhm / LEAST_APART_RATIO;
  return leastOhm > mostOhm ? undefined : makes(leastOhm, { ...allowed, leastOhm, mostOhm });
}
