import type { Dial } from '../dial';
import type { ReachPoint } from '../numeric/monotone-reach';
import type { Refusal } from '../refusal';
import type { Remark } from '../remark';
import type { SharedOhms } from '../ohmmeter';
import type { Quantity } from '../response';
import type { CurveRefusals } from './refusals';
import type { CurveRemarks } from './remarks';

/** Direction in which the NEEDLE was moving when it was read. */
export type Leg = 'up' | 'down';
export type StopSide = 'low' | 'high';

/** One reading of the needle with a known resistance in place of the sender. */
export type GaugeReading = {
  readonly resistanceOhm: number;
  /** Where the needle stood, in the unit of the dial. */
  readonly reading: number;
  readonly leg?: Leg | undefined;
  /** The needle lay against a stop: the curve passes at or beyond this reading. */
  readonly atStop?: StopSide | undefined;
  /** Standard uncertainty of the reading in dial units, when the reader knows it. */
  readonly readingUncertainty?: number | undefined;
  /** Standard uncertainty of the resistance that is this reading's own, in ohm: its last digit, its contact. */
  readonly resistanceUncertaintyOhm?: number | undefined;
  readonly supplyVolt?: number | undefined;
  /** Where these volts were measured: at the gauge's own feed terminal, or at the battery, ahead of a stabiliser. */
  readonly supplyAt?: 'feed' | 'battery' | undefined;
  /** The needle was walked onto this reading by changing the resistance: nothing was rounded. */
  readonly isSought?: boolean | undefined;
};

export const lawNames = [
  'ratio',
  'two-coil',
  'thermal',
  'cross-coil',
  'monotone-spline',
  'interpolant',
] as const;
export type LawName = (typeof lawNames)[number];

/** What all readings share: standard uncertainty as a part of the resistance (0.001 = 0.1 %) and in ohm. */
export type ResistanceUncertainty = SharedOhms;

export type CurveOptions = {
  readonly quantity?: Quantity;
  /** Unit of the dial, as printed for a person. */
  readonly unit?: string;
  /** Forces a law instead of choosing one. */
  readonly law?: LawName;
  /** Readings for which the resistance is wanted; the distinct readings when absent. */
  readonly marks?: readonly number[];
  /** Lowest and highest reading printed on the dial; the readings' own range when absent. */
  readonly scale?: { readonly lowest: number; readonly highest: number };
  /**
   * The printed scale, when it is known: the laws are then fitted to the place of the needle on the arc, which is what
   * they are laws of, and a scale that is wide here and narrow there does not bend them.
   */
  readonly dial?: Dial;
  /** Smallest step to which the needle was read (half a division, say); found from the readings when absent. */
  readonly readingStep?: number;
  readonly resistanceUncertainty?: ResistanceUncertainty;
  /**
   * What moves the needle, when it is known. A program (electronic) may hold it still or turn it anywhere, so nothing is
   * taken for granted between two settings; coils and bimetals are as smooth as their laws.
   */
  readonly mechanism?: Mechanism;
  /** The voltage the curve is stated at; the mean of those noted when absent. */
  readonly supplyVolt?: number;
  /** Probability of the intervals; 0.95 when absent. */
  readonly coverage?: number;
};

export const mechanisms = [
  'thermal',
  'two-coil',
  'cross-coil',
  'moving-coil',
  'electronic',
  'unknown',
] as const;
export type Mechanism = (typeof mechanisms)[number];

export type NamedParameter = {
  readonly name: string;
  readonly unit: string;
  readonly value: number;
  /** Absent for a parameter held at a bound or not determined by the readings. */
  readonly standardUncertainty: number | undefined;
};

/** A fitted law in the form it is evaluated from: plain numbers. Its gradient and covariance share one order. */
export type LawModel =
  | {
      readonly form: 'shape';
      readonly name: 'ratio' | 'two-coil' | 'thermal' | 'cross-coil';
      /** Resistances at which the first two parameters are the readings. */
      readonly anchorsOhm: readonly [number, number];
      readonly parameters: readonly number[];
      readonly covariance: readonly (readonly number[])[];
    }
  | {
      readonly form: 'spline';
      readonly name: 'monotone-spline';
      readonly axis: LogAxis;
      /** First knot and spacing of the uniform cubic B-spline, in axis units. */
      readonly firstKnot: number;
      readonly knotSpacing: number;
      readonly parameters: readonly number[];
      readonly covariance: readonly (readonly number[])[];
    }
  | {
      readonly form: 'interpolant';
      readonly name: 'interpolant';
      readonly axis: LogAxis;
      /** Knots on the axis; the parameters are the readings at them. */
      readonly knots: readonly number[];
      readonly parameters: readonly number[];
      readonly covariance: readonly (readonly number[])[];
    };

/** u = ln(R + offset), with the stretches of resistance in which the needle does not move taken out. */
export type LogAxis = {
  readonly offsetOhm: number;
  /**
   * In order of resistance. Beyond each the axis is stretched by the ratio of the needle's speeds after and before it,
   * so that the corner at a dead zone is no corner on the axis.
   */
  readonly removed: readonly { readonly fromOhm: number; readonly toOhm: number; readonly stretch: number }[];
};

export type LawCandidate =
  | {
      readonly kind: 'fit';
      readonly name: LawName;
      readonly parameters: readonly NamedParameter[];
      /** Residual standard deviation in dial units. */
      readonly residualStandardDeviation: number;
      /** Number of free parameters; for the spline its effective number. */
      readonly freedom: number;
      readonly aicc: number;
      /** How much worse than the best (0 for the best). */
      readonly margin: number;
      /** Akaike weight among the laws that the residuals do not contradict. */
      readonly weight: number;
      /** How much better the monotone spline follows the readings, where that contradicts this law. */
      readonly contradictedBy: number | undefined;
    }
  | ({ readonly name: LawName } & Refusal);

export type CurvePoint = GaugeReading & {
  readonly fitted: number;
  /** reading - fitted, the fitted hysteresis of its leg taken out. */
  readonly residual: number;
  /** 1 for a reading that is believed; less for one that is questioned; 0 for one at a stop that the curve respects. */
  readonly weight: number;
  readonly role: 'fitted' | 'questioned' | 'bound';
};

export type BudgetLine = {
  readonly source:
    | 'fit'
    | 'law choice'
    | 'between settings'
    | 'hysteresis'
    | 'reading'
    | 'resistance'
    | 'supply'
    | 'plateau';
  /** Standard uncertainty in dial units. */
  readonly readingUncertainty: number;
  /** null stands for "very many" (JSON has no infinity). */
  readonly degreesOfFreedom: number | null;
};

/**
 * What stands behind a resistance: a reading given at it, readings on both sides of it, or the law followed beyond all
 * of them.
 */
export type Ground = 'measured' | 'between' | 'beyond';

export type MarkResult = {
  readonly reading: number;
  readonly resistanceOhm: number;
  readonly expandedUncertaintyOhm: number;
  readonly coverageFactor: number;
  readonly fromOhm: number;
  readonly toOhm: number;
  readonly effectiveDegreesOfFreedom: number | null;
  readonly budget: readonly BudgetLine[];
  readonly note: Ground | 'plateau' | 'at stop';
};

export type Prediction = {
  readonly kind: 'prediction';
  readonly resistanceOhm: number;
  readonly reading: number;
  /** Of the curve itself, midway between the legs. */
  readonly expandedUncertainty: number;
  readonly coverageFactor: number;
  readonly effectiveDegreesOfFreedom: number | null;
  /** Of one further reading, taken on either leg. */
  readonly expandedUncertaintyOfOneReading: number;
  readonly budget: readonly BudgetLine[];
  readonly note: Ground | 'plateau' | 'at stop';
};

export type Hysteresis =
  | {
      readonly kind: 'measured';
      /** Largest difference between the legs at one resistance, in dial units. */
      readonly largest: number;
      readonly percentOfSpan: number;
      readonly atOhm: number;
      readonly atReading: number;
      /** Half the difference between the legs as one number for the whole scale, with its standard uncertainty. */
      readonly half: number;
      readonly halfUncertainty: number;
      readonly pairs: number;
      /** The largest of one reading up and one down, which means hide; only where settings were read twice both ways. */
      readonly singleCycle?: Readonly<{ difference: number; atOhm: number; atReading: number }>;
    }
  | { readonly kind: 'unknown'; readonly assumedHalf: number };

/** What the legs and the repeats say before any law is asked. Differences in dial units. */
export type LegsFinding = {
  /**
   * 'alike': they differ as a good movement does. 'sticky': by about the same, much, everywhere: the curve is their middle and
   * the interval holds both. 'warming': by more the longer lay between the two readings. 'not compared': no setting was
   * read on both legs.
   */
  readonly pattern: 'alike' | 'sticky' | 'warming' | 'not compared';
  /** Down less up, the usual one; where the gauge was warming the largest. */
  readonly difference: number;
  readonly percentOfSpan: number;
  readonly pairs: number;
  /** Settings that speak against the others and are to be read again; `doubted` are the readings that count less, or not at all. */
  readonly again: readonly {
    readonly resistanceOhm: number;
    readonly readings: readonly number[];
    readonly doubted: readonly number[];
  }[];
  /** Where there are such settings: the longest run of readings without one. */
  readonly good?: { readonly fromReading: number; readonly toReading: number };
};

/** How the needle follows its supply, as the noted volts show it. Present where they changed. */
export type SupplyFinding = {
  /** The curve is stated at this voltage. */
  readonly referenceVolt: number;
  /** Deflection goes with volts to this power: 0 not at all, 1 as a current, 2 as heat. */
  readonly exponent: number;
  /** Where the needle stands without current; absent where it does not follow. */
  readonly noCurrentReading?: number;
  readonly odds: readonly { readonly exponent: number; readonly weight: number }[];
  /** Mean volts of the two legs, where they differ: a step of the supply and not a lag of the needle. */
  readonly step?: { readonly upVolt: number; readonly downVolt: number };
  /** What 14 V instead of 12 V adds to each mark, in dial units. */
  readonly change12To14: readonly { readonly reading: number; readonly change: number }[];
};

export type Repeatability = {
  readonly standardDeviation: number;
  readonly degreesOfFreedom: number;
  readonly source: 'repeats' | 'residuals' | 'reading step';
};

export type StopReport = {
  readonly side: StopSide;
  readonly reading: number;
  /** The resistances at which the needle was seen at the stop. */
  readonly seenFromOhm: number;
  readonly seenToOhm: number;
  /** Where the curve reaches the stop, when it does within or near what was measured. */
  readonly reachedAtOhm: number | undefined;
  readonly source: 'marked' | 'inferred';
};

export type PlateauReport = {
  readonly fromOhm: number;
  readonly toOhm: number;
  readonly reading: number;
  readonly points: number;
  /** Standard uncertainty of that reading for rounding, which all settings share; absent in older curves. */
  readonly roundingUncertainty?: number | undefined;
};

/** Everything known about a gauge's curve, as plain data that survives JSON. */
export type GaugeCurve = {
  readonly kind: 'curve';
  readonly schema: 1;
  readonly quantity: Quantity;
  readonly unit: string;
  readonly law: {
    readonly name: LawName;
    readonly parameters: readonly NamedParameter[];
    readonly forced: boolean;
  };
  readonly candidates: readonly LawCandidate[];
  readonly points: readonly CurvePoint[];
  readonly marks: readonly MarkResult[];
  readonly legs: LegsFinding;
  readonly supply?: SupplyFinding;
  readonly hysteresis: Hysteresis;
  readonly repeatability: Repeatability;
  readonly plateaus: readonly PlateauReport[];
  readonly stops: readonly StopReport[];
  readonly warnings: readonly Remark<keyof CurveRemarks>[];
  readonly model: CurveModel;
};

/**
 * What evaluation needs; the rest of the result is for people. Readings, spans and uncertainties in it are parts of the
 * arc where the dial is known, and dial units where it is not.
 */
export type CurveModel = {
  readonly dial?: Dial | undefined;
  /** As the caller gave it, in dial units. */
  readonly readingStep?: number | undefined;
  readonly mechanism?: Mechanism | undefined;
  readonly chosen: LawModel;
  /** The laws not contradicted, with their Akaike weights: their spread is the uncertainty of the choice. */
  readonly mixture: readonly { readonly model: LawModel; readonly weight: number }[];
  readonly risesWithResistance: boolean;
  readonly measuredFromOhm: number;
  readonly measuredToOhm: number;
  /** Every resistance at which a believed reading was given, ascending. */
  readonly settingsOhm: readonly number[];
  readonly span: number;
  readonly lowestReading: number;
  readonly highestReading: number;
  readonly lowStopReading: number | undefined;
  readonly highStopReading: number | undefined;
  readonly fitDegreesOfFreedom: number;
  readonly readingStandardDeviation: number;
  readonly hysteresisHalf: number;
  readonly unseenHysteresisHalf: number;
  /** Half the difference of legs that stick or drift: the needle stands near either of the two. */
  readonly oddHysteresisHalf: number;
  readonly readingBias: number;
  readonly resistanceUncertainty: ResistanceUncertainty;
  /** Standard uncertainty of the supply as a part of itself, and how strongly the law feels it. */
  readonly supplyRelativeUncertainty: number;
  readonly supplyExponent: number;
  readonly restReading: number;
  readonly plateaus: readonly PlateauReport[];
  /** Settings between which the needle may do more than the law says, on the axis of `reachOffsetOhm`; empty for a smooth mechanism. */
  readonly reach: readonly ReachPoint[];
  readonly reachOffsetOhm: number;
  /** How likely it is that it does: 1 where a program moves it; absent in older curves. */
  readonly reachPart?: number | undefined;
  readonly coverage: number;
};

export type CurveRefusalCode = Exclude<keyof CurveRefusals, 'FIT_TOO_MANY_KNOTS' | 'SPLINE_SINGULAR'>;
