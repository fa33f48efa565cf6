import { refuse, type Refusal } from '../../core/refusal';
import {
  fitSender,
  ohmRange,
  senderOhmAt,
  senderValueAt,
  type FittedSender,
  type SenderLawName,
  type SenderPoint,
} from '../../core/sender';
import { unitChange } from '../../core/units';
import { hotOhmAt, riseWithOhm, type KnownSender } from './hot-sender';
import { dangerReading, isAtDangerousEnd } from './danger';
import type { Gauge } from '../schema/gauge';
import type { JobState } from '../state/state';
import { countedSenderPoints } from '../state/views';

/** The ohms a sender has at the dangerous end, to be put in its place. */
export type Substitution = {
  readonly kind: 'substitution';
  readonly senderId: string;
  /** In dial units. */
  readonly reading: number;
  readonly resistanceOhm: number;
  /** 95 %. */
  readonly expandedUncertaintyOhm: number;
  /** How much hotter than what it measures it is there at working current, dial units; left out where that is not counted. */
  readonly hotBy?: number;
  /** A temperature sender whose circuit nobody measured: these are the ohms of an ohmmeter. */
  readonly isHeatLeftOut: boolean;
  /** The place lies beyond the sender's own points: the ohms rest on its law. */
  readonly isBeyondPoints: boolean;
};

export type SubstitutionRefused = Refusal<'SENDER_UNIT' | 'SENDER_SHORT_OF_DANGER' | 'SENDER_OUT_OF_RANGE'>;

type Turned = {
  readonly into: (reading: number) => number;
  readonly back: (value: number) => number;
  readonly factor: number;
};

const turnOf = (gauge: Gauge, sender: FittedSender): Turned | Refusal<'SENDER_UNIT'> => {
  const change = unitChange(gauge.unit, sender.unit);
  if (change.kind === 'refused') return refuse('SENDER_UNIT', { fromUnit: sender.unit, toUnit: gauge.unit });
  const { factor, offset } = change;
  return {
    into: (reading) => reading * factor + offset,
    back: (value) => (value - offset) / factor,
    factor,
  };
};

/** A temperature sender warms in its circuit; a slider or a wire-wound one too little to count. */
const isHeated = (sender: FittedSender): boolean => unitChange('degC', sender.unit).kind !== 'refused';

/**
 * The ohms this sender has where its dial begins to mean danger. Where its curve cannot be followed so far, the furthest
 * place that still lies in the dangerous end.
 * Source: the fitted law of the sender, `senderOhmAt`; where its circuit was measured, as hot as it is in it (`hotOhmAt`).
 * Refuses: a sender in another unit (SENDER_UNIT); a curve that does not reach the dangerous end (SENDER_SHORT_OF_DANGER).
 */
export const substitutionAt = (
  gauge: Gauge,
  senderId: string,
  known: KnownSender,
): Substitution | SubstitutionRefused => {
  const { sender } = known;
  const turn = turnOf(gauge, sender);
  if ('kind' in turn) return turn;
  const wanted = turn.into(dangerReading(gauge));
  const value = Math.min(sender.usableTo, Math.max(sender.usableFrom, wanted));
  const reading = value === wanted ? dangerReading(gauge) : turn.back(value);
  if (!isAtDangerousEnd(gauge, reading))
    return refuse('SENDER_SHORT_OF_DANGER', {
      endsAt: reading,
      wanted: dangerReading(gauge),
      unit: gauge.unit,
    });
  const at = senderOhmAt(sender, value);
  if (at.kind === 'refused') return at;
  const said = { kind: 'substitution', senderId, reading, isBeyondPoints: at.isExtrapolated } as const;
  const hot = hotOhmAt(known, value, at.resistanceOhm);
  if (hot === undefined)
    return {
      ...said,
      resistanceOhm: at.resistanceOhm,
      expandedUncertaintyOhm: at.expandedUncertaintyOhm,
      isHeatLeftOut: isHeated(sender),
    };
  const ofCurve = (at.expandedUncertaintyOhm * hot.resistanceOhm) / at.resistanceOhm;
  return {
    ...said,
    resistanceOhm: hot.resistanceOhm,
    expandedUncertaintyOhm: hot.isIgnorance ? ofCurve + hot.halfOhm : Math.hypot(ofCurve, hot.halfOhm),
    hotBy: hot.rise / Math.abs(turn.factor),
    isHeatLeftOut: false,
  };
};

/** What known ohms in the sender's place stand for; dial units, standard uncertainty. */
export type StandsFor = {
  readonly kind: 'stands-for';
  readonly reference: number;
  readonly referenceUncertainty: number;
};

type KnownOhms = {
  readonly resistanceOhm: number;
  /** Standard uncertainty. */
  readonly uncertaintyOhm: number;
  /** What its maker says a part may differ from the table, where this part was not measured. */
  readonly tolerancePercent: number | undefined;
};

/**
 * The true value that known ohms stand for: at which this sender has them, in its circuit where that was measured. Its
 * curve, the ohms, and the part against its
 * maker's table are uncertain, all three. Ohms that miss the end of the curve by no more than they are known to stand for
 * the end.
 * Source: `senderValueAt`; GUM (JCGM 100:2008) 5.1.2, the part of the ohms by the change of the value over them; a
 * tolerance is rectangular (4.3.7), and so is an interval of ignorance of the sender's heat.
 * Refuses: ohms that the sender never has (SENDER_OUT_OF_RANGE), a sender in another unit (SENDER_UNIT).
 */
export const standsFor = (
  gauge: Gauge,
  known: KnownSender,
  { resistanceOhm, uncertaintyOhm, tolerancePercent = 0 }: KnownOhms,
): StandsFor | SubstitutionRefused => {
  const { sender } = known;
  const turn = turnOf(gauge, sender);
  if ('kind' in turn) return turn;
  const [low, high] = ohmRange(sender);
  const held = Math.min(high, Math.max(low, resistanceOhm));
  const missedOhm = Math.abs(resistanceOhm - held);
  // Asked at its own ohms it refuses in words.
  const at = senderValueAt(sender, missedOhm <= COVERAGE_FACTOR * uncertaintyOhm ? held : resistanceOhm);
  if (at.kind === 'refused') return at;
  const ofPart = (tolerancePercent * resistanceOhm) / (100 * Math.sqrt(3));
  const spreadOhm = Math.hypot(uncertaintyOhm, missedOhm, ofPart);
  const moved = [held - spreadOhm, held + spreadOhm].flatMap((ohm) => {
    const near = senderValueAt(sender, ohm);
    return near.kind === 'refused' ? [] : [Math.abs(near.value - at.value)];
  });
  // Beyond the curve's end on one side, the other side tells.
  const ofOhms = spreadOhm === 0 ? 0 : Math.max(...moved);
  if (!Number.isFinite(ofOhms))
    return refuse('SENDER_OUT_OF_RANGE', { resistanceOhm, uncertaintyOhm: spreadOhm });
  const heat = riseWithOhm(known, held);
  const ofHeat = heat === undefined ? 0 : heat.half / (heat.isIgnorance ? Math.sqrt(3) : COVERAGE_FACTOR);
  return {
    kind: 'stands-for',
    reference: turn.back(at.value - (heat?.rise ?? 0)),
    referenceUncertainty: Math.hypot(at.standardUncertainty, ofOhms, ofHeat) / Math.abs(turn.factor),
  };
};

const COVERAGE_FACTOR = 2;

/** A sender known by its table alone: what its maker says this part may differ. Undefined for one that was measured. */
export const untriedTolerance = (state: JobState, senderId: string): number | undefined => {
  const isUntried = countedSenderPoints(state, senderId).every((point) => point.source === 'datasheet');
  return isUntried ? state.senders.find((each) => each.senderId === senderId)?.tolerancePercent : undefined;
};

/** What a fit of one of the job's senders starts from: its points that count, its unit, and the law it was said to follow. */
export const senderFitOf = (
  state: JobState,
  senderId: string,
): {
  readonly unit: string;
  readonly model: SenderLawName | undefined;
  readonly points: readonly SenderPoint[];
} => {
  const described = state.senders.find((each) => each.senderId === senderId);
  const points = countedSenderPoints(state, senderId).map((point) => ({
    value: point.value,
    resistanceOhm: point.resistanceOhm,
    ...(point.valueUncertainty === undefined ? {} : { valueUncertainty: point.valueUncertainty }),
    ...(point.resistanceUncertaintyOhm === undefined
      ? {}
      : { resistanceUncertaintyOhm: point.resistanceUncertaintyOhm }),
  }));
  return {
    unit: described?.unit ?? state.gauge.unit,
    model: described === undefined || described.model === 'unknown' ? undefined : described.model,
    points,
  };
};

/** The sender's law through the points that count. Source: `fitSender`, which says what it refuses. */
export const fittedSenderOf = (state: JobState, senderId: string): ReturnType<typeof fitSender> => {
  const { unit, model, points } = senderFitOf(state, senderId);
  return fitSender(points, { unit, ...(model === undefined ? {} : { model }) });
};
