import { circuit } from './circuit';

/** What the clips hang on. */
export type Hookup =
  | { readonly kind: 'air' }
  /** SENDER on the CAL + post, the other clips on CAL -. */
  | { readonly kind: 'posts' }
  /** A sender on the bench between the CAL + post and CAL -, SENDER clip on the post; output not used. */
  | { readonly kind: 'sender'; readonly ohm: number }
  | Gauge;

/** A gauge in its circuit: a feed, steady or switched on and off by a stabiliser, and the gauge's own resistance. */
export type Gauge = {
  readonly kind: 'gauge';
  readonly feedVolt: number;
  readonly seriesOhm: number;
  readonly pulse?: { readonly periodMs: number; readonly duty: number };
};

export type SourceRange = 'off' | 'low' | 'high';

/** What the path of the gauge current is at one moment. Infinity: open. */
export type Loop = { readonly pathOhm: number; readonly source: SourceRange };

export type Electric = {
  readonly terminalVolt: number;
  readonly amp: number;
  readonly sourceAmp: number;
  readonly feedVolt: number;
  /** A sense lead that hangs in the air reads nothing but bias. */
  readonly isFeedClipped: boolean;
  readonly areGroundsClipped: boolean;
};

/** The feed at a time; a stabiliser gives whole battery pulses. */
function feedVolt(gauge: Gauge, atMs: number): number {
  if (gauge.pulse === undefined) return gauge.feedVolt;
  const { periodMs, duty } = gauge.pulse;
  return atMs % periodMs < duty * periodMs ? gauge.feedVolt : 0;
}

/** Conductance and current into the terminal from what is clipped to it: Norton's equivalent. */
function outside(hookup: Hookup, atMs: number): { readonly siemens: number; readonly amp: number } {
  if (hookup.kind === 'gauge') {
    return { siemens: 1 / hookup.seriesOhm, amp: feedVolt(hookup, atMs) / hookup.seriesOhm };
  }
  return { siemens: hookup.kind === 'sender' ? 1 / hookup.ohm : 0, amp: 0 };
}

/**
 * The terminal node. Kirchhoff: what flows in from the feed, the ohmmeter's source and the divider's foot flows out
 * through the path. The source gives its current until the post would pass what it can drive.
 */
export function solve(hookup: Hookup, loop: Loop, atMs: number): Electric {
  const { siemens, amp } = outside(hookup, atMs);
  const divider = 1 / (circuit.senseOhm + circuit.dividerFootOhm);
  const conductance = siemens + 1 / loop.pathOhm + divider;
  const without = amp + circuit.biasVolt * divider - circuit.leakAmp;
  const isOnPost = hookup.kind === 'posts' || hookup.kind === 'sender';
  const { volt, lowOhm, highOhm, complianceVolt } = circuit.source;
  const wanted = loop.source === 'off' || !isOnPost ? 0 : volt / (loop.source === 'high' ? highOhm : lowOhm);
  const terminalFree = (without + wanted) / conductance;
  const terminalVolt = wanted > 0 ? Math.min(terminalFree, Math.max(complianceVolt, 0)) : terminalFree;
  return {
    terminalVolt,
    amp: terminalVolt / loop.pathOhm,
    sourceAmp: wanted > 0 ? terminalVolt * conductance - without : 0,
    feedVolt: hookup.kind === 'gauge' ? feedVolt(hookup, atMs) : 0,
    isFeedClipped: hookup.kind === 'gauge',
    areGroundsClipped: hookup.kind !== 'air',
  };
}
