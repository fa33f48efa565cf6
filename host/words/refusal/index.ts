import type { Refusal, RefusalCode, Refusals } from '../../core/refusal';
import type { Refused } from '../../core/result';
import type { Notation } from '../notation';
import type { RefusalWords } from '../sentence';
import { atWorkRefusals } from './at-work';
import { budgetRefusals } from './budget';
import { curveRefusals } from './curve';
import { networkRefusals } from './network';
import {
  circuitRefusals,
  dialRefusals,
  identifyRefusals,
  ladderRefusals,
  numericRefusals,
  planRefusals,
  waterRefusals,
} from './numbers';
import { proofRefusals } from './proof';
import { overlayRefusals, strapRefusals } from './strap';
import { senderRefusals } from './sender';

/** Every refusal of the core: what it says and what to do. One entry a code; the compiler asks for a missing one. */
export const refusalWords: { readonly [Code in RefusalCode]: RefusalWords<Refusals[Code]> } = {
  ...budgetRefusals,
  ...circuitRefusals,
  ...curveRefusals,
  ...dialRefusals,
  ...identifyRefusals,
  ...ladderRefusals,
  ...networkRefusals,
  ...numericRefusals,
  ...planRefusals,
  ...overlayRefusals,
  ...proofRefusals,
  ...strapRefusals,
  ...senderRefusals,
  ...atWorkRefusals,
  ...waterRefusals,
};

const says = <Code extends RefusalCode>({ code, slots }: Refusal<Code>, say: Notation): string => {
  const words: RefusalWords<Refusals[Code]> = refusalWords[code];
  return words.says(slots, say);
};

/** A refusal of the core with its sentence, for those whose refusals bring theirs; `about` stands before it. */
export const withSentence = (refusal: Refusal, say: Notation, about = ''): Refused => ({
  kind: 'refused',
  code: refusal.code,
  message: `${about}${saidRefusal(refusal, say)}`,
});

/** What was wrong and what to do, of the core or of the rest of the house (whose refusals bring their sentence). */
export const said = (refused: Refusal | Refused, say: Notation): string =>
  'slots' in refused ? saidRefusal(refused, say) : refused.message;

/** What was wrong and what to do. Figures as they are written on the page or on the command line. */
export const saidRefusal = (refusal: Refusal, say: Notation): string =>
  `${says(refusal, say)} ${refusalWords[refusal.code].remedy}`.trimEnd();
