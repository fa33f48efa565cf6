import { isRefused, refuse, type Refusal } from '../../core/refusal';
import { dissipationFromTwoCurrents, selfHeatedOhm, senderOhmAt, type FittedSender } from '../../core/sender';
import { kelvinFromCelsius, unitChange } from '../../core/units';
import type { JobState } from '../state/state';
import { countedReadings } from '../state/views';

/** How much heat the sender sheds; `shift`: how far the gauge's own current lifts it above its bath, in its own unit. */
export type HeatingFinding = {
  readonly kind: 'heating';
  readonly milliwattPerKelvin: number;
  readonly uncertaintyMilliwattPerKelvin: number;
  readonly gaugeMilliamp?: number;
  readonly shift?: number;
};

/** Of one sender: the newest check at two currents, and the currents the gauge was seen to send. */
export type TwoCurrents = {
  readonly heating:
    | Pick<JobState['selfHeating'][number], 'value' | 'low' | 'high' | 'onFraction'>
    | undefined;
  readonly currents: readonly { readonly resistanceOhm: number; readonly milliamp: number }[];
};

/** Repeatability of one box at two currents of its ohmmeter: two references of 0.1 % are the larger part. */
const TWO_RANGES_FRACTION = 0.001;
const MICRO = 1e6;
const MILLI = 1e3;

/** What a job knows of them. Source: its journal. */
export function twoCurrentsOf(state: JobState, senderId: string): TwoCurrents {
  const newest = state.selfHeating.filter((each) => each.senderId === senderId).at(-1);
  if (newest === undefined) return { heating: undefined, currents: [] };
  const currents = countedReadings(state).flatMap(({ resistanceOhm, currentMilliamp }) =>
    currentMilliamp === undefined || !(resistanceOhm > 0)
      ? []
      : [{ resistanceOhm, milliamp: currentMilliamp }],
  );
  const { value, low, high, onFraction } = newest;
  return { heating: { value, low, high, onFraction }, currents };
}

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

/** What the check at two currents says of a sender; undefined until it was made. Source: `dissipationFromTwoCurrents`. */
export function heatingFinding(
  task: TwoCurrents,
  sender: FittedSender,
): HeatingFinding | Refusal | undefined {
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
  { currents, heating }: TwoCurrents,
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
