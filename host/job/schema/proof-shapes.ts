import { z } from 'zod';
import { decisionRules } from '../../core/proof/decision';
import { referenceKinds } from '../../core/proof/reference-kinds';
import { ohmmeter, supplyAt } from './instrument';
import { condition } from './sweep';
import { trimCandidate } from './trim';
import { finite, leg, name, notNegative, positive, resistanceOhm } from './values';

/**
 * How far the needle may be off before the proof says so: in dial units, as a part of the scale, by two sides of its own
 * (dial units), or as usual: 5 % of the scale, half of it to the side that hides the danger in the dangerous quarter.
 */
export const proofLimit = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('size'), size: positive }),
  z.strictObject({ kind: z.literal('percent'), percent: positive.max(50) }),
  z
    .strictObject({ kind: z.literal('sides'), lower: finite.max(0), upper: notNegative })
    .refine(({ lower, upper }) => upper > lower, 'the limit has no room between its sides'),
  z.strictObject({ kind: z.literal('usual') }),
]);
export type ProofLimit = z.infer<typeof proofLimit>;

/** How a pair's error and its uncertainty become a word; chosen before the first pair. */
export const proofRuleShape = { rule: z.enum(decisionRules) };

/** What a person says is in the sender's lead now. */
const fitted = z.enum(['network', 'nothing']);

export const sayFittedShape = {
  fitted,
  /** Number of the `trim-chosen` that was on the screen: another choice made meanwhile is not what was fitted. */
  chosenN: z.number().int().min(1).optional(),
  /** The sender in the vehicle; left out, the one the trim is about. */
  senderId: name.optional(),
};

/** `candidate`: the network as it was chosen; left out where nothing is fitted. */
export const networkFittedShape = {
  fitted,
  senderId: name.optional(),
  candidate: trimCandidate.optional(),
};

/** Known ohms in the sender's place, through whatever is fitted. */
const substitute = z.strictObject({
  with: z.enum(['box', 'resistor']),
  resistanceOhm,
  /** Standard uncertainty of those ohms. */
  uncertaintyOhm: notNegative,
  ohmmeter: ohmmeter.optional(),
  /** Whose curve says which value those ohms stand for. */
  senderId: name,
});

export const proofShape = {
  pairId: name,
  state: condition,
  /**
   * `run`: the vehicle as it ran, against a reference. `substituted`: known ohms in the sender's place; the reference is
   * the value at which the sender has them. Left out: taken before the two were told apart.
   */
  method: z.enum(['run', 'substituted']).optional(),
  substitute: substitute.optional(),
  reference: finite,
  referenceUncertainty: notNegative.optional(),
  referenceKind: z.enum(referenceKinds).optional(),
  /** How fast the reference was changing, dial units a minute. */
  ratePerMinute: finite.optional(),
  referencePlace: name.optional(),
  /** While it was read; left out: nobody said. */
  engine: z.enum(['off', 'running', 'driving']).optional(),
  indicated: finite,
  leg,
  supplyVolt: positive.optional(),
  supplyAt: supplyAt.optional(),
  remark: name.optional(),
};

/** What a person gives of a pair against a reference. The method is the desk's to say. */
const { pairId, method, substitute: replaced, ...run } = proofShape;
export const runPairShape = run;

export const substitutionShape = {
  with: substitute.shape.with,
  resistanceOhm,
  /** Standard uncertainty of those ohms: its maker's tolerance, or the meter's. */
  uncertaintyOhm: notNegative.optional(),
  ohmmeter: ohmmeter.optional(),
  indicated: finite,
  leg,
  remark: name.optional(),
};

/** What pairs say of the sender in the vehicle, and whether other resistors would be worth fitting. Dial units, 95 %. */
export const reestimatedShape = {
  senderId: name,
  pairIds: z.array(name).min(1),
  /** Whose curve was believed before: a book’s, or that of this very part. */
  curve: z.enum(['book', 'own']),
  ohmsRatio: positive,
  steepnessRatio: positive,
  /** How far off the reference is believed to be at every pair. */
  referenceOff: finite,
  /** What the needle shows at a true value: by the curve as it was, and by the sender as it is believed to be now. */
  needle: z
    .array(
      z.strictObject({ value: finite, byCurve: finite, reading: finite, expandedUncertainty: notNegative }),
    )
    .min(1),
  /** Left out where the search found no network. */
  offer: z
    .strictObject({
      candidate: trimCandidate,
      worstNow: notNegative,
      worstThen: notNegative,
      chanceBetter: notNegative.max(1),
      isWorthIt: z.boolean(),
    })
    .optional(),
};

/** A season later: one pair beside the one of its place as it was left, and where the needle rests. Dial units. */
const { state: ofVehicle, ...later } = runPairShape;
export const checkDriftShape = {
  ...later,
  /** By how much the needle stands off its rest mark. */
  restOff: finite.optional(),
};
export const driftShape = {
  ...checkDriftShape,
  asLeft: z.strictObject({ pairId: name, error: finite, expandedUncertainty: notNegative }),
  score: notNegative,
  /** Left out where nobody looked at its rest before. */
  restBefore: finite.optional(),
  restScore: notNegative.optional(),
  hasMoved: z.boolean(),
};
