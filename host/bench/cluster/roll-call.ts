import type { Refused } from '../../core/result';
import type { Gauge } from '../../job';
import { refuse } from '../../refusals';
import type { Box } from '../box/box';
import { wait, type BenchClock } from '../clock';
import { settleMsOf } from '../rules';
import { HeldBox } from './held-box';
import { cautiousKindOf, harmlessOhms } from './member';

/** What a person says who was asked which needle moved. */
export type NeedleMoved = { readonly jobId: string } | { readonly nothing: 'none' | 'several' | 'not-sure' };

export type RollCallParts = {
  readonly gauges: readonly { readonly jobId: string; readonly gauge: Gauge }[];
  readonly boxes: readonly { readonly box: Box; readonly boxSerial: number }[];
  readonly clock: BenchClock;
  readonly needleSpeed: number;
  readonly signal: AbortSignal;
  /** The box is about to move; then it has moved: which needle did? */
  readonly about: (boxSerial: number) => void;
  readonly whichMoved: (boxSerial: number) => Promise<NeedleMoved>;
};

export type Called = {
  readonly boxSerial: number;
  readonly moved: NeedleMoved;
  readonly milliamp: number | undefined;
};

/** A needle need not come to rest to be seen moving. */
const SEEN_PART = 0.5;

/**
 * One box after the other steps once between two harmless resistances while the others stand still. Nothing is assumed of
 * which box is on which gauge. Refuses what a box refuses, and CALLED_OFF; every output is open at its end.
 */
export async function rollCall(parts: RollCallParts): Promise<readonly Called[] | Refused> {
  const { boxes, clock, signal, needleSpeed } = parts;
  const gauges = parts.gauges.map(({ gauge }) => gauge);
  const kind = cautiousKindOf(gauges);
  const { highOhm, lowOhm } = harmlessOhms(gauges);
  const settleMs = Math.max(...gauges.map(({ mechanism }) => settleMsOf(mechanism))) / needleSpeed;
  const held = boxes.map(({ box, boxSerial }) => ({
    boxSerial,
    holder: new HeldBox({ box, kind, clock, signal }),
  }));
  const called: Called[] = [];
  try {
    for (const { holder } of held) {
      const made = await holder.hold(highOhm);
      if (made !== 'made') return made === 'called-off' ? refuse('CALLED_OFF') : made;
    }
    if (!(await wait(clock, settleMs, signal))) return refuse('CALLED_OFF');
    for (const { boxSerial, holder } of held) {
      parts.about(boxSerial);
      const moved = await holder.hold(lowOhm);
      if (moved !== 'made') return moved === 'called-off' ? refuse('CALLED_OFF') : moved;
      if (!(await wait(clock, settleMs * SEEN_PART, signal))) return refuse('CALLED_OFF');
      const look = await holder.look();
      const answer = await parts.whichMoved(boxSerial);
      const milliamp = typeof look === 'object' && 'amp' in look ? look.amp.value * 1_000 : undefined;
      called.push({ boxSerial, moved: answer, milliamp });
      const back = await holder.hold(highOhm);
      if (back !== 'made') return back === 'called-off' ? refuse('CALLED_OFF') : back;
      if (!(await wait(clock, settleMs * SEEN_PART, signal))) return refuse('CALLED_OFF');
    }
    return called;
  } finally {
    await Promise.all(held.map(({ holder }) => holder.end()));
  }
}

/**
 * Which box is on which gauge, by what was said. Refuses ROLL_CALL_TWICE (two boxes, one needle) and ROLL_CALL_UNCLEAR
 * (a box whose needle nobody could name, a gauge that no box moved).
 */
export function berthsOf(
  called: readonly Called[],
  gauges: readonly { readonly jobId: string; readonly place: string }[],
): ReadonlyMap<string, number> | Refused {
  const berths = new Map<string, number>();
  for (const { boxSerial, moved } of called) {
    if ('nothing' in moved) return refuse('ROLL_CALL_UNCLEAR', { boxSerial, said: moved.nothing });
    const other = berths.get(moved.jobId);
    const place = gauges.find(({ jobId }) => jobId === moved.jobId)?.place ?? moved.jobId;
    if (other !== undefined) return refuse('ROLL_CALL_TWICE', { place, serials: [other, boxSerial] });
    berths.set(moved.jobId, boxSerial);
  }
  return berths;
}
