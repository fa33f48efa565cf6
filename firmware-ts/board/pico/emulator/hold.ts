import { said, startDriving, tripOf } from './drive';
import type { Job } from './drive';
import type { Rig } from './rig';
import type { Figures } from './tally';

const DRIVING = 2;
const ASK_EVERY_MS = 500;

export type Held = {
  readonly ohm: number;
  readonly asks: 'heartbeat' | 'measure';
  /** How long the output stayed closed, ms; the whole time asked for when nothing opened it. */
  readonly heldMs: number;
  readonly opened: string | undefined;
  /** Volt by ampere as the box told them last, and as the circuit had it, ohm. */
  readonly measuredOhm: number;
  readonly trueOhm: number;
  readonly figures: Figures;
};

export type HoldPlan = { readonly job: Job; readonly asks: Held['asks']; readonly forMs: number };

/** Makes a resistance and holds it, asking every half second. */
export function hold(rig: Rig, { job, asks, forMs }: HoldPlan): Held {
  let opened = startDriving(rig, job);
  const { chip, line, box, tally } = rig;
  const startMs = chip.nowMs;
  let measuredOhm = NaN;
  let trueOhm = NaN;
  tally.restart();
  let figures = tally.figures();
  while (opened === undefined && chip.nowMs - startMs < forMs) {
    const nextMs = chip.nowMs + ASK_EVERY_MS;
    const outcome = line.ask({ name: asks, fields: { channel: 0 } });
    if (outcome?.kind !== 'answer') opened = tripOf(rig) ?? said(outcome);
    else if (outcome.name === 'measure' || outcome.name === 'heartbeat') {
      measuredOhm = outcome.fields.measuredMilliohm / 1000;
      if (outcome.name === 'heartbeat' && outcome.fields.state !== DRIVING)
        opened = tripOf(rig) ?? `state ${outcome.fields.state}`;
    }
    if (line.events.length > 0) opened ??= tripOf(rig);
    // Volt by ampere at the clips: what the gauge sees.
    const { terminalVolt, amp } = box.electric();
    if (box.isOutputClosed && amp > 0) trueOhm = terminalVolt / amp;
    if (opened === undefined) figures = tally.figures();
    rig.pass(nextMs - chip.nowMs);
  }
  const heldMs = chip.nowMs - startMs;
  return { ohm: job.ohm, asks, heldMs, opened, measuredOhm, trueOhm, figures };
}
