import type { GaugeResponse, SenderResponse } from '../../response';
import type { Refusal } from '../../refusal';
import { refuse } from '../../refusal';
import type { Remark } from '../../remark';
import { remark } from '../../remark';
import { quantityOfUnit, unitChange } from '../../units';

/** A sender whose values are in the gauge's unit, and a remark when that had to be assumed. */
export type SenderInUnit = {
  readonly kind: 'sender';
  readonly sender: SenderResponse;
  readonly remark?: Remark<'UNIT_TAKEN_AS_SAME'>;
};

const changed = (sender: SenderResponse, unit: string, factor: number, offset: number): SenderResponse => ({
  ...sender,
  unit,
  knownFrom: Math.min(sender.knownFrom * factor + offset, sender.knownTo * factor + offset),
  knownTo: Math.max(sender.knownFrom * factor + offset, sender.knownTo * factor + offset),
  ohm: (value) => sender.ohm((value - offset) / factor),
  value: (resistanceOhm) => sender.value(resistanceOhm) * factor + offset,
  relativeUncertainty: (value) => sender.relativeUncertainty((value - offset) / factor),
});

/**
 * The sender with its values in the unit of the gauge (degC and degF, kPa, bar and psi). A unit that is not known is
 * taken to be the other's, with a remark.
 * Refuses: UNIT, when both units are known and measure different things.
 */
export const senderInUnitOf = (
  gauge: GaugeResponse,
  sender: SenderResponse,
): SenderInUnit | Refusal<'UNIT'> => {
  if (gauge.unit === sender.unit) return { kind: 'sender', sender };
  const known = [gauge.unit, sender.unit].every((unit) => quantityOfUnit(unit) !== 'other');
  if (!known)
    return {
      kind: 'sender',
      sender,
      remark: remark('UNIT_TAKEN_AS_SAME', { gaugeUnit: gauge.unit, senderUnit: sender.unit }),
    };
  const change = unitChange(sender.unit, gauge.unit);
  if (change.kind === 'refused') return refuse('UNIT', { gaugeUnit: gauge.unit, senderUnit: sender.unit });
  return { kind: 'sender', sender: changed(sender, gauge.unit, change.factor, change.offset) };
};
