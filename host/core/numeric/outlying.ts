import { normalQuantile } from './normal';
import { studentTQuantile } from './student-t';

/** Weighted residuals of a fit with their leverages. */
export type FittedResiduals = {
  readonly residuals: readonly number[];
  readonly leverages: readonly number[];
  readonly parameterCount: number;
};

/** Chance of questioning any point at all when every point is sound. */
const FALSE_ALARM = 0.01;
/** A leverage this close to 1 means that nothing but the point itself speaks about it. */
const ALONE = 1 - 1e-9;

/**
 * Indices of points that the others speak against, judged by the fit without the point. `known` residuals are in units
 * of their own standard uncertainty; `estimated` ones are measured by the scatter of the rest. Never a point that alone
 * determines its part of the curve.
 * Source: externally studentised residuals, Cook and Weisberg, Residuals and Influence in Regression (1982), 2.2.1 (from
 * memory), at a level shared between the points (Bonferroni).
 */
export function outlyingPoints(fit: FittedResiduals, scatter: 'known' | 'estimated'): number[] {
  const { residuals, leverages, parameterCount } = fit;
  const count = residuals.length;
  const left = count - parameterCount - 1;
  if (left < 1) return [];
  const tail = 1 - FALSE_ALARM / (2 * count);
  const limit = scatter === 'known' ? normalQuantile(tail) : studentTQuantile(tail, left);
  const total = residuals.reduce((sum, residual) => sum + residual * residual, 0);
  return residuals.flatMap((residual, i) => {
    const free = 1 - leverages[i]!;
    if (!(leverages[i]! < ALONE)) return [];
    const own = (residual * residual) / free;
    const variance = scatter === 'known' ? 1 : Math.max(0, total - own) / left;
    // Products, not a quotient: without the point the rest may fit exactly.
    return own > limit * limit * variance && own > ROUNDING * total ? [i] : [];
  });
}

/** A residual that is a rounding error of the whole is no observation. */
const ROUNDING = 1e-6;
