import { refuse } from '../../refusal';
import type { Answer } from './answer';
import { answerWith, negativePart, SAME } from './answer';
import { refuseTwoPoints } from './feasibility';
import type { Pair } from './pair';

/** R = A - C / (r + B) through three points: A = gauge side + shunt, B = sender side + shunt, C = shunt squared. */
export type ThreePoint = {
  readonly gaugeSideOhm: number;
  readonly shuntOhm: number;
  readonly senderSideOhm: number;
};

/** Three pairs sorted by falling sender resistance. */
export type Triple = readonly [Pair, Pair, Pair];

const steps = ([first, second, third]: Triple): { readonly upper: number; readonly lower: number } => ({
  upper: (first.wantedOhm - second.wantedOhm) * (second.senderOhm - third.senderOhm),
  lower: (second.wantedOhm - third.wantedOhm) * (first.senderOhm - second.senderOhm),
});

/**
 * Curvature K = (R1-R2)(r2-r3) / ((R2-R3)(r1-r2)): below 1 bends the way resistors can, 1 is a straight line.
 * Source: derived from the bilinear map, which preserves cross-ratios.
 */
export const curvatureOf = (triple: Triple): number => steps(triple).upper / steps(triple).lower;

/**
 * The three-resistor network through three points (ohm); parts come out negative when none can be built. Needs a
 * curvature strictly between 0 and 1.
 * Source: derived from the bilinear map; trade vectors in solve.test.ts.
 */
export const threeResistor = (triple: Triple): ThreePoint => {
  const [first, second, third] = triple;
  const { upper, lower } = steps(triple);
  const poleOhm = (upper * first.senderOhm - lower * third.senderOhm) / (lower - upper);
  const slope = (first.wantedOhm - second.wantedOhm) / (first.senderOhm - second.senderOhm);
  const shuntOhm = Math.sqrt(slope * (first.senderOhm + poleOhm) * (second.senderOhm + poleOhm));
  const senderSideOhm = poleOhm - shuntOhm;
  const lowArm = third.senderOhm + senderSideOhm;
  // From the lowest point: the term taken off is smallest there, so fewest digits cancel.
  const gaugeSideOhm = third.wantedOhm - (shuntOhm * lowArm) / (shuntOhm + lowArm);
  return { gaugeSideOhm, shuntOhm, senderSideOhm };
};

/**
 * The network that meets three points exactly, without a resistor that comes out as nothing.
 * Refuses: the two-point theorems for each pair of points, CONCAVITY, NEGATIVE_PART.
 */
export const networkForThreePoints = (triple: Triple): Answer => {
  const [first, second, third] = triple;
  const refused =
    refuseTwoPoints(first, third) ?? refuseTwoPoints(first, second) ?? refuseTwoPoints(second, third);
  if (refused) return refused;
  const curvature = curvatureOf(triple);
  if (!(curvature > 0 && curvature < 1))
    return refuse('CONCAVITY', {
      curvature,
      middleSenderOhm: second.senderOhm,
      middleWantedOhm: second.wantedOhm,
    });
  const { gaugeSideOhm, shuntOhm, senderSideOhm } = threeResistor(triple);
  const nothing = SAME * first.senderOhm;
  if (senderSideOhm < -nothing) return negativePart({ part: 'series-sender-side', partOhm: senderSideOhm });
  if (gaugeSideOhm < -nothing) return negativePart({ part: 'series-gauge-side', partOhm: gaugeSideOhm });
  if (senderSideOhm <= nothing) return answerWith('shunt-then-series', [Math.max(0, gaugeSideOhm), shuntOhm]);
  if (gaugeSideOhm <= nothing) return answerWith('series-then-shunt', [senderSideOhm, shuntOhm]);
  return answerWith('three-resistor', [gaugeSideOhm, shuntOhm, senderSideOhm]);
};
