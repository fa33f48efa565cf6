import type { CauseName } from '../core/diagnosis/names';

/** What is done about a cause, one sentence or two. Common practice, no source; the maker's manual comes first. */
const REMEDIES: Readonly<Record<CauseName, string>> = {
  sound: 'Nothing to mend. If the needle is wrong all the same, the sweep tells whose curve it is.',
  'sender-open': 'Fit another sender of the same family.',
  'sender-shorted': 'Fit another sender of the same family. Look first for a terminal that touches its body.',
  'sender-worn': 'Fit another sender. Cleaning its track helps for a while at most.',
  'sender-drifted': 'Fit another sender of the same family, or keep it and trim it: the sweep comes next.',
  'sender-of-another-family':
    'Fit a sender of this gauge\u2019s family, or keep this one and see in Trim whether resistors can fit it.',
  'sender-seal':
    'Clean thread and seat down to metal, leave the sealing tape off, or run a ground wire from the hex.',
  'engine-strap': 'Clean and tighten the strap from engine to battery, or fit another.',
  'case-wire': 'Make the gauge\u2019s ground wire good at both ends.',
  'shared-ground': 'Make the dash\u2019s ground good, or give the gauge a ground wire of its own.',
  'wire-open': 'Find the break between gauge and sender and mend it, or run another wire.',
  'wire-corroded': 'Clean or renew the joints of the sender wire, or run another wire.',
  'wire-chafed': 'Find where the sender wire touches metal, and renew it there.',
  'stabiliser-open': 'Fit another stabiliser.',
  'stabiliser-closed':
    'Fit another stabiliser. Until then the gauge gets too much heat: leave the ignition off.',
  'stabiliser-drifted': 'Set the stabiliser, if it can be set, or fit another.',
  'stabiliser-ground': 'Give the stabiliser\u2019s body a good ground.',
  'feed-resistance': 'Clean the feed\u2019s joints, fuse and switch, and measure again.',
  'weak-battery': 'Charge the battery, or fit another, and measure again.',
  'second-gauge': 'Take the second gauge off this wire, or give it a sender of its own.',
  'second-sender': 'Take the second sender off this wire.',
  'gauge-open': 'Fit another gauge, or have its winding mended.',
  'gauge-turns': 'Fit another gauge, or have it wound anew.',
  'gauge-of-another-kind':
    'Fit a gauge of this sender\u2019s family, or sweep this one and see in Trim what fits it.',
  'gauge-sticky': 'Have pivots and hair spring cleaned by somebody who mends instruments.',
  'pointer-moved': 'Set the pointer on its rest mark again; the sweep then shows what is left.',
  'flat-zone':
    'Nothing is broken: the gauge is made to hold still there. Re-mark the dial or fit another gauge, if that is not wanted.',
};

export const remedyWords = (cause: CauseName): string => REMEDIES[cause];

/** How much belief a word stands for, part of the whole. */
const BELIEFS: readonly (readonly [least: number, word: string])[] = [
  [0.95, 'nearly sure'],
  [0.8, 'very likely'],
  [0.5, 'likely'],
  [0.2, 'possible'],
  [0, 'less likely'],
];

/** A word for a belief; it is never said as a figure. */
export const beliefWord = (share: number): string =>
  BELIEFS.find(([least]) => share >= least)?.[1] ?? 'less likely';
