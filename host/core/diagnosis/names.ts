/** What one acts on. */
export type Part =
  | 'sound'
  | 'sender'
  | 'curve'
  | 'sender-ground'
  | 'gauge-ground'
  | 'wire'
  | 'stabiliser'
  | 'supply'
  | 'shared-wire'
  | 'gauge'
  | 'flat-zone';

/** Everything that somebody would repair, one thing a name. */
export const causeNames = [
  'sound',
  'sender-open',
  'sender-shorted',
  'sender-worn',
  'sender-drifted',
  'sender-of-another-family',
  'sender-seal',
  'engine-strap',
  'case-wire',
  'shared-ground',
  'wire-open',
  'wire-corroded',
  'wire-chafed',
  'stabiliser-open',
  'stabiliser-closed',
  'stabiliser-drifted',
  'stabiliser-ground',
  'feed-resistance',
  'weak-battery',
  'second-gauge',
  'second-sender',
  'gauge-open',
  'gauge-turns',
  'gauge-of-another-kind',
  'gauge-sticky',
  'pointer-moved',
  'flat-zone',
] as const;
export type CauseName = (typeof causeNames)[number];

/** Everything that is looked at or measured. */
export const testNames = [
  'as-found',
  'as-found-warm',
  'moves-right',
  'rest-mark',
  'other-gauges',
  'branches',
  'lead-off',
  'middle-load',
  'lowest-load',
  'lights',
  'both-ways',
  'flat-step',
  'open-volt',
  'open-pulses',
  'loaded-volt',
  'second-load',
  'battery',
  'hex-ohm',
  'hex-quiet',
  'hex-loaded',
  'sender-plug',
  'sender-body',
  'sender-warm',
  'feed',
  'case-quiet',
  'case-loaded',
  'stabiliser-ground',
  'wire-ohm',
  'wire-leak',
  'gauge-ohm',
  'gauge-ground-ohm',
  'rocking',
  'wiggle',
  'swap-sender',
  'swap-stabiliser',
  'swap-gauge',
  'grounded-post',
] as const;
export type TestName = (typeof testNames)[number];

/** How the person works: with the box and a meter; a meter and two resistors; two resistors; with nothing. */
export const waysOfWorking = ['box', 'meter', 'resistors', 'looking'] as const;
export type Way = (typeof waysOfWorking)[number];
