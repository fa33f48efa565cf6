/**
 * The shape of a law: how far the needle is along its way, up to an offset and a factor that the fit supplies.
 *   reading(R) = yA + (yB - yA) * (psi(R) - psi(RA)) / (psi(RB) - psi(RA))
 * yA and yB are the readings at two anchor resistances inside the measured range, which keeps the parameters nearly
 * independent where a, b of the printed law are not.
 */
export type Shape = {
  readonly name: 'ratio' | 'two-coil' | 'thermal' | 'cross-coil';
  /** psi(R) for scaled resistance R / R0 and the shape parameters. */
  readonly psi: (ratio: number, shape: readonly number[]) => number;
  /** d psi / d (R / R0). */
  readonly slope: (ratio: number, shape: readonly number[]) => number;
  /** d psi / d shape parameter k. */
  readonly sensitivity: (ratio: number, shape: readonly number[]) => readonly number[];
  readonly lower: readonly number[];
  readonly upper: readonly number[];
  readonly starts: readonly (readonly number[])[];
};

/**
 * Moving coil in series with the sender, divider, and two-coil movements of small angle.
 * psi = R / (1 + c R). Source: Ohm's law; trade notes 1.4, 1.5. c is not negative in any such circuit, and a negative
 * one would put a pole beyond the measured range, where networks still ask.
 */
const ratio: Shape = {
  name: 'ratio',
  psi: (r, [c = 0]) => r / (1 + c * r),
  slope: (r, [c = 0]) => 1 / (1 + c * r) ** 2,
  sensitivity: (r, [c = 0]) => [-((r / (1 + c * r)) ** 2)],
  lower: [0],
  upper: [1e4],
  starts: [[1], [0.1], [10]],
};

/**
 * Two coils at right angles with equal turns, the sender across the deflecting coil of resistance Rf = R0 exp(s).
 * psi = atan(R / (R + Rf)). Source: node equation of the circuit, trade notes 1.2.
 */
const twoCoil: Shape = {
  name: 'two-coil',
  psi: (r, [s = 0]) => Math.atan2(r, r + Math.exp(s)),
  slope: (r, [s = 0]) => Math.exp(s) / (r * r + (r + Math.exp(s)) ** 2),
  sensitivity: (r, [s = 0]) => [(-r * Math.exp(s)) / (r * r + (r + Math.exp(s)) ** 2)],
  lower: [-6],
  upper: [6],
  starts: [[0], [-1.5], [1.5]],
};

/**
 * Heated bimetal of resistance Rg = R0 exp(s) in series with the sender; deflection follows the power in it.
 * psi = -1 / (Rg + R)^2, which rises with R. Source: P = V^2 Rg / (Rg + R)^2, trade notes 1.1.
 */
const thermal: Shape = {
  name: 'thermal',
  psi: (r, [s = 0]) => -((Math.exp(s) + r) ** -2),
  slope: (r, [s = 0]) => 2 * (Math.exp(s) + r) ** -3,
  sensitivity: (r, [s = 0]) => [2 * Math.exp(s) * (Math.exp(s) + r) ** -3],
  lower: [-6],
  upper: [5],
  starts: [[0], [-1.5], [1.5]],
};

/**
 * A magnet that follows the resultant of coil fields: the field turns from its direction at a short (R = 0) by the
 * angle D at an open circuit, and at R = Rs = R0 exp(s) both ends weigh the same.
 * psi = atan2(R sin D, R cos D + Rs). Source: every coil current of a linear network with one variable resistor is
 * (p + q R) / (1 + c R) with a common denominator, so the field is one vector plus R times another; trade notes 1.3.
 * A two-coil movement of turns ratio k and coil Rf is the case tan D = k, Rs = Rf cos D.
 */
const crossCoil: Shape = {
  name: 'cross-coil',
  psi: (r, [s = 0, angle = 1]) => Math.atan2(r * Math.sin(angle), r * Math.cos(angle) + Math.exp(s)),
  slope: (r, [s = 0, angle = 1]) => {
    const rs = Math.exp(s);
    return (rs * Math.sin(angle)) / (r * r + 2 * r * rs * Math.cos(angle) + rs * rs);
  },
  sensitivity: (r, [s = 0, angle = 1]) => {
    const rs = Math.exp(s);
    const square = r * r + 2 * r * rs * Math.cos(angle) + rs * rs;
    return [(-r * rs * Math.sin(angle)) / square, (r * r + r * rs * Math.cos(angle)) / square];
  },
  lower: [-6, 0.2],
  upper: [6, 2.9],
  starts: [
    [0, 1.6],
    [0, 0.8],
    [-1.2, 1.6],
    [1.2, 1.6],
    [0, 2.4],
  ],
};

/** The mechanism laws in order of their number of parameters. Source: as beside each. */
export const shapes: readonly Shape[] = [ratio, twoCoil, thermal, crossCoil];

/** The shape of a law by its name. Source: the list above. */
export function shapeOf(name: Shape['name']): Shape {
  switch (name) {
    case 'ratio':
      return ratio;
    case 'two-coil':
      return twoCoil;
    case 'thermal':
      return thermal;
    case 'cross-coil':
      return crossCoil;
  }
}
