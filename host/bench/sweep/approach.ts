import type { Leg } from '../../job';

export type Approach = {
  readonly leg: Leg;
  readonly aimOhm: number;
  /** What the output makes now; undefined = open, which is more resistance than any. */
  readonly presentOhm: number | undefined;
  /** What it made before; undefined = it was open. */
  readonly cameFromOhm: number | undefined;
  readonly risesWithResistance: boolean;
  /** How far back to go, as a ratio of resistances. */
  readonly backRatio: number;
  readonly lowestOhm: number;
  readonly highestOhm: number;
};

/** A back-off smaller than this moves no needle off its friction. */
const SMALLEST_BACK_RATIO = 1.02;
/** Closer than this is the same setting: the box does not make exactly what was asked. */
const SAME_RATIO = 1.01;
/** After a turn the needle has to go this far before its friction lies on the other side. */
const TURN_RATIO = 1.15;

const signOf = (fromOhm: number | undefined, toOhm: number): number =>
  fromOhm === undefined ? -1 : Math.sign(toOhm - fromOhm);

/** Whether going straight to the aim brings the needle there from the side its leg demands. */
const isStraight = (approach: Approach, demanded: number): boolean => {
  const { aimOhm, presentOhm, cameFromOhm } = approach;
  if (signOf(presentOhm, aimOhm) !== demanded) return false;
  if (presentOhm === undefined) return true;
  const distance = Math.abs(Math.log(aimOhm / presentOhm));
  const isOnTheWay = signOf(cameFromOhm, presentOhm) === demanded;
  return distance >= Math.log(isOnTheWay ? SAME_RATIO : TURN_RATIO);
};

/**
 * Where to go first so that the needle comes to the aim from the side its leg demands; undefined when it does already,
 * or when there is no room to go back. Without this, hysteresis would show as scatter instead of as two legs.
 */
export const backOffOhm = (approach: Approach): number | undefined => {
  const { leg, aimOhm, risesWithResistance } = approach;
  // Sign of the change of resistance that this leg demands.
  const demanded = (leg === 'up') === risesWithResistance ? 1 : -1;
  if (isStraight(approach, demanded)) return undefined;
  const wanted = demanded > 0 ? aimOhm / approach.backRatio : aimOhm * approach.backRatio;
  const back = Math.min(approach.highestOhm, Math.max(approach.lowestOhm, wanted));
  const ratio = demanded > 0 ? aimOhm / back : back / aimOhm;
  return ratio < SMALLEST_BACK_RATIO ? undefined : back;
};
