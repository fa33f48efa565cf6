/** Models of the NIST/ITL Statistical Reference Datasets (nonlinear regression) with analytic gradients. */
export type Model = (x: number, b: Float64Array, gradient: Float64Array | undefined) => number;

export const misra1d: Model = (x, [b1 = 0, b2 = 0], gradient) => {
  const bottom = 1 + b2 * x;
  gradient?.set([(b2 * x) / bottom, (b1 * x) / bottom ** 2]);
  return (b1 * b2 * x) / bottom;
};

export const mgh09: Model = (x, [b1 = 0, b2 = 0, b3 = 0, b4 = 0], gradient) => {
  const top = x * x + x * b2;
  const bottom = x * x + x * b3 + b4;
  const ratio = (b1 * top) / bottom;
  gradient?.set([top / bottom, (b1 * x) / bottom, (-ratio * x) / bottom, -ratio / bottom]);
  return ratio;
};

export const mgh10: Model = (x, [b1 = 0, b2 = 0, b3 = 0], gradient) => {
  const growth = Math.exp(b2 / (x + b3));
  gradient?.set([growth, (b1 * growth) / (x + b3), (-b1 * growth * b2) / (x + b3) ** 2]);
  return b1 * growth;
};

export const rat43: Model = (x, [b1 = 0, b2 = 0, b3 = 0, b4 = 0], gradient) => {
  const power = Math.exp(b2 - b3 * x);
  const bottom = (1 + power) ** (-1 / b4);
  const slope = (-b1 * bottom * power) / (b4 * (1 + power));
  gradient?.set([bottom, slope, -x * slope, (b1 * bottom * Math.log1p(power)) / b4 ** 2]);
  return b1 * bottom;
};

export const boxBod: Model = (x, [b1 = 0, b2 = 0], gradient) => {
  const rest = Math.exp(-b2 * x);
  gradient?.set([1 - rest, b1 * x * rest]);
  return b1 * (1 - rest);
};

export const misra1b: Model = (x, [b1 = 0, b2 = 0], gradient) => {
  const base = 1 + (b2 * x) / 2;
  gradient?.set([1 - base ** -2, b1 * x * base ** -3]);
  return b1 * (1 - base ** -2);
};

export const misra1c: Model = (x, [b1 = 0, b2 = 0], gradient) => {
  const base = 1 + 2 * b2 * x;
  gradient?.set([1 - base ** -0.5, b1 * x * base ** -1.5]);
  return b1 * (1 - base ** -0.5);
};

export const danWood: Model = (x, [b1 = 0, b2 = 0], gradient) => {
  const power = x ** b2;
  gradient?.set([power, b1 * power * Math.log(x)]);
  return b1 * power;
};

export const rat42: Model = (x, [b1 = 0, b2 = 0, b3 = 0], gradient) => {
  const power = Math.exp(b2 - b3 * x);
  const bottom = 1 + power;
  gradient?.set([1 / bottom, (-b1 * power) / bottom ** 2, (b1 * x * power) / bottom ** 2]);
  return b1 / bottom;
};
