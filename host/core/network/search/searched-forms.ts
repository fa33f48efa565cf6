import { parallelOhm } from '../closed-form/ladder-tree';
import type { GaugeResponse } from '../../response';
import type { Form } from './search';
import { forms } from './search';
import { threeTerminal } from './terminals';
import type { TrimOptions } from './trim-options';
import { trimDefaults } from './trim-options';
import type { NetworkRemarks } from '../remarks';

/** True when somebody has said so, in one way or another: by terminals, by mechanism or by asking for the topology. */
export const isKnownTwoTerminal = (options: TrimOptions): boolean =>
  options.terminals === 2 ||
  options.mechanism === 'thermal' ||
  options.mechanism === 'moving-coil' ||
  options.topologies?.includes('gauge-shunt') === true;

type NoGaugeShunt = NetworkRemarks['GAUGE_SHUNT_LEFT_OUT'];

/**
 * Why resistors across the gauge are not among the networks searched; undefined when they are. The resistance of a gauge
 * between feed and sender terminal describes a two-terminal gauge, so giving it is enough unless something else speaks
 * against it.
 */
export const whyNoGaugeShunt = (options: TrimOptions): NoGaugeShunt | undefined => {
  if (options.topologies && !options.topologies.includes('gauge-shunt')) return { because: 'not-asked' };
  if (options.gaugeOhm === undefined) return { because: 'gauge-ohm-unknown' };
  if (options.terminals === 3) return { because: 'three-terminals' };
  const { mechanism } = options;
  return options.terminals === undefined && mechanism !== undefined && threeTerminal.has(mechanism)
    ? { because: 'three-terminals', mechanism }
    : undefined;
};

/** The forms that options, part limit and gauge allow, in the order of ties. Source: the options. */
export const formsFor = (options: TrimOptions): readonly Form[] => {
  const most = options.maxParts ?? trimDefaults.maxParts;
  const shunt = whyNoGaugeShunt(options) === undefined;
  return forms.filter(
    (form) =>
      form.partCount <= most &&
      (options.topologies === undefined || options.topologies.includes(form.topology)) &&
      (form.topology !== 'gauge-shunt' || shunt),
  );
};

const ROUNDING = 1e-9;

/**
 * False for a resistor across a fuel gauge that lets more current into the tank than the original circuit ever could:
 * neither with the sender shorted nor at its lowest may the new loop have less resistance than the old one.
 * Source: I = V / (Rs + r + Rg||Rx) against V / (Rg + r); the comparison does not depend on the supply.
 */
export const tankCurrentPermits = (
  gauge: GaugeResponse,
  lowestSenderOhm: number,
  gaugeOhm: number,
): ((form: Form, partsOhm: Float64Array) => boolean) => {
  const lowestOriginalOhm = Math.max(0, gauge.measuredFromOhm);
  return (form, partsOhm) => {
    if (gauge.quantity !== 'fuel' || form.topology !== 'gauge-shunt') return true;
    const loopOhm = parallelOhm(gaugeOhm, partsOhm[0]!) + (partsOhm[1] ?? 0);
    const enough = gaugeOhm * (1 - ROUNDING);
    return loopOhm >= enough && loopOhm + lowestSenderOhm >= enough + lowestOriginalOhm;
  };
};
