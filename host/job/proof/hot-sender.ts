import { anchorAt, driveOf, hotCurveOf, isIgnorance, ohmAtRise, powerAt, riseAt } from '../../core/at-work';
import { senderResponse, type FittedSender } from '../../core/sender';
import { unitChange } from '../../core/units';
import type { AtWork } from './working-circuit';

/** A sender and, where its circuit was measured, what heats it there. */
export type KnownSender = { readonly sender: FittedSender; readonly atWork: AtWork | undefined };

/** How much hotter than what it measures; the sender's own unit. `half`: 95 %, or the half of an interval of ignorance. */
export type Rise = { readonly rise: number; readonly half: number; readonly isIgnorance: boolean };

/** Its ohms at work against those of an ohmmeter, and the half width of what is uncertain of that, ohm. */
export type HotOhm = Rise & { readonly resistanceOhm: number; readonly halfOhm: number };

const halfOf = (one: number, other: number): number => Math.abs(one - other) / 2;

/**
 * The ohms of a sender in its circuit at a true value (its own unit), from those of an ohmmeter. Undefined where nobody
 * measured the circuit, or for a sender that warms too little to count.
 * Source: the working point of `riseAt`, IEC 60539-1 for the dissipation factor.
 */
export const hotOhmAt = (
  { sender, atWork }: KnownSender,
  value: number,
  coldOhm: number,
): HotOhm | undefined => {
  const response = senderResponse(sender);
  const curve = 'kind' in response ? undefined : hotCurveOf(response, { from: value, to: value });
  if (curve === undefined || atWork === undefined) return undefined;
  const { source, dissipation } = atWork;
  const anchor = anchorAt(curve, { value, coldOhm });
  const risen = (wattPerKelvin: number): number =>
    Math.min(riseAt(curve, anchor, driveOf(source), wattPerKelvin / curve.perKelvin), anchor.furthest);
  const rise = risen(dissipation.wattPerKelvin);
  const [most, least] = [dissipation.lowestWattPerKelvin, dissipation.highestWattPerKelvin].map(risen);
  const ohm = (by: number): number => ohmAtRise(curve, anchor, by);
  return {
    rise,
    half: halfOf(most!, least!),
    isIgnorance: isIgnorance(dissipation),
    resistanceOhm: ohm(rise),
    halfOhm: halfOf(ohm(most!), ohm(least!)),
  };
};

/**
 * How much hotter than what it measures a sender is that has these ohms in its circuit: P / delta, its own unit. As
 * `hotOhmAt`, asked from the other side. Source: the definition of the dissipation factor, IEC 60539-1.
 */
export const riseWithOhm = ({ sender, atWork }: KnownSender, resistanceOhm: number): Rise | undefined => {
  const change = unitChange('degC', sender.unit);
  if (atWork === undefined || change.kind === 'refused') return undefined;
  const { source, dissipation } = atWork;
  const watt = powerAt(source, resistanceOhm);
  const by = (wattPerKelvin: number): number => (change.factor * watt) / wattPerKelvin;
  return {
    rise: by(dissipation.wattPerKelvin),
    half: halfOf(by(dissipation.lowestWattPerKelvin), by(dissipation.highestWattPerKelvin)),
    isIgnorance: isIgnorance(dissipation),
  };
};
