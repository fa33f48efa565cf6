import type { AtWorkRefusals } from './at-work/refusals';
import type { BudgetRefusals } from './budget/refusals';
import type { CircuitRefusals } from './circuit/refusals';
import type { CurveRefusals } from './curve/refusals';
import type { DialRefusals } from './dial/refusals';
import type { IdentifyRefusals } from './identify/refusals';
import type { LadderRefusals } from './ladder/refusals';
import type { NetworkRefusals } from './network/refusals';
import type { NumericRefusals } from './numeric/refusals';
import type { OverlayRefusals } from './overlay/refusals';
import type { PlanRefusals } from './plan/refusals';
import type { ProofRefusals } from './proof/refusals';
import type { SenderRefusals } from './sender/refusals';
import type { StrapRefusals } from './strap/refusals';
import type { WaterRefusals } from './water/refusals';

/** Every code with which the core refuses, and the figures its sentence is made of. */
export type Refusals = AtWorkRefusals &
  BudgetRefusals &
  CircuitRefusals &
  CurveRefusals &
  DialRefusals &
  IdentifyRefusals &
  LadderRefusals &
  NetworkRefusals &
  NumericRefusals &
  OverlayRefusals &
  PlanRefusals &
  ProofRefusals &
  SenderRefusals &
  StrapRefusals &
  WaterRefusals;
export type RefusalCode = keyof Refusals;

/**
 * What a computation answers when it cannot or must not give a number: a code to test for and the figures that matter,
 * units in their names. `host/words` makes the sentence.
 */
export type Refusal<Code extends RefusalCode = RefusalCode> = {
  readonly kind: 'refused';
  readonly code: Code;
  readonly slots: Refusals[Code];
};

export const refuse = <Code extends RefusalCode>(code: Code, slots: Refusals[Code]): Refusal<Code> => ({
  kind: 'refused',
  code,
  slots,
});

type OfKind = { readonly kind: string };

/** True for a refusal, whatever else a computation may answer. */
export const isRefused = <Result extends OfKind>(
  result: Result,
): result is Extract<Result, { readonly kind: 'refused' }> => result.kind === 'refused';
