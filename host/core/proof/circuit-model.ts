import { anchorAt, driveOf, hotCurveOf, ohmAtRise, riseAt } from '../at-work';
import type { DissipationFactor, LeadSource } from '../at-work';
import { twoCoilOffsetOhm, twoTerminalOffsetOhm } from '../circuit';
import { seenOhm, sourceThrough, type Network } from '../network';
import type { GaugeResponse, SenderResponse } from '../response';

/** Gauge, sender and what is fitted between them, all in the dial's unit. */
export type Chain = {
  readonly gauge: GaugeResponse;
  readonly sender: SenderResponse;
  readonly network: Network;
  readonly terminals: 2 | 3;
  /** What stands behind the sender lead and what the sender sheds, where both are known: then its own heat counts. */
  readonly heat?: { readonly source: LeadSource; readonly dissipation: DissipationFactor } | undefined;
};

/** What may be different in the vehicle from what the curves say; all 0 for a chain that is as it should be. */
export type Difference = {
  /** Ohms in the lead. */
  readonly seriesOhm: number;
  /** From the lead to ground, 1/ohm. */
  readonly leakSiemens: number;
  /** ln of the volts against those of the sweep. */
  readonly logVolt: number;
  /** Sender's ground above the gauge's, V. */
  readonly groundVolt: number;
  /** ln of the sender's ohms against its curve. */
  readonly logOhm: number;
  /** ln of the steepness of its curve about the middle of what is known (for a thermistor: of its B). */
  readonly tilt: number;
  /** The pointer on its shaft, dial units. */
  readonly pointer: number;
};

export const NO_DIFFERENCE: Difference = {
  seriesOhm: 0,
  leakSiemens: 0,
  logVolt: 0,
  groundVolt: 0,
  logOhm: 0,
  tilt: 0,
  pointer: 0,
};

/** A chain that can be asked for its needle. */
export type ChainModel = {
  /** What the needle shows at a true value, with a difference in the vehicle. Dial units. */
  readonly reading: (value: number, difference: Difference) => number;
  /** Ohms of the sender at a true value, as hot as it is in its circuit. */
  readonly senderOhm: (value: number) => number;
  /** Ohms in the middle of what is known, to measure differences by. */
  readonly middleOhm: number;
};

/** Volts at a feed where nobody measured any: a stabilised gauge sees less, and a ground offset then counts more. Common practice, no source. */
const USUAL_VOLT = 12;
/** However large a difference is tried, the lead stays a lead. */
const LARGEST_OHM = 1e9;

const hotOhms = ({ sender, network, heat }: Chain): ((value: number) => number) => {
  const band = { from: sender.knownFrom, to: sender.knownTo };
  const curve = heat === undefined ? undefined : hotCurveOf(sender, band);
  if (curve === undefined || heat === undefined) return sender.ohm;
  const drive = driveOf(sourceThrough(network, heat.source));
  const wattPerUnit = heat.dissipation.wattPerKelvin / curve.perKelvin;
  return (value) => {
    const anchor = anchorAt(curve, { value, coldOhm: sender.ohm(value) });
    return ohmAtRise(curve, anchor, Math.min(riseAt(curve, anchor, drive, wattPerUnit), anchor.furthest));
  };
};

/** Ohms that a lifted ground makes the gauge seem to see. Source: `ground-offset`; coils are taken as equal. */
const shifted = (chain: Chain, source: LeadSource, groundVolt: number, ohm: number): number => {
  if (groundVolt === 0) return ohm;
  const { volt, ohm: sourceOhm } = source;
  if (chain.terminals === 2) {
    const extra = twoTerminalOffsetOhm(groundVolt, { supplyVolt: volt, gaugeOhm: sourceOhm, senderOhm: ohm });
    return extra.kind === 'refused' ? ohm : Math.max(0, ohm + extra.ohm);
  }
  const coils = { supplyVolt: 2 * volt, limitingOhm: 2 * sourceOhm, operatingOhm: 2 * sourceOhm };
  const seen = twoCoilOffsetOhm(-groundVolt, { ...coils, senderOhm: ohm });
  return seen.kind === 'refused' ? ohm : seen.ohm;
};

/**
 * The needle of a chain: the sender's ohms at work, what differs in the vehicle, the network, the gauge's curve.
 * Source: `seenOhm`, `hotCurveOf`, `ground-offset`; volts by the gauge's own law where it has one.
 */
export const chainModel = (chain: Chain): ChainModel => {
  const { gauge, sender, network, heat } = chain;
  const senderOhm = hotOhms(chain);
  const middle = (sender.knownFrom + sender.knownTo) / 2;
  const middleOhm = Math.max(1e-3, sender.ohm(middle));
  const source = heat?.source ?? {
    volt: chain.terminals === 2 ? USUAL_VOLT : USUAL_VOLT / 2,
    ohm: Math.sqrt(Math.max(1, gauge.measuredFromOhm) * Math.max(1, gauge.measuredToOhm)),
  };
  return {
    senderOhm,
    middleOhm,
    reading: (value, difference) => {
      const own = Math.max(1e-6, senderOhm(value));
      const changed = own * Math.exp(difference.logOhm + difference.tilt * Math.log(own / middleOhm));
      const lead = Math.min(LARGEST_OHM, changed + difference.seriesOhm);
      const leaked = 1 / (1 / lead + Math.max(0, difference.leakSiemens));
      const seen = seenOhm(network, shifted(chain, source, difference.groundVolt, leaked));
      const { logVolt } = difference;
      const shown =
        logVolt === 0 || gauge.readingAtFeed === undefined
          ? gauge.reading(seen)
          : gauge.readingAtFeed(seen, Math.exp(logVolt));
      return shown + difference.pointer;
    },
  };
};
