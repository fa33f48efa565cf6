import type { Answer, AnswerMessage, AnyAnswer, Field, RefusalName, RequestName } from '../../protocol';

/** A request that is not done: the refusal and the number that decided. */
export type Refusing = { readonly kind: 'refuse'; readonly refusal: RefusalName; readonly detail: number };

export type Reply = AnyAnswer | Refusing;

export const refuse = (refusal: RefusalName, detail = 0): Refusing => ({ kind: 'refuse', refusal, detail });

/** A request that is done. The link puts the sequence of its request in. */
export const answered = <Name extends RequestName>(
  name: Name,
  fields: Answer<Name>,
): AnswerMessage<Name> => ({
  kind: 'answer',
  name,
  sequence: 0,
  fields,
});

/** A number inside the range of a field, for values whose validity a flag tells: no number becomes the highest. */
export const within = ({ min, max }: Pick<Field, 'min' | 'max'>, value: number): number =>
  Number.isNaN(value) ? max : Math.max(min, Math.min(max, Math.round(value)));

/** A measured number as a signed wire number: what does not fit, or is no number, becomes the nearest end. */
export const asI32 = (value: number): number => within({ min: -0x7fff_ffff, max: 0x7fff_ffff }, value);

/** A number as an unsigned wire number of 32 bits. */
export const asU32 = (value: number): number => within({ min: 0, max: 0xffff_ffff }, value);

/** A number as an unsigned wire number of 16 bits. */
export const asU16 = (value: number): number => within({ min: 0, max: 0xffff }, value);
