import type { Quantity } from '../response';
import type { PairwiseBeta } from './beta-gate';
import type { SenderLaw, SenderLawName } from './law';
import type { Remark } from '../remark';
import type { UncertaintyBasis } from './points';
import type { SenderReason, SenderRemarks } from './remarks';

/** A coefficient of the law with its standard uncertainty (null when nothing determines one). */
export type SenderCoefficient = {
  readonly name: string;
  readonly unit: string;
  readonly value: number;
  readonly standardUncertainty: number | null;
};

/** A measured point and what the fitted law leaves of it: measured less fitted, along each axis. */
export type FittedSenderPoint = {
  readonly value: number;
  readonly resistanceOhm: number;
  readonly residualValue: number;
  readonly residualOhm: number;
};

/** A fitted sender as plain data: it survives JSON, and every function of this folder takes it as it is. */
export type FittedSender = {
  readonly kind: 'sender';
  readonly schema: 1;
  readonly quantity: Quantity;
  /** Unit of every value below: "degC", "degF", "kPa", "psi", "bar", "%" or the person's own. */
  readonly unit: string;
  readonly model: SenderLawName;
  /** Why this model. */
  readonly reason: SenderReason;
  readonly law: SenderLaw;
  readonly coefficients: readonly SenderCoefficient[];
  readonly covariance: readonly (readonly number[])[];
  readonly uncertaintyBasis: UncertaintyBasis;
  /** null means infinite: uncertainties that were given count as known. */
  readonly degreesOfFreedom: number | null;
  readonly points: readonly FittedSenderPoint[];
  readonly residualSumOfSquares: number;
  /** Unit of the residuals that were squared: "ohm", or the sender's unit for Steinhart-Hart and Beta. */
  readonly residualUnit: string;
  /** null when the fit is exact. */
  readonly residualStandardDeviation: number | null;
  /** Span of the measured points. */
  readonly knownFrom: number;
  readonly knownTo: number;
  /** How far the law may be followed at all. */
  readonly usableFrom: number;
  readonly usableTo: number;
  readonly risesWithValue: boolean;
  readonly beta2585Kelvin: number | null;
  readonly pairwiseBetas: readonly PairwiseBeta[];
  readonly warnings: readonly Remark<keyof SenderRemarks>[];
};
