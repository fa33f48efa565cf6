/** A target that a monotone function is to reach between two arguments. */
export type RootSearch = {
  readonly from: number;
  readonly to: number;
  readonly target: number;
  /** Relative width at which the search ends; the default is as close as double precision allows. */
  readonly relativeWidth?: number;
};

/**
 * Argument at which a monotone function (rising or falling) takes the target; undefined when the two ends do not
 * enclose it. Source: regula falsi with the Illinois weights (Dowell and Jarratt, BIT 11 (1971) 168-174), every third step
 * halving, so a jump or a kink costs time but never the answer.
 */
export function monotoneRoot(valueAt: (x: number) => number, search: RootSearch): number | undefined {
  const { target, relativeWidth = 4e-16 } = search;
  let [a, b] = [search.from, search.to];
  let [fa, fb] = [valueAt(a) - target, valueAt(b) - target];
  if (fa === 0) return a;
  if (fb === 0) return b;
  // Signs, not their product: that of two tiny numbers is 0. NaN has the sign NaN and is refused.
  if (Math.sign(fa) !== -Math.sign(fb)) return undefined;
  for (let step = 0; step < MOST_STEPS; step += 1) {
    if (Math.abs(b - a) <= relativeWidth * Math.max(Math.abs(a), Math.abs(b))) break;
    const secant = (a * fb - b * fa) / (fb - fa);
    const isInside = secant > Math.min(a, b) && secant < Math.max(a, b);
    const x = isInside && step % HALVE_EVERY !== HALVE_EVERY - 1 ? secant : a + (b - a) / 2;
    const fx = valueAt(x) - target;
    if (fx === 0 || x === a || x === b) return x;
    if (Math.sign(fx) === -Math.sign(fb)) [a, fa] = [b, fb];
    // The end that stays is weighted down, or the secant would creep.
    else fa /= 2;
    [b, fb] = [x, fx];
  }
  return b;
}

const MOST_STEPS = 200;
/** Every third step halves the bracket whatever the secant says. */
const HALVE_EVERY = 3;
