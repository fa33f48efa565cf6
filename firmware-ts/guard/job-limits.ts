import { limits as protocolLimits } from '../../protocol';
import type { Fields, JobKind } from '../../protocol';
import { elements, elementLimitMilliwatt, limits as boxLimits } from '../board/reference-design';

/** What the guards hold a job to. */
export type JobLimits = {
  /** Root mean square over some seconds. */
  readonly currentLimitMilliamp: number;
  /** One sample, at most; what a circuit is really allowed comes from its own prediction. */
  readonly peakLimitMilliamp: number;
  readonly elementPowerLimitMilliwatt: number;
  readonly totalPowerLimitMilliwatt: number;
  readonly supplyLimitMillivolt: number;
  readonly floorMilliohm: number;
  readonly floorTimeMs: number;
  readonly leaseMs: number;
  /** A setting may go down to this part of the present resistance; 0 = at once. */
  readonly rampPermille: number;
  /** Whether one sample may show more than `currentLimitMilliamp` on a pulsing feed, and what bounds it. */
  readonly pulses: 'none' | 'predicted' | 'original';
  /** Where the original bounds it: the lowest resistance of the vehicle's own sender, 0 = nobody has said. */
  readonly originalLeastMilliohm: number;
};

const common: JobLimits = {
  currentLimitMilliamp: boxLimits.currentMaxMilliamp,
  peakLimitMilliamp: boxLimits.currentMaxMilliamp,
  elementPowerLimitMilliwatt: Math.max(...elements.map(elementLimitMilliwatt)),
  totalPowerLimitMilliwatt: boxLimits.totalPowerMaxMilliwatt,
  supplyLimitMillivolt: boxLimits.supplyMaxMillivolt,
  floorMilliohm: boxLimits.lowResistanceFloorMilliohm,
  floorTimeMs: boxLimits.lowResistanceMaxMs,
  leaseMs: protocolLimits.deadManMs.max,
  rampPermille: 0,
  pulses: 'none',
  originalLeastMilliohm: 0,
};

/** A limit that holds for the mean and for one sample alike. */
const atMost = (milliamp: number) => ({ currentLimitMilliamp: milliamp, peakLimitMilliamp: milliamp });

/**
 * The box's own limits for each kind of job.
 * thermal: 225 mA at 10 ohm is the hottest published circuit; behind a pulsing stabiliser it is the root mean square, and
 * the pulses themselves, battery volts, are allowed for by their prediction; magnetic: 140 mA at a dead short, which does no harm;
 * electronic: a pull-up gives a few milliamps; unknown: half a step at a time and at most half the current until a
 * person has said what it is; fuel: never above what a tank circuit carries by itself, which on a pulsing stabiliser is
 * known only when somebody has said how low the original sender goes.
 */
export const jobLimits: Readonly<Record<JobKind, JobLimits>> = {
  thermal: { ...common, peakLimitMilliamp: boxLimits.pulsePeakMaxMilliamp, pulses: 'predicted' },
  magnetic: { ...common, ...atMost(250), floorMilliohm: boxLimits.resistanceMinMilliohm },
  electronic: { ...common, ...atMost(50), floorMilliohm: boxLimits.resistanceMinMilliohm },
  unknown: { ...common, ...atMost(150), rampPermille: 500 },
  fuel: { ...common, ...atMost(250), pulses: 'original' },
};

/** Where the ramp of an unknown gauge starts: as if this resistance were already there. */
export const RAMP_START_MILLIOHM = 4_000_000;

/** A limit the host wanted looser than the box's own; `allowed` is the box's. */
export type TooLoose = { readonly kind: 'too-loose'; readonly allowed: number };

/** The limits of a job: the box's own, tightened by the host. Refuses any that the host wants looser. */
export function tightened(
  own: JobLimits,
  asked: Fields<'arm'>,
): { kind: 'limits'; limits: JobLimits } | TooLoose {
  const upper = [
    [asked.currentLimitMilliamp, own.currentLimitMilliamp],
    [asked.elementPowerLimitMilliwatt, own.elementPowerLimitMilliwatt],
    [asked.totalPowerLimitMilliwatt, own.totalPowerLimitMilliwatt],
    [asked.supplyLimitMillivolt, own.supplyLimitMillivolt],
    [asked.floorTimeMs, own.floorTimeMs],
    [asked.leaseMs, own.leaseMs],
    // A higher floor is the tighter one.
    [-asked.floorMilliohm, -own.floorMilliohm],
  ] as const;
  for (const [wanted, allowed] of upper) {
    if (!(wanted <= allowed)) return { kind: 'too-loose', allowed: Math.abs(allowed) };
  }
  const originalLeastMilliohm = own.pulses === 'original' ? asked.originalLeastMilliohm : 0;
  // Lower than the floor is no sender's resistance but a short.
  if (originalLeastMilliohm > 0 && originalLeastMilliohm < own.floorMilliohm)
    return { kind: 'too-loose', allowed: own.floorMilliohm };
  const hasPulses = own.pulses === 'predicted' || originalLeastMilliohm > 0;
  const peakLimitMilliamp = hasPulses ? boxLimits.pulsePeakMaxMilliamp : asked.currentLimitMilliamp;
  return { kind: 'limits', limits: { ...own, ...asked, peakLimitMilliamp, originalLeastMilliohm } };
}
