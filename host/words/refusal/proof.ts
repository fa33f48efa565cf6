import type { ProofRefusals } from '../../core/proof/refusals';
import type { RefusalWords } from '../sentence';
import { REFERENCE_WORDS } from '../reference';

type Words = { readonly [Code in keyof ProofRefusals]: RefusalWords<ProofRefusals[Code]> };

const MISSING: Readonly<Record<ProofRefusals['REFERENCE_UNSAID']['missing'], string>> = {
  class: 'its class (percent, printed on its dial)',
  'full-scale': 'its full scale',
  tank: 'how many litres the tank holds',
  uncertainty: 'how far off it may be (±, 95 %)',
  emissivity: 'the emissivity of what it looks at (tape or matt paint: 0.95)',
};

const PAIR: Readonly<Record<ProofRefusals['PROOF_PAIR']['wrong'], string>> = {
  value: 'the true value',
  indicated: 'what the needle shows',
  uncertainty: 'the ± of the reference',
};

/** Refusals of references and of the proof. */
export const proofRefusals: Words = {
  REFERENCE_QUANTITY: {
    says: ({ reference, quantity }) =>
      `${REFERENCE_WORDS[reference]} tells nothing of a dial that shows ${quantity}.`,
    remedy: 'Choose another reference.',
  },
  REFERENCE_UNSAID: {
    says: ({ reference, missing }) => `${REFERENCE_WORDS[reference]}: missing is ${MISSING[missing]}.`,
    remedy: 'Give it. No reference is exact.',
  },
  REFERENCE_SHINY: {
    says: ({ emissivity, least, shownCelsius }, say) =>
      `A surface of emissivity ${say.number(emissivity)} (below ${least}) mirrors what is around it: at ${say.of(90, 'degC')} it shows about ${say.of(Math.round(shownCelsius), 'degC')}.`,
    remedy: 'Put tape or matt paint on it first.',
  },
  REFERENCE_CHANGES: {
    says: ({ ratePerMinute, most, unit }, say) =>
      `The reference changes by ${say.short(ratePerMinute, unit)} a minute, more than ${say.short(most, unit)}: probe and sender are not at one temperature.`,
    remedy: 'Wait until it is steadier, then read both.',
  },
  REFERENCE_HINT: {
    says: ({ reference }) => `${REFERENCE_WORDS[reference]} is a hint: nobody measured anything.`,
    remedy: 'Choose a reference that measures.',
  },
  PROOF_LIMIT: {
    says: ({ lower, upper, unit }, say) =>
      `Between ${say.of(lower, unit)} and ${say.of(upper, unit)} there is no room for a needle.`,
    remedy: 'Give a lower side at or below 0 and an upper one at or above 0, as -2,+4.',
  },
  PROOF_NO_PAIRS: { says: () => 'There is no pair.', remedy: 'Read reference and needle together.' },
  PROOF_FITS_NOTHING: {
    says: () => 'No sender near the one of this curve would give these pairs.',
    remedy: 'Check again: the circuit is not what its curves say.',
  },
  PROOF_PAIR: {
    says: ({ number, wrong, given }) => `Pair ${number}: ${PAIR[wrong]} is ${given}.`,
    remedy: 'Correct it.',
  },
};
