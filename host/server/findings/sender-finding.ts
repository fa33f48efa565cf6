import { isRefused, refuse, type Refusal } from '../../core/refusal';
import {
  dissipationFromTwoCurrents,
  fitSender,
  selfHeatedOhm,
  senderOhmAt,
  toleranceBand,
  type FittedSender,
} from '../../core/sender';
import { kelvinFromCelsius, unitChange } from '../../core/units';
import type { HeatingFinding, LinePoint, SenderFinding } from '../../job/findings';
import { substitutionAt } from '../../job/proof/substitution';
import { inPlaceFinding } from './at-work-finding';
import type { SenderTask } from './tasks';

const LINE_PARTS = 60;
/** Repeatability of one box at two currents of its ohmmeter: two references of 0.1 % are the larger part. */
const TWO_RANGES_FRACTION = 0.001;
const MICRO = 1e6;
const MILLI = 1e3;

export const fittedSender = ({ points, unit, model }: SenderTask): FittedSender | Refusal =>
  fitSender(points, { unit, ...(model === undefined ? {} : { model }) });

/** One sender's curve, the line to draw of it, what its tolerance allows, and what its own current does to it. */
export function senderFinding(task: SenderTask): SenderFinding {
  const fitted = fittedSender(task);
  const { senderId, tolerancePercent } = task;
  if (isRefused(fitted)) return { senderId, fitted, line: [] };
  const heating = heatingFinding(task, fitted);
  const inPlace = inPlaceFinding(task, fitted);
  return {
    senderId,
    fitted,
    line: senderLine(fitted),
    substitution: substitutionAt(task.gauge, senderId, fitted),
    ...(tolerancePercent === undefined ? {} : { tolerance: toleranceLine(fitted, tolerancePercent) }),
    ...(heating === undefined ? {} : { heating }),
    ...(inPlace === undefined ? {} : { inPlace }),
  };
}

const placesOf = ({ knownFrom, knownTo }: FittedSender): number[] =>
  Array.from(
    { length: LINE_PARTS + 1 },
    (_, index) => knownFrom + ((knownTo - knownFrom) * index) / LINE_PARTS,
  );

const senderLine = (sender: FittedSender): LinePoint[] =>
  placesOf(sender)
    .map((value) => senderOhmAt(sender, value))
    .flatMap((at) =>
      isRefused(at)
        ? []
        : [
            {
              x: at.value,
              y: at.resistanceOhm,
              low: Math.max(0, at.resistanceOhm - at.expandedUncertaintyOhm),
              high: at.resistanceOhm + at.expandedUncertaintyOhm,
            },
          ],
    );

/** Resistances that a part within the maker's tolerance may have; left out where a part would leave the known range. */
const toleranceLine = (sender: FittedSender, tolerancePercent: number): LinePoint[] =>
  placesOf(sender).flatMap((value) => {
    const band = toleranceBand(sender, value, tolerancePercent);
    if (isRefused(band)) return [];
    return [{ x: value, y: (band.lowOhm + band.highOhm) / 2, low: band.lowOhm, high: band.highOhm }];
  });

/** B of the fitted law at one place: B = T^2 |d ln R / dT|, over a kelvin either way. Source: the B law, differentiated. */
const localBeta = (sender: FittedSender, value: number, kelvin: number): number | undefined => {
  const perKelvin = unitChange('degC', sender.unit);
  if (isRefused(perKelvin)) return sender.beta2585Kelvin ?? undefined;
  const [below, above] = [
    senderOhmAt(sender, value - perKelvin.factor),
    senderOhmAt(sender, value + perKelvin.factor),
  ];
  if (isRefused(below) || isRefused(above)) return sender.beta2585Kelvin ?? undefined;
  return (kelvin ** 2 * Math.log(below.resistanceOhm / above.resistanceOhm)) / 2;
};

export function heatingFinding(task: SenderTask, sender: FittedSender): HeatingFinding | Refusal | undefined {
  const { heating } = task;
  if (heating === undefined) return undefined;
  const toCelsius = unitChange(sender.unit, 'degC');
  if (isRefused(toCelsius)) return refuse('HEATING_UNIT', {});
  const bathCelsius = heating.value * toCelsius.factor + toCelsius.offset;
  const betaKelvin = localBeta(sender, heating.value, kelvinFromCelsius(bathCelsius));
  if (betaKelvin === undefined) return refuse('HEATING_NO_CURVE', {});
  const found = dissipationFromTwoCurrents({
    bathCelsius,
    betaKelvin,
    low: { currentAmp: heating.low.microamp / MICRO, resistanceOhm: heating.low.resistanceOhm },
    high: {
      // While it measures again and again the current flows for a part of the time only: that part of its heat.
      currentAmp: (heating.high.microamp / MICRO) * Math.sqrt(heating.onFraction),
      resistanceOhm: heating.high.resistanceOhm,
    },
    resistanceFraction: TWO_RANGES_FRACTION,
  });
  if (isRefused(found)) return found;
  const inCar = gaugeShift(task, sender, found.wattPerKelvin);
  return {
    kind: 'heating',
    milliwattPerKelvin: found.wattPerKelvin * MILLI,
    uncertaintyMilliwattPerKelvin: found.standardUncertaintyWattPerKelvin * MILLI,
    ...(inCar ?? {}),
  };
}

/** What the gauge's own current, as it was measured in the sweep, does to the sender at that resistance. */
const gaugeShift = (
  { currents, heating }: SenderTask,
  sender: FittedSender,
  wattPerKelvin: number,
): Pick<HeatingFinding, 'gaugeMilliamp' | 'shift'> | undefined => {
  if (heating === undefined) return undefined;
  const ohm = heating.low.resistanceOhm;
  const [nearest] = [...currents].sort(
    (one, other) =>
      Math.abs(Math.log(one.resistanceOhm / ohm)) - Math.abs(Math.log(other.resistanceOhm / ohm)),
  );
  if (nearest === undefined) return undefined;
  const heated = selfHeatedOhm(sender, {
    value: heating.value,
    currentAmp: nearest.milliamp / MILLI,
    wattPerKelvin,
  });
  const perKelvin = unitChange('degC', sender.unit);
  if (isRefused(heated) || isRefused(perKelvin)) return undefined;
  return { gaugeMilliamp: nearest.milliamp, shift: heated.riseKelvin * perKelvin.factor };
};
