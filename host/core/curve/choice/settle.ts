import { choose, contest } from './candidates';
import type { Choice, Contest } from './candidates';
import type { FitContext } from '../readings/fit-context';
import { fitShape } from '../laws/fit-shape';
import { fitSpline } from '../spline/fit-spline';
import { foretellsBetter } from './foretell';
import { robustWeights, sameWeights } from '../readings/robust-weights';
import { shapes } from '../laws/shapes';
import type { CurveOptions, LawName } from '../types';
import { pairedHalf } from '../readings/legs';

const ROBUST_ROUNDS = 6;

/** Readings, their weights, and the law chosen for them. */
export type Settled = {
  readonly context: FitContext;
  readonly contest: Contest;
  readonly choice: Choice | undefined;
};

/**
 * Weights first by the free spline, so that a lie cannot choose the law; then by the chosen law, from full weights, so
 * that readings which only the spline doubted are believed again. Source: derived here.
 */
export function settledContest(context: FitContext, options: CurveOptions): Settled {
  const doubted = robustBySpline(context);
  const half = pairedHalf(context.observations.fitted);
  const first = contest(doubted, half);
  const choice = choose(first, options.law);
  if (choice === undefined) return { context: doubted, contest: first, choice };
  const here = robustByLaw(context, choice.chosen.name) ?? doubted;
  if (sameWeights(here.weights, doubted.weights))
    return { context: doubted, contest: first, choice: followed(choice, first, doubted) };
  const second = contest(here, choice.chosen.fit.half, first.contenders);
  const again = choose(second, options.law);
  return { context: here, contest: second, choice: again && followed(again, second, here) };
}

/** Where no law of a mechanism holds, the curve that best foretells each setting from the others. Source: `foretellsBetter`. */
function followed(choice: Choice, { contenders }: Contest, context: FitContext): Choice {
  const interpolant = contenders.find((one) => one.name === 'interpolant');
  const isOpen = choice.chosen.name === 'monotone-spline' && choice.isEverySmoothLawContradicted;
  if (!isOpen || choice.isForced || interpolant === undefined) return choice;
  return foretellsBetter(context, choice.chosen.fit.half) ? choice : { ...choice, chosen: interpolant };
}

function robustByLaw(context: FitContext, name: LawName): FitContext | undefined {
  const shape = shapes.find((one) => one.name === name);
  if (shape === undefined) return undefined;
  let here = context;
  let warm: readonly number[] | undefined;
  for (let round = 0; round < ROBUST_ROUNDS; round += 1) {
    const fit = fitShape(shape, here, warm);
    if (fit.kind === 'refused') return undefined;
    const weights = robustWeights(fit.residuals, fit.freedom, here.observations);
    if (sameWeights(weights, here.weights)) return here;
    here = { ...here, weights };
    warm = fit.model.parameters.slice(2);
  }
  return here;
}

function robustBySpline(context: FitContext): FitContext {
  let here = context;
  for (let round = 0; round < ROBUST_ROUNDS; round += 1) {
    const fit = fitSpline(here);
    if (fit.kind === 'refused') return here;
    const weights = robustWeights(fit.residuals, fit.freedom, here.observations);
    if (sameWeights(weights, here.weights)) return here;
    here = { ...here, weights };
  }
  return here;
}
