import { limitFault, type Limits } from '../../core/proof/decision';
import type { Scale } from '../../core/proof/limits';
import { quantityOfUnit } from '../../core/units';
import { InputError, refusedError } from '../input-error';
import type { Arguments, OptionTable } from '../options';

const QUANTITIES = ['temperature', 'fuel', 'pressure', 'other'] as const;

export const SCALE_OPTION = {
  scale: { kind: 'numbers', value: 'LOW,HIGH', help: 'ends of the dial\u2019s scale' },
} as const satisfies OptionTable;

export const LIMIT_OPTION = {
  limit: {
    kind: 'numbers',
    value: 'LOW,HIGH',
    help: 'how far off is still right, as -2,+4; 5 % of the scale when left out, in the dangerous quarter 2.5 % to the side that hides the danger',
  },
} as const satisfies OptionTable;

/** The ends of the dial, as they were typed. Throws InputError. */
export function scaleFrom(given: Arguments, unit: string): Scale {
  const [lowest, highest, ...more] = given.numbers('scale') ?? [];
  if (lowest === undefined || highest === undefined || more.length > 0)
    throw new InputError('--scale is missing: the ends of the dial, for example --scale 40,120');
  if (!(highest > lowest)) throw new InputError(`--scale ${lowest},${highest}: the low end comes first`);
  const quantity = QUANTITIES.find((name) => name === given.text('type'));
  return { quantity: quantity ?? quantityOfUnit(unit), lowest, highest };
}

/** One number is the same to both sides. Throws InputError, RefusedError. */
export function limitsFrom(given: Arguments, unit: string): Limits | undefined {
  const numbers = given.numbers('limit');
  if (numbers === undefined) return undefined;
  const [one, other, ...more] = numbers;
  if (one === undefined || more.length > 0) throw new InputError('--limit: give one number, or two as -2,+4');
  const limits =
    other === undefined ? { lower: -Math.abs(one), upper: Math.abs(one) } : { lower: one, upper: other };
  const fault = limitFault(limits, unit);
  if (fault !== undefined) throw refusedError(fault, '--limit: ');
  return limits;
}
