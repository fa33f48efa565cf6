import { lawGradient, lawReading } from '../laws/law-model';
import type { CurveModel, LawModel } from '../types';

/** What is believed of the needle's place at one resistance, law by law. */
type Belief = { readonly place: number; readonly gradient: readonly number[] };

/** How the errors of a curve at two resistances go together: of one law by its parameters, of several by which is true. */
export type PlaceCovariance = (oneOhm: number, otherOhm: number) => number;

/**
 * Covariance of the curve's place at two resistances (square of the arc, or of the dial's unit): what a reading at the one
 * says of the other. Source: GUM 5.2.2 equation (13) for each law; the spread between laws as in the budget, after Burnham
 * and Anderson (2002), section 4.3 (from memory).
 */
export function placeCovariance({ mixture }: CurveModel): PlaceCovariance {
  const kept = new Map<number, readonly Belief[]>();
  const beliefsAt = (ohm: number): readonly Belief[] => {
    const known =
      kept.get(ohm) ??
      mixture.map(({ model }) => ({ place: lawReading(model, ohm), gradient: lawGradient(model, ohm) }));
    kept.set(ohm, known);
    return known;
  };
  const meanOf = (beliefs: readonly Belief[]): number =>
    beliefs.reduce((sum, { place }, i) => sum + mixture[i]!.weight * place, 0);
  return (oneOhm, otherOhm) => {
    const [one, other] = [beliefsAt(oneOhm), beliefsAt(otherOhm)];
    const [mean, otherMean] = [meanOf(one), meanOf(other)];
    return mixture.reduce((sum, { model, weight }, i) => {
      const within = bilinear(model, one[i]!.gradient, other[i]!.gradient);
      return sum + weight * (within + (one[i]!.place - mean) * (other[i]!.place - otherMean));
    }, 0);
  };
}

const bilinear = ({ covariance }: LawModel, one: readonly number[], other: readonly number[]): number =>
  covariance.reduce(
    (sum, row, i) => sum + one[i]! * row.reduce((part, entry, j) => part + entry * other[j]!, 0),
    0,
  );
