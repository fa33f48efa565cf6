import type { BudgetComponent } from '../../../host/core/budget';
import expansion from '../../vectors/nist-tn1900-e13-thermal-expansion.json';

const { inputs } = expansion;
const part = (name: string, value: number, standardDeviation: number): BudgetComponent => ({
  name,
  value,
  distribution: {
    kind: 'student-t',
    standardDeviation,
    degreesOfFreedom: inputs.degrees_of_freedom_each,
  },
});

/** Lengths and temperatures of the copper bar. Source: NIST Technical Note 1900, example E13. */
export const barParts: readonly BudgetComponent[] = [
  part('L0', inputs.L0_m, inputs.u_L0_m),
  part('L1', inputs.L1_m, inputs.u_L1_m),
  part('T0', inputs.T0_K, inputs.u_T0_K),
  part('T1', inputs.T1_K, inputs.u_T1_K),
];

/** Coefficient of thermal expansion, per kelvin. */
export const expansionOf = ([l0, l1, t0, t1]: Float64Array): number => (l1! - l0!) / (l0! * (t1! - t0!));

/** Slopes of `expansionOf` at the measured place, by hand. */
export const expansionSlopes = (): readonly number[] => {
  const { L0_m: l0, L1_m: l1, T0_K: t0, T1_K: t1 } = inputs;
  const rise = t1 - t0;
  const alpha = (l1 - l0) / (l0 * rise);
  return [-l1 / (l0 * l0 * rise), 1 / (l0 * rise), alpha / rise, -alpha / rise];
};
