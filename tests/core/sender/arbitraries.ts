import fc from 'fast-check';
import { fitSender, type FittedSender, type SenderPoint } from '../../../host/core/sender';
import { randomSource } from '../../../host/core/numeric/random';
import { answered } from '../../support/answer';

/** Points from two equally long lists. */
export const pointsFrom = (values: readonly number[], ohms: readonly number[]): SenderPoint[] =>
  values.map((value, i) => ({ value, resistanceOhm: ohms[i]! }));

/** A fitted sender; a refusal fails the test. */
export const fitted = (
  points: readonly SenderPoint[],
  options: Parameters<typeof fitSender>[1] = { unit: 'degC' },
): FittedSender => answered(fitSender(points, options));

export type Thermistor = {
  readonly resistance25Ohm: number;
  readonly betaKelvin: number;
  readonly bend: number;
};

/** NTC thermistors of this trade: 150 ohm to 10 kohm at 25 degC, Beta that grows a little with temperature. */
export const anyThermistor: fc.Arbitrary<Thermistor> = fc.record({
  resistance25Ohm: fc.double({ min: Math.log(150), max: Math.log(10_000), noNaN: true }).map(Math.exp),
  betaKelvin: fc.double({ min: 3200, max: 4400, noNaN: true }),
  bend: fc.double({ min: 0, max: 60_000, noNaN: true }),
});

/** ln R = ln R25 + B (u - u25) - bend K (u - u25)^2 1e..: a law that is none of those fitted, so none is exact by luck. */
export function thermistorOhm({ resistance25Ohm, betaKelvin, bend }: Thermistor, celsius: number): number {
  const distance = 1 / (celsius + 273.15) - 1 / 298.15;
  return resistance25Ohm * Math.exp(betaKelvin * distance - bend * distance * distance);
}

/** Bath temperatures: three to seven, at least 8 K apart, between 5 and 110 degC. */
export const anyBath: fc.Arbitrary<number[]> = fc
  .array(fc.double({ min: 8, max: 30, noNaN: true }), { minLength: 2, maxLength: 6 })
  .map((steps) => {
    const celsius = [5];
    for (const step of steps) celsius.push(celsius.at(-1)! + step);
    return celsius.filter((each, i) => each <= 110 || i < 3);
  });

/** Normal reading errors on a list of exact points. */
export function noisy(
  points: readonly SenderPoint[],
  seed: number,
  { kelvin, share }: { kelvin: number; share: number },
): SenderPoint[] {
  const random = randomSource(seed);
  return points.map(({ value, resistanceOhm }) => ({
    value: value + kelvin * random.normal(),
    resistanceOhm: resistanceOhm * (1 + share * random.normal()),
    valueUncertainty: kelvin,
    resistanceUncertaintyOhm: share * resistanceOhm,
  }));
}
