import { z } from 'zod';
import { handSetUp } from './by-hand';
import { finite, leg, name, positive, resistanceOhm } from './values';

/** Settle times follow the needle, not the page: a person may lengthen or shorten them within these limits. */
const SHORTEST_SETTLE_MS = 0;
const LONGEST_SETTLE_MS = 300_000;

/** What one step asks for: a resistance to read the needle at, or a mark to bring the needle to. */
const aim = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('resistance'), resistanceOhm }),
  z.strictObject({ kind: z.literal('mark'), reading: finite }),
]);
export type Aim = z.infer<typeof aim>;

export const step = z.strictObject({
  stepId: name,
  leg,
  aim,
  why: z.enum(['plan', 'repeat', 'refine', 'edge', 'model']),
});
export type Step = z.infer<typeof step>;

/** A catalogue that needs more readings than these to name a model offers no short sweep. */
export const MOST_SHORT_STEPS = 3;

export const sweepMode = z.enum(['step-and-read', 'seek']);

/** Of a sweep: before or after the gauge itself was worked on. */
export const condition = z.enum(['as-found', 'as-left']);

/** What a person chooses; the bench turns it into steps. Everything left out gets the trade's default. */
export const sweepChoice = z.strictObject({
  mode: sweepMode,
  state: condition.optional(),
  /** How warm it is at the gauge. */
  dashCelsius: finite.optional(),
  /** Resistances to step through; left out: log-spaced over the family range. */
  resistancesOhm: z.array(resistanceOhm).min(1).max(100).optional(),
  /** Marks to seek; left out: every mark of the dial. */
  readings: z.array(finite).min(1).max(100).optional(),
  fromOhm: positive.optional(),
  toOhm: positive.optional(),
  pointCount: z.number().int().min(2).max(60).optional(),
  legs: z.enum(['both', 'up', 'down']).optional(),
  /** Extra readings at the middle point, for repeatability. */
  repeats: z.number().int().min(0).max(20).optional(),
  /** How many points the host may add where the curve is least known. */
  refinements: z.number().int().min(0).max(30).optional(),
  settleMs: z.number().min(SHORTEST_SETTLE_MS).max(LONGEST_SETTLE_MS).optional(),
  /** Without a box: what is put on by hand. */
  hand: handSetUp.optional(),
});
export type SweepChoice = z.infer<typeof sweepChoice>;
