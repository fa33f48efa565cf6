import type { Remark, RemarkCode, Remarks } from '../../core/remark';
import type { Notation } from '../notation';
import type { Sentence } from '../sentence';
import { curveRemarks } from './curve';
import { networkRemarks } from './network';
import { senderRemarks } from './sender';

/** Every remark of the core. One entry a code; the compiler asks for a missing one. */
export const remarkWords: { readonly [Code in RemarkCode]: Sentence<Remarks[Code]> } = {
  ...curveRemarks,
  ...networkRemarks,
  ...senderRemarks,
};

const says = <Code extends RemarkCode>({ code, slots }: Remark<Code>, say: Notation): string => {
  const sentence: Sentence<Remarks[Code]> = remarkWords[code];
  return sentence(slots, say);
};

/** What a person should know before trusting a result. */
export const saidRemark = (remark: Remark, say: Notation): string => says(remark, say);
