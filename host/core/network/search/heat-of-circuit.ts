import {
  anchorAt,
  driveOf,
  factorOfKind,
  hotCurveOf,
  isIgnorance,
  ohmAtRise,
  riseAt,
  runAwayAt,
} from '../../at-work';
import type { DissipationFactor, LeadSource, Place } from '../../at-work';
import type { SenderResponse } from '../../response';
import { refuse } from '../../refusal';
import type { Refusal } from '../../refusal';
import { parallelOhm } from '../closed-form/ladder-tree';
import type { Heat } from './heat';
import { isKnownThreeTerminal } from './terminals';
import type { TrimOptions } from './trim-options';

/**
 * Why the sender's own heat is not counted: it warms too little to count (no temperature sender), or nobody said what
 * the circuit gives it.
 */
export type NoHeat = 'not-a-temperature-sender' | 'circuit-not-known';

/** What the lead shows: measured, or a two-terminal gauge's own resistance behind its feed; undefined when not known. */
const sourceFrom = (options: TrimOptions): LeadSource | undefined => {
  const { lead, supplyVolt, gaugeOhm } = options;
  // Two terminals: what stands behind the lead is the gauge itself.
  if (lead !== undefined)
    return gaugeOhm === undefined || isKnownThreeTerminal(options) ? lead : { ...lead, ohm: gaugeOhm };
  return supplyVolt === undefined || gaugeOhm === undefined || isKnownThreeTerminal(options)
    ? undefined
    : { volt: supplyVolt, ohm: gaugeOhm };
};

const TRIES = 12;

/**
 * The factor to design with. A measured or typed one is taken as it is. Of an interval of ignorance the middle is taken;
 * where the sender would run away with it, the least that is possible, for the sender is known to work.
 */
const usableFactor = (
  factor: DissipationFactor,
  fits: (wattPerKelvin: number) => boolean,
): DissipationFactor | undefined => {
  const ratio = factor.highestWattPerKelvin / factor.wattPerKelvin;
  for (let step = 0; step <= (isIgnorance(factor) ? TRIES : 0); step += 1) {
    const wattPerKelvin = factor.wattPerKelvin * ratio ** (step / TRIES);
    if (fits(wattPerKelvin)) return { ...factor, wattPerKelvin };
  }
  return undefined;
};

const MILLI = 1e3;
/** A bound, so a little on the safe side of how closely a state is found. */
const ROUNDING = 1e-9;

/** Puts curve, circuit and factor together. Refuses: SENDER_RUNS_AWAY, where the circuit gives the sender no one state. */
export const heatFor = (
  options: TrimOptions,
  sender: SenderResponse,
  asked: {
    readonly band: { readonly from: number; readonly to: number };
    readonly places: readonly Place[];
    readonly values: Float64Array;
  },
): Heat | NoHeat | Refusal<'SENDER_RUNS_AWAY'> => {
  const curve = hotCurveOf(sender, asked.band);
  if (curve === undefined) return 'not-a-temperature-sender';
  const source = sourceFrom(options);
  if (source === undefined) return 'circuit-not-known';
  const given = options.dissipation ?? factorOfKind();
  const runsAway = (wattPerKelvin: number, from: LeadSource): ReturnType<typeof runAwayAt> =>
    runAwayAt(curve, asked.places, from, wattPerKelvin / curve.perKelvin);
  const factor = usableFactor(given, (wattPerKelvin) => runsAway(wattPerKelvin, source) === undefined);
  if (factor === undefined) {
    const at = runsAway(given.wattPerKelvin, source);
    return refuse('SENDER_RUNS_AWAY', {
      ...source,
      value: at?.value ?? asked.band.from,
      unit: sender.unit,
      milliwattPerKelvin: MILLI * given.wattPerKelvin,
      watt: at?.watt ?? 0,
    });
  }
  const across = asked.values.find(
    (ohm) =>
      runsAway(factor.wattPerKelvin, { volt: source.volt, ohm: parallelOhm(source.ohm, ohm) }) === undefined,
  );
  const wattPerUnit = factor.wattPerKelvin / curve.perKelvin;
  const anchors = asked.places.map((place) => anchorAt(curve, place));
  return {
    curve,
    source,
    factor,
    wattPerUnit,
    anchors,
    hottestOhm: Float64Array.from(
      anchors,
      (anchor) =>
        (1 - ROUNDING) * ohmAtRise(curve, anchor, riseAt(curve, anchor, driveOf(source), wattPerUnit)),
    ),
    leastAcrossOhm: across ?? Infinity,
  };
};
