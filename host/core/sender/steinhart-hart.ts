/** 1/T = a + b L + c L^3 with L = ln(R/ohm), T in kelvin. `branchLnOhm` is an L on the branch that is meant. */
type SteinhartHart = {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly branchLnOhm: number;
};

/**
 * Temperature in kelvin at a resistance.
 * Source: Steinhart and Hart, Deep-Sea Research 15 (1968) 497-503. NaN where 1/T would not be positive.
 */
export function steinhartHartKelvin({ a, b, c }: SteinhartHart, resistanceOhm: number): number {
  const lnOhm = Math.log(resistanceOhm);
  const inverse = a + lnOhm * (b + c * lnOhm * lnOhm);
  return inverse > 0 ? 1 / inverse : Number.NaN;
}

/**
 * Resistance at a temperature in kelvin, on the branch of `branchLnOhm`: the cubic solved in closed form (hyperbolic
 * sine, sine or cosine by the signs of b and c, which stays exact as c goes to 0) and polished by one Newton step.
 * Source: the cubic of Steinhart and Hart (1968); DLMF 1.11(iii). NaN where that branch does not reach.
 */
export function steinhartHartOhm(law: SteinhartHart, temperatureKelvin: number): number {
  const { a, b, c } = law;
  const inverse = 1 / temperatureKelvin;
  const root = cubicRoot(law, a - inverse);
  const polished = root - (a - inverse + root * (b + c * root * root)) / (b + 3 * c * root * root);
  return Math.exp(Number.isFinite(polished) ? polished : root);
}

/** Derivatives of R with respect to a, b, c at a temperature in kelvin. Source: implicit differentiation of the law. */
export function steinhartHartGradient(law: SteinhartHart, temperatureKelvin: number): readonly number[] {
  const resistanceOhm = steinhartHartOhm(law, temperatureKelvin);
  const lnOhm = Math.log(resistanceOhm);
  const perLn = -resistanceOhm / (law.b + 3 * law.c * lnOhm * lnOhm);
  return [perLn, perLn * lnOhm, perLn * lnOhm ** 3];
}

// c L^3 + b L + constant = 0
function cubicRoot({ b, c, branchLnOhm }: SteinhartHart, constant: number): number {
  if (c === 0) return -constant / b;
  const p = b / c;
  const q = constant / c;
  const turn = Math.sqrt(Math.abs(p) / 3);
  const scaled = q / (2 * turn ** 3);
  if (p > 0) return -2 * turn * Math.sinh(Math.asinh(scaled) / 3);
  // Between the turning points +-turn lies one monotone branch, beyond each of them another.
  if (Math.abs(branchLnOhm) < turn) return 2 * turn * Math.sin(Math.asin(scaled) / 3);
  const sign = Math.sign(branchLnOhm);
  const outer = -scaled * sign;
  const angle = outer > 1 ? Math.cosh(Math.acosh(outer) / 3) : Math.cos(Math.acos(outer) / 3);
  return 2 * turn * sign * angle;
}
