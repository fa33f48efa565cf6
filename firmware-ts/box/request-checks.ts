import type { Fields } from '../../protocol';
import { contactBits, limits as boxLimits } from '../board/reference-design';
import { RAMP_START_MILLIOHM } from '../guard/job-limits';
import { isOutputClosed } from '../ladder/table';
import type { Drive } from './drive';
import type { Parts } from './parts';
import type { Job } from './state';
import { asI32, refuse } from './wire';
import type { Refusing } from './wire';

const MASK_16 = 0xffff;
/** Host and box add up the same whole milliohms; one is left for a host that sums in ohms. */
const SUM_TOLERANCE_MILLIOHM = 1;

/** Why the element table is not good enough to arm with; `undefined` when it is. */
export function calibrationTrouble(parts: Parts, hostDay: number): Refusing | undefined {
  const { calibration, goodCopyCount } = parts;
  if (calibration === undefined) return refuse('CALIBRATION_INVALID', goodCopyCount);
  const overdueDays = hostDay - calibration.calibrationEndDay;
  return overdueDays <= 0 ? undefined : refuse('CALIBRATION_EXPIRED', overdueDays);
}

/** Why a setting is not done; `undefined` when nothing speaks against it. */
export function settingTrouble(
  fields: Fields<'set'>,
  context: { readonly parts: Parts; readonly job: Job; readonly drive: Drive },
): Refusing | undefined {
  const { contactMask, complementMask, resistanceMilliohm, leaseMs } = fields;
  const { parts, job } = context;
  if ((contactMask ^ complementMask) !== MASK_16) return refuse('COMPLEMENT');
  if ((contactMask & ~contactBits.allMask) !== 0) return refuse('CONTACTS', contactBits.allMask);
  if (!isOutputClosed(contactMask)) return refuse('OUTPUT_BIT');
  const made = parts.table.madeMilliohm(contactMask);
  if (!(Math.abs(made - resistanceMilliohm) <= SUM_TOLERANCE_MILLIOHM))
    return refuse('SUM_DISAGREES', asI32(made));
  if (!(made >= boxLimits.resistanceMinMilliohm)) return refuse('FLOOR', boxLimits.resistanceMinMilliohm);
  if (!(leaseMs <= job.limits.leaseMs)) return refuse('LEASE', job.limits.leaseMs);
  return rampTrouble(made, context) ?? foreseenTrouble(contactMask, context);
}

function rampTrouble(
  made: number,
  { parts, job, drive }: { readonly parts: Parts; readonly job: Job; readonly drive: Drive },
): Refusing | undefined {
  if (job.limits.rampPermille === 0) return undefined;
  const isDriving = isOutputClosed(parts.contacts.commandedMask);
  const present = isDriving ? parts.table.madeMilliohm(parts.contacts.commandedMask) : RAMP_START_MILLIOHM;
  const lowest = (present * job.limits.rampPermille) / 1000;
  const isTooEarly = isDriving && made < present && !drive.isSettled;
  return made >= lowest && !isTooEarly ? undefined : refuse('RAMP', asI32(isTooEarly ? present : lowest));
}

function foreseenTrouble(
  contactMask: number,
  { drive, job }: { readonly drive: Drive; readonly job: Job },
): Refusing | undefined {
  const foreseen = drive.foresee(contactMask, job.limits);
  return foreseen.kind === 'too-much' ? refuse(foreseen.refusal, asI32(foreseen.detail)) : undefined;
}
