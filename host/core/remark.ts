import type { CurveRemarks } from './curve/remarks';
import type { NetworkRemarks } from './network/remarks';
import type { SenderRemarks } from './sender/remarks';

/** Every code with which the core remarks on a result, and the figures its sentence is made of. */
export type Remarks = CurveRemarks & NetworkRemarks & SenderRemarks;
export type RemarkCode = keyof Remarks;

/** What a person should know before trusting a result. `host/words` makes the sentence. */
export type Remark<Code extends RemarkCode = RemarkCode> = {
  readonly code: Code;
  readonly slots: Remarks[Code];
};

export const remark = <Code extends RemarkCode>(code: Code, slots: Remarks[Code]): Remark<Code> => ({
  code,
  slots,
});
