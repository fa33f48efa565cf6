/**
 * Where a dissipation factor comes from, best first: measured in its place with the coolant flowing; with two currents
 * in a stirred bath; typed; measured in still coolant, which is a lower bound; or nothing but the kind of sender.
 */
export type FactorBasis = 'flowing' | 'two-currents' | 'typed' | 'still' | 'kind';

/**
 * How much heat a sender sheds for each kelvin above what it is screwed into, in that place.
 * Source: IEC 60539-1 defines it for thermistors, delta = P / (T - T_ambient). `lowest` and `highest` hold it at 95 %; for
 * `still` and `kind` nothing is claimed about where between them it lies.
 */
export type DissipationFactor = {
  readonly wattPerKelvin: number;
  readonly lowestWattPerKelvin: number;
  readonly highestWattPerKelvin: number;
  readonly basis: FactorBasis;
};

/**
 * Of a brass-bodied temperature sender in an engine, W/K: 20 to 50 mW/K in stirred liquid, less in a pocket or in little
 * flow, more for a large body. Common practice, no source; wider than the figures that circulate, on both sides.
 */
const KIND_LOWEST = 0.012;
const KIND_HIGHEST = 0.07;

/** Of a typed value nobody says how sure it is: a quarter either way. Common practice, no source. */
const TYPED_FRACTION = 0.25;
const COVERAGE_FACTOR = 2;
/** A measured value is never held to be surer than this: flow in an engine is not the flow of the next minute. */
const LEAST_FRACTION = 0.05;
/** However unsure, it sheds something: a tenth of what was found. */
const LEAST_SHARE = 0.1;

const geometricMean = (one: number, other: number): number => Math.sqrt(one * other);

/** What is assumed when nobody measured. Source: common practice, as above. */
export const factorOfKind = (): DissipationFactor => ({
  wattPerKelvin: geometricMean(KIND_LOWEST, KIND_HIGHEST),
  lowestWattPerKelvin: KIND_LOWEST,
  highestWattPerKelvin: KIND_HIGHEST,
  basis: 'kind',
});

/**
 * A value that was found or typed, with its standard uncertainty (W/K), as far as it is known.
 * Source: GUM 6.2, expanded with k = 2.
 */
export const factorFound = (
  wattPerKelvin: number,
  standardUncertainty: number | undefined,
  basis: 'flowing' | 'two-currents' | 'typed',
): DissipationFactor => {
  const given = standardUncertainty ?? (TYPED_FRACTION / COVERAGE_FACTOR) * wattPerKelvin;
  const half = COVERAGE_FACTOR * Math.max(given, (LEAST_FRACTION / COVERAGE_FACTOR) * wattPerKelvin);
  return {
    wattPerKelvin,
    lowestWattPerKelvin: Math.max(LEAST_SHARE * wattPerKelvin, wattPerKelvin - half),
    highestWattPerKelvin: wattPerKelvin + half,
    basis,
  };
};

/** Flowing coolant takes more than still coolant: what was found still is the least; the most is that of its kind. */
export const factorFromStill = (wattPerKelvin: number, standardUncertainty: number): DissipationFactor => {
  const lowest = Math.max(LEAST_SHARE * wattPerKelvin, wattPerKelvin - COVERAGE_FACTOR * standardUncertainty);
  const highest = Math.max(KIND_HIGHEST, COVERAGE_FACTOR * wattPerKelvin);
  return {
    wattPerKelvin: geometricMean(lowest, highest),
    lowestWattPerKelvin: lowest,
    highestWattPerKelvin: highest,
    basis: 'still',
  };
};

/** True where the interval is one of ignorance, not of measurement: it is added as it is, not as a random error. */
export const isIgnorance = ({ basis }: DissipationFactor): boolean => basis === 'kind' || basis === 'still';
