import { said } from './drive';
import type { Rig } from './rig';

export type Read = {
  readonly ohm: number;
  readonly restMs: number;
  readonly tookMs: number;
  readonly readOhm: number;
  readonly refused: string | undefined;
  readonly isRight: boolean;
};

/** How far a reading may be off, as a part of it. */
const WORST_ERROR = 0.005;

/** A sender on the bench, measured after the box has rested. */
export function ohmmeter(rig: Rig, plan: { readonly ohm: number; readonly restMs: number }): Read {
  const { chip, box, line } = rig;
  box.hookup = { kind: 'sender', ohm: plan.ohm };
  const isGreeted = rig.greet();
  rig.pass(plan.restMs);
  const startMs = chip.nowMs;
  const fields = { channel: 0, jobKind: 1, currentMicroamp: 500 };
  const outcome = isGreeted ? line.ask({ name: 'ohmmeter', fields }, 2000) : undefined;
  const tookMs = chip.nowMs - startMs;
  if (outcome?.kind !== 'answer' || outcome.name !== 'ohmmeter') {
    return { ...plan, tookMs, readOhm: NaN, refused: said(outcome), isRight: false };
  }
  const readOhm = outcome.fields.milliohm / 1000;
  const isRight = Math.abs(readOhm / plan.ohm - 1) < WORST_ERROR;
  return { ...plan, tookMs, readOhm, refused: undefined, isRight };
}
