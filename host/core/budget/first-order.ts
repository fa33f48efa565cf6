import { isRefused, type Refused, refuse } from '../result';
import { type Budget, type BudgetComponent, type BudgetOptions, makeBudget } from './budget';
import { standardUncertaintyOf } from './distribution';

/** Step of the numerical sensitivities as a share of the standard uncertainty. */
const STEP_SHARE = 1e-3;

/**
 * First-order budget of any result computed from the inputs; sensitivities by central differences over a thousandth of
 * each standard uncertainty. Source: GUM 5.1.3 note 2 and 5.2.2.
 * Refuses: as `makeBudget`, and a model without a finite value there (BUDGET_MODEL).
 */
export function budgetOfModel(
  model: (inputs: Float64Array) => number,
  components: readonly BudgetComponent[],
  options: Omit<BudgetOptions, 'value'> = {},
): Budget | Refused {
  // The checks of the inputs come first: a model must not be asked at NaN.
  const checked = makeBudget(components, { ...options, coverageFactor: options.coverageFactor ?? 2 });
  if (isRefused(checked)) return checked;
  const place = Float64Array.from(components, ({ value }) => value);
  const value = model(place);
  const withSensitivity = components.map((component, i) => ({
    ...component,
    sensitivity: slopeAlong(model, place, i, standardUncertaintyOf(component.distribution)),
  }));
  if (!Number.isFinite(value) || !withSensitivity.every(({ sensitivity }) => Number.isFinite(sensitivity))) {
    return refuse('BUDGET_MODEL', `the model has no finite value or slope at ${place.join(', ')}`);
  }
  return makeBudget(withSensitivity, { ...options, value });
}

function slopeAlong(
  model: (inputs: Float64Array) => number,
  place: Float64Array,
  index: number,
  deviation: number,
): number {
  const centre = place[index]!;
  const step = Math.max(STEP_SHARE * deviation, 1e-6 * Math.abs(centre)) || 1e-6;
  const shifted = Float64Array.from(place);
  shifted[index] = centre + step;
  const above = model(shifted);
  shifted[index] = centre - step;
  return (above - model(shifted)) / (2 * step);
}
