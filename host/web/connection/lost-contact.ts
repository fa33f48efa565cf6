import { ABSENT_MS } from '../../job/wire/attendance';
import type { JobState } from '../../job/state/state';
import type { LiveFrame } from '../../job/wire/job-messages';

/** The output was, or was about to be, live when the box or the host fell out of reach. */
export type OutOfReach = {
  readonly lost: 'host' | 'box';
  readonly sinceMs: number;
  /** After this much silence of the host the box opens its output by itself; undefined: it never said. */
  readonly deadManMs: number | undefined;
  /** Whose reading the output was live for. */
  readonly reader: string | undefined;
};

/** What became of a press of STOP. `unsent` is said to the host as soon as it can be reached. */
export type StopNews =
  | { readonly kind: 'sent' | 'unsent'; readonly atMs: number }
  | { readonly kind: 'answered'; readonly outcome: 'box-confirmed-open' | 'box-silent' | 'no-box' };

export const isOutputLive = (frame: LiveFrame | undefined): boolean =>
  frame !== undefined &&
  frame.link.state === 'live' &&
  (frame.box.state === 'driving' || frame.box.state === 'armed');

/**
 * What is out of reach after a frame (undefined: the host was lost). Only a frame that shows the box itself ends it:
 * silence is never taken for an open output.
 */
export function reachAfter(
  known: { readonly frame: LiveFrame | undefined; readonly lostContact: OutOfReach | undefined },
  next: LiveFrame | undefined,
  nowMs: number,
): OutOfReach | undefined {
  if (next !== undefined && next.link.state === 'live' && next.box.state !== 'unknown') return undefined;
  if (known.lostContact !== undefined) return known.lostContact;
  const { frame } = known;
  if (frame === undefined || !isOutputLive(frame)) return undefined;
  const { deadManMs } = frame.box;
  return { lost: next === undefined ? 'host' : 'box', sinceMs: nowMs, deadManMs, reader: frame.attending };
}

const seconds = (ms: number): string => `${Number((ms / 1000).toFixed(1))} s`;
const leaseWords = (deadManMs: number | undefined): string =>
  deadManMs === undefined ? 'a few seconds' : seconds(deadManMs);

/** When and why the output opens although nobody can tell the box to. */
export function opensByItself(lostContact: OutOfReach, screen: string, nowMs: number): string {
  const lease = leaseWords(lostContact.deadManMs);
  const passedMs = nowMs - lostContact.sinceMs;
  if (lostContact.lost === 'box') {
    const isOver = lostContact.deadManMs !== undefined && passedMs > lostContact.deadManMs;
    return isOver
      ? `The ${lease} after which the box opens its output by itself are over.`
      : `The box opens its output by itself within ${lease} without the host.`;
  }
  const ifStopped = `If the host has stopped, the box opens its output by itself within ${lease}.`;
  if (lostContact.reader !== screen) {
    return `${ifStopped} If it still runs, the sweep goes on for ${lostContact.reader ?? 'another screen'}: stop it there.`;
  }
  return passedMs > ABSENT_MS + (lostContact.deadManMs ?? 0)
    ? `${ifStopped} If it still runs, it has missed this screen for ${seconds(ABSENT_MS)} and has opened the output.`
    : `${ifStopped} If it still runs, it opens the output ${seconds(ABSENT_MS)} after it last heard this screen.`;
}

/** What hands can do, whatever computers say. */
export const byHand = (place: JobState['place']): string =>
  place === 'car'
    ? 'By hand: ignition off, then pull the fused clip.'
    : 'By hand: switch the supply off, then pull the fused clip.';
