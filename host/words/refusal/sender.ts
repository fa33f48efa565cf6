import type { SenderRefusals } from '../../core/sender/refusals';
import type { RefusalWords } from '../sentence';

type Words = { readonly [Code in keyof SenderRefusals]: RefusalWords<SenderRefusals[Code]> };

/** Refusals of sender curves. */
export const senderRefusals: Words = {
  SENDER_NOT_MONOTONE: {
    says: ({ turnsBackAt, unit }, say) =>
      `The sender's resistance turns back at ${say.of(turnsBackAt, unit)}: one resistance would stand for two values.`,
    remedy: 'Measure the points there again, or strike one.',
  },
};
