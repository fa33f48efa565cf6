import { shapeOf } from './shapes';
import type { GaugeCurve } from '../types';
import type { Shape } from './shapes';

/** Where a law of fixed shape is anchored: the two resistances and their geometric middle, which scales the shape. */
export type Anchors = readonly [number, number];

/** The scale of the shape parameters. Half an ohm keeps a short circuit at one end from making it zero. */
const shapeScaleOhm = ([lowOhm, highOhm]: Anchors): number => Math.sqrt((lowOhm + 0.02 * highOhm) * highOhm);

/** A law at one set of parameters (yA, yB, shape...), ready to be asked at many resistances. */
export type AnchoredLaw = {
  readonly reading: (ohm: number) => number;
  /** Dial units per ohm. */
  readonly slope: (ohm: number) => number;
  /** Derivatives of the reading by the parameters. */
  readonly gradient: (ohm: number) => number[];
};

/** What is the same at all resistances is worked out here. Source: the form stated in `shapes`, and its derivatives. */
export function anchoredLaw(shape: Shape, anchors: Anchors, p: ArrayLike<number>): AnchoredLaw {
  const scale = shapeScaleOhm(anchors);
  const s = shapeParameters(p);
  const [first, last] = [p[0]!, p[1]!];
  const [from, to] = [anchors[0] / scale, anchors[1] / scale];
  const low = shape.psi(from, s);
  const reach = shape.psi(to, s) - low;
  const along = (ohm: number): number => (shape.psi(ohm / scale, s) - low) / reach;
  let ends: readonly [readonly number[], readonly number[]] | undefined;
  return {
    reading: (ohm) => first + (last - first) * along(ohm),
    slope: (ohm) => ((last - first) * shape.slope(ohm / scale, s)) / (reach * scale),
    gradient: (ohm) => {
      const [atLow, atHigh] = (ends ??= [shape.sensitivity(from, s), shape.sensitivity(to, s)]);
      const part = along(ohm);
      const here = shape.sensitivity(ohm / scale, s);
      const gradient = [1 - part, part];
      for (let k = 0; k < here.length; k += 1)
        gradient.push(((last - first) * (here[k]! - atLow[k]! - part * (atHigh[k]! - atLow[k]!))) / reach);
      return gradient;
    },
  };
}

/** The parameters of a law as its formula prints them. Source: the formulas in `shapes`. */
export function printedParameters(
  name: Shape['name'],
  anchors: Anchors,
  p: ArrayLike<number>,
): {
  name: string;
  unit: 'reading' | 'ohm' | '1/ohm' | 'reading/ohm' | 'reading ohm^2' | 'rad';
  value: number;
}[] {
  const scale = shapeScaleOhm(anchors);
  const shape = shapeOf(name);
  const s = shapeParameters(p);
  const lowPsi = shape.psi(anchors[0] / scale, s);
  const factor = (p[1]! - p[0]!) / (shape.psi(anchors[1] / scale, s) - lowPsi);
  const offset = p[0]! - factor * lowPsi;
  switch (name) {
    case 'ratio': {
      const c = s[0]! / scale;
      return [
        { name: 'a', unit: 'reading', value: offset },
        { name: 'b', unit: 'reading/ohm', value: offset * c + factor / scale },
        { name: 'c', unit: '1/ohm', value: c },
      ];
    }
    case 'two-coil':
      return [
        { name: 'a', unit: 'reading', value: offset },
        { name: 'b', unit: 'reading', value: factor },
        { name: 'Rf', unit: 'ohm', value: scale * Math.exp(s[0]!) },
      ];
    case 'thermal':
      return [
        { name: 'a', unit: 'reading', value: offset },
        { name: 'b', unit: 'reading ohm^2', value: -factor * scale * scale },
        { name: 'Rg', unit: 'ohm', value: scale * Math.exp(s[0]!) },
      ];
    case 'cross-coil':
      return [
        { name: 'a', unit: 'reading', value: offset },
        { name: 'b', unit: 'reading', value: factor },
        { name: 'Rs', unit: 'ohm', value: scale * Math.exp(s[0]!) },
        { name: 'angle', unit: 'rad', value: s[1]! },
      ];
  }
}

/**
 * The formula of a curve's law in one line, in the names of its parameters: of the reading, or of the needle's place on
 * the arc (0 at the low end, 1 at the high end) where the dial was known. Source: `shapes`.
 */
export const lawFormula = ({ law, model }: GaugeCurve): string =>
  model.dial === undefined ? lawFormulas[law.name] : lawFormulas[law.name].replace('reading', 'arc');

/** The formula of a law in one line, in the names of `printedParameters`. Source: `shapes`. */
const lawFormulas = {
  ratio: 'reading = (a + b R) / (1 + c R)',
  'two-coil': 'reading = a + b atan(R / (R + Rf))',
  thermal: 'reading = a + b / (Rg + R)^2',
  'cross-coil': 'reading = a + b atan2(R sin(angle), R cos(angle) + Rs)',
  'monotone-spline': 'reading = monotone cubic spline in ln(R + offset)',
  interpolant: 'reading = monotone cubic through the readings in ln(R + offset)',
} as const;

const shapeParameters = (p: ArrayLike<number>): number[] => {
  const shape: number[] = [];
  for (let k = 2; k < p.length; k += 1) shape.push(p[k]!);
  return shape;
};
