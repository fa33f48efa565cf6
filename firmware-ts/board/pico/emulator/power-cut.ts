import { said } from './drive';
import type { Rig } from './rig';

export type Cut = {
  readonly kind: 'erase' | 'program';
  /** Identity that was stored before, and the one that was being stored. */
  readonly before: number;
  readonly during: number;
  /** Identity that the box greets with after the power is back; 0: it has lost both. */
  readonly after: number;
  readonly isRight: boolean;
};

type Left = { readonly kind: Cut['kind']; readonly before: number; readonly storage: Uint8Array };

const STORINGS = 3;
const FIRST_IDENTITY = 100;

/**
 * A box that has just been calibrated stores again and again; every erase and every program of it once with the power gone
 * in the middle. `start` starts a box on what the flash then holds.
 */
export function powerCuts(rig: Rig, start: (storage: Uint8Array) => Rig): { cuts: Cut[]; trouble?: string } {
  const { chip, line } = rig;
  const cuts: Cut[] = [];
  for (let count = 1; count <= STORINGS; count += 1) {
    const during = FIRST_IDENTITY + count;
    const left: Left[] = [];
    const before = identityOf(rig);
    chip.flashPart.onOperation = ({ kind, memory }) =>
      left.push({ kind, before, storage: chip.storage(memory) });
    const fields = { channel: 0, calibrationId: during, validDayCount: 365 };
    const outcome = line.ask({ name: 'calibrateStore', fields }, 3000);
    chip.flashPart.onOperation = undefined;
    if (outcome?.kind !== 'answer') return { cuts, trouble: said(outcome) };
    for (const { kind, storage } of left) {
      const after = identityOf(start(storage));
      cuts.push({ kind, before, during, after, isRight: after === before || after === during });
    }
  }
  return { cuts };
}

/** The table that the box says it uses; 0 when none is good, -1 when it does not answer. */
function identityOf(rig: Rig): number {
  if (rig.chip.nowMs < 100) rig.pass(100);
  const fields = { protocolMajorMin: 1, protocolMajorMax: 1, hostNonce: 5, hostDay: 20_800 };
  const outcome = rig.line.ask({ name: 'hello', fields });
  return outcome?.kind === 'answer' && outcome.name === 'hello' ? outcome.fields.calibrationId : -1;
}
