import { breakStepMs, contactBits, makeStepMs, outputBreakMs, outputMakeMs } from '../board/reference-design';
import { isOutputClosed } from './table';

/** Coils to energise, and how long before the next step may rely on the contacts. */
export type MoveStep = { readonly contactMask: number; readonly waitMs: number };

/**
 * Steps from one set of contacts to another such that the resistance between the terminals is never below the lower of
 * the two ends, at any instant of any contact's travel or bounce within its limits: release first (which inserts),
 * wait until every released contact is open, then energise (which shorts). The output opens first and closes last.
 * Source: derived here; tests/firmware/ladder/moves.test.ts walks every instant.
 */
export function planMove(fromMask: number, toMask: number): MoveStep[] {
  const steps: MoveStep[] = [];
  let present = fromMask & contactBits.allMask;
  const go = (contactMask: number, waitMs: number): void => {
    if (contactMask === present) return;
    present = contactMask;
    steps.push({ contactMask, waitMs });
  };
  const wanted = toMask & contactBits.allMask;
  const isOpening = isOutputClosed(present) && !isOutputClosed(wanted);
  go(present & wanted, isOpening ? Math.max(breakStepMs, outputBreakMs) : breakStepMs);
  go(isOutputClosed(present) ? wanted : wanted & ~contactBits.outputMask, makeStepMs);
  go(wanted, outputMakeMs);
  return steps;
}
