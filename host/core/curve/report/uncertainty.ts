import { readingSpread } from '../../dial';
import { monotoneReach } from '../../numeric/monotone-reach';
import { coverageFactor } from '../../numeric/student-t';
import { modelPlace } from './evaluate';
import { lawReading, lawSlope, lawVariance } from '../laws/law-model';
import type { BudgetLine, CurveModel, ResistanceUncertainty } from '../types';

export type Budget = {
  readonly lines: readonly BudgetLine[];
  readonly standard: number;
  readonly effectiveDegreesOfFreedom: number | null;
  readonly coverageFactor: number;
  readonly expanded: number;
};

/** How well the spread between laws is known: a handful of laws (GUM G.4.2 reads 8 as "to a quarter of itself"). */
const CHOICE_DEGREES = 8;
/** The middle between the legs is known to this part of their half difference (common practice, no source). */
const MIDDLE_PART = 0.1;

/**
 * Budget of the curve's reading at a resistance, in dial units.
 * Source: JCGM 100 (GUM) 5.1.2 root sum of squares, G.4.1 Welch-Satterthwaite; spread between laws after Burnham and
 * Anderson (2002), section 4.3 (from memory).
 */
export const budgetAt = (model: CurveModel, ohm: number): Budget =>
  inReadings(model, ohm, placeBudgetAt(model, ohm));

/** The same budget for the place of the needle. Source: as `budgetAt`. */
export const placeBudgetAt = (model: CurveModel, ohm: number): Budget =>
  combined(linesAt(model, ohm), model.coverage);

/**
 * A budget of the needle's place, in dial units: the interval is taken through the printed scale as it stands there,
 * the lines in proportion. Source: GUM 5.1.2 with the secant for the slope, as its note to 5.1.3 allows.
 */
export function inReadings(model: CurveModel, ohm: number, budget: Budget): Budget {
  if (model.dial === undefined || !(budget.expanded > 0) || !Number.isFinite(budget.expanded)) return budget;
  const ratio = readingSpread(model.dial, modelPlace(model, ohm), budget.expanded) / budget.expanded;
  return {
    ...budget,
    lines: budget.lines.map((one) => ({ ...one, readingUncertainty: ratio * one.readingUncertainty })),
    standard: ratio * budget.standard,
    expanded: ratio * budget.expanded,
  };
}

/**
 * Standard uncertainty of the reading at a resistance alone, for searches that ask thousands of times: the coverage factor
 * costs far more than all the rest. Source: as `budgetAt`.
 */
export const standardAt = (model: CurveModel, ohm: number): number =>
  readingSpread(model.dial, modelPlace(model, ohm), rootSum(linesAt(model, ohm)));

function linesAt(model: CurveModel, ohm: number): readonly BudgetLine[] {
  const reading = lawReading(model.chosen, ohm);
  const parts = model.mixture.map(({ model: law, weight }) => ({
    variance: weight * lawVariance(law, ohm),
    spread: weight * (lawReading(law, ohm) - reading) ** 2,
  }));
  const slope = lawSlope(model.chosen, ohm);
  const { supplyRelativeUncertainty, supplyExponent, restReading } = model;
  const half = Math.abs(model.hysteresisHalf);
  const lines: BudgetLine[] = [
    line('fit', Math.sqrt(sum(parts.map((part) => part.variance))), model.fitDegreesOfFreedom),
    line('law choice', Math.sqrt(sum(parts.map((part) => part.spread))), CHOICE_DEGREES),
    line('between settings', (unseenBetween(model, ohm) / 2) * Math.sqrt(model.reachPart ?? 1), null),
    line(
      'hysteresis',
      // A needle that sticks stands near the one leg or the other: a U-shaped distribution (JCGM 101 6.4.6).
      Math.hypot(
        MIDDLE_PART * half,
        model.unseenHysteresisHalf / Math.sqrt(3),
        model.oddHysteresisHalf / Math.SQRT2,
      ),
      null,
    ),
    line('reading', model.readingBias, null),
    line('plateau', plateauRounding(model, ohm), null),
    line('resistance', Math.abs(slope) * resistanceStandard(model.resistanceUncertainty, ohm), null),
    line('supply', supplyExponent * supplyRelativeUncertainty * Math.abs(reading - restReading), null),
  ];
  return lines.filter((one) => one.readingUncertainty > 0);
}

/** Of a needle that stands, what all its readings share. Source: `sharedRounding`. */
const plateauRounding = ({ plateaus }: CurveModel, ohm: number): number =>
  plateaus.find(({ fromOhm, toOhm }) => ohm >= fromOhm && ohm <= toOhm)?.roundingUncertainty ?? 0;

/**
 * Farthest that the needle may stand from the curve between two settings. Source: `monotoneReach`; half of it is taken as
 * the standard uncertainty, for a needle that rests goes all that way (found by simulation: thirds hold the truth less).
 */
function unseenBetween(model: CurveModel, ohm: number): number {
  if (model.reach.length === 0) return 0;
  const reach = monotoneReach(model.reach, Math.log(ohm + model.reachOffsetOhm));
  if (reach === undefined) return 0;
  const place = modelPlace(model, ohm);
  return Math.max(0, place - reach.low, reach.high - place);
}

const rootSum = (lines: readonly BudgetLine[]): number =>
  Math.sqrt(sum(lines.map((one) => one.readingUncertainty ** 2)));

/** Combines budget lines into an expanded uncertainty. Source: GUM 5.1.2, G.4.1, G.3. */
export function combined(lines: readonly BudgetLine[], coverage: number): Budget {
  const standard = rootSum(lines);
  const limiting = sum(
    lines.map((one) =>
      one.degreesOfFreedom === null ? 0 : one.readingUncertainty ** 4 / one.degreesOfFreedom,
    ),
  );
  const effective = limiting > 0 ? standard ** 4 / limiting : null;
  const factor = coverageFactor(coverage, effective ?? 1e9);
  return {
    lines,
    standard,
    effectiveDegreesOfFreedom: effective,
    coverageFactor: factor,
    expanded: factor * standard,
  };
}

/** Standard uncertainty of a resistance in ohm. Source: root sum of squares of the two terms. */
export const resistanceStandard = ({ relative, absoluteOhm }: ResistanceUncertainty, ohm: number): number =>
  Math.hypot(relative * ohm, absoluteOhm);

const line = (
  source: BudgetLine['source'],
  readingUncertainty: number,
  degreesOfFreedom: number | null,
): BudgetLine => ({ source, readingUncertainty, degreesOfFreedom });

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
