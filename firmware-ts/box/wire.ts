import type { AnyAnswer, Field, RefusalName } from '../../protocol';

/** A request that is not done: the refusal and the number that decided. */
export type Refusing = { readonly kind: 'refuse'; readonly refusal: RefusalName; readonly detail: number };

export type Reply = AnyAnswer | Refusing;

export const refuse = (refusal: RefusalName, detail = 0): Refusing => ({ kind: 'refuse', refusal, detail });

const I32_MAX = 0x7fff_ffff;
const U32_MAX = 0xffff_ffff;
const U16_MAX = 0xffff;

/** A measured number as a signed wire number: what does not fit, or is no number, becomes the nearest end. */
export const asI32 = (value: number): number =>
  Number.isNaN(value) ? I32_MAX : Math.max(-I32_MAX, Math.min(I32_MAX, Math.round(value)));

/** A number as an unsigned wire number of 32 bits. */
export const asU32 = (value: number): number =>
  Number.isNaN(value) ? U32_MAX : Math.max(0, Math.min(U32_MAX, Math.round(value)));

/** A number as an unsigned wire number of 16 bits. */
export const asU16 = (value: number): number =>
  Number.isNaN(value) ? U16_MAX : Math.max(0, Math.min(U16_MAX, Math.round(value)));

/** A number inside the range of a field; for values whose validity a flag tells. */
export const within = ({ min, max }: Pick<Field, 'min' | 'max'>, value: number): number =>
  Number.isNaN(value) ? max : Math.max(min, Math.min(max, Math.round(value)));
