import type { Waiting } from '../../job';
import { UNATTENDED_MS } from '../rules';

/** What the engine waits for, with the moments it began; `waitingAt` turns it into what a screen shows. */
export type WaitingFor =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'box' | 'person'; readonly reason: string }
  | { readonly kind: 'moving'; readonly stepId: string }
  | {
      readonly kind: 'settling';
      readonly stepId: string;
      readonly sinceMs: number;
      readonly settleMs: number;
      readonly why: string;
    }
  | {
      readonly kind: 'answer';
      readonly stepId: string;
      readonly wants: 'reading' | 'needle';
      readonly sinceMs: number;
      /** When the needle was left alone with this resistance. */
      readonly restingSinceMs: number;
      readonly mark?: number;
      readonly mustEndMs?: number;
    };

export const waitingAt = (waiting: WaitingFor, nowMs: number, isSteady: boolean): Waiting => {
  switch (waiting.kind) {
    case 'nothing':
    case 'moving':
      return waiting;
    case 'box':
    case 'person':
      return { kind: waiting.kind, reason: waiting.reason };
    case 'settling': {
      const { stepId, settleMs, why } = waiting;
      const passedMs = Math.max(0, nowMs - waiting.sinceMs);
      return { kind: 'settling', stepId, settleMs, passedMs, currentSettled: isSteady, why };
    }
    case 'answer': {
      const { stepId, wants, mark, mustEndMs } = waiting;
      return {
        kind: 'answer',
        stepId,
        wants,
        ...(mark === undefined ? {} : { mark }),
        unattendedInMs: Math.max(0, waiting.sinceMs + UNATTENDED_MS - nowMs),
        ...(mustEndMs === undefined ? {} : { mustEndInMs: Math.max(0, mustEndMs - nowMs) }),
      };
    }
  }
};
