import { meanOf, type Bank } from './bank';
import { atTau, sumsOf, type Sight } from './likelihood';

/** The spread of the known models is widened by this: what is not here differs more than what is. Derived here. */
const WIDENED = 1.5;
/** Before any model is known: needles anywhere on the arc, as this many models would show it. Derived here. */
const FIRST_MODELS = 5;
const FIRST_SPREAD = { gauge: 0.3, sender: 1.5 };
const FIRST_MIDDLE = { gauge: 0.5, sender: Math.asinh(50) };
/** Another model differs from a known one by so much, as one and bend by bend. Derived here. */
const OTHER_TAUS = [0.06, 0.15, 0.35];
const OTHER_BEND = 0.025;
/** Two places this far apart on the axis tell hardly anything of each other, in positions. Derived here. */
const FIRST_REACH = 20;
/** More models tell no more of the spread. */
const MOST_MODELS = 5_000;

/** Mean and covariance of what a gauge nobody has measured yet would show at some positions. */
export type Unknown = {
  readonly mean: readonly number[];
  readonly covariance: readonly (readonly number[])[];
};

/** Source: mean and covariance of the known models there, a few invented ones added, widened. */
export function unknownAt(bank: Bank, positions: readonly number[]): Unknown {
  const every = Math.max(1, Math.ceil(bank.ids.length / MOST_MODELS));
  const models = Array.from({ length: Math.ceil(bank.ids.length / every) }, (_, i) => i * every);
  const values = positions.map((position) => models.map((model) => meanOf(bank, model, position)));
  const [first, middle] = [FIRST_SPREAD[bank.kind], FIRST_MIDDLE[bank.kind]];
  const total = models.length + FIRST_MODELS;
  const mean = values.map(
    (row) => (row.reduce((sum, each) => sum + each, 0) + FIRST_MODELS * middle) / total,
  );
  const covariance = positions.map((here, i) =>
    positions.map((there, k) => {
      const known = models.reduce(
        (sum, _, model) => sum + (values[i]![model]! - mean[i]!) * (values[k]![model]! - mean[k]!),
        0,
      );
      const invented = first ** 2 * Math.exp(-(((here - there) / FIRST_REACH) ** 2) / 2);
      return (WIDENED ** 2 * (known + FIRST_MODELS * invented)) / total;
    }),
  );
  return { mean, covariance };
}

/** Likelihood of the sights if the gauge is none of the known ones. */
export function unknownLikelihood(bank: Bank, sights: readonly Sight[], models: readonly number[]): number {
  const scale = bank.kind === 'gauge' ? 1 : FIRST_SPREAD.sender / FIRST_SPREAD.gauge;
  const every = Math.max(1, Math.ceil(models.length / MOST_MODELS));
  const logs = models
    .filter((_, i) => i % every === 0)
    .flatMap((model) => {
      const sums = sumsOf(bank, model, sights, scale * OTHER_BEND);
      return sums === undefined ? [] : OTHER_TAUS.map((tau) => atTau(sums, scale * tau).logLikelihood);
    });
  const best = Math.max(...logs);
  return best + Math.log(logs.reduce((sum, each) => sum + Math.exp(each - best), 0) / logs.length);
}
