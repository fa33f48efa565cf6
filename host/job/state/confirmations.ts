import type { Confirmation } from '../schema/safety';
import { isRunOut, type GateFacts } from './gate-times';
import type { JobState, ProofPair } from './state';

/**
 * Things a person must say before a step is opened or the output may close. The sentence is shown beside the button and
 * kept in the journal.
 * Source: common practice collected in the trade's safety rules (hot coolant, fuel vapour, unknown mechanism, shorted
 * thermal gauge).
 */
export const confirmations: Readonly<Record<Confirmation, { readonly asks: string }>> = {
  'fuel-dash-end': {
    asks: 'The tank is closed, the box is connected at the dash end of the sender wire, and the sender wire is off.',
  },
  'connected-ignition-off': {
    asks: 'The leads were connected with the ignition off; it is on now only to feed the gauge.',
  },
  'mechanism-unknown': {
    asks: 'Nobody knows yet what kind of gauge this is: it starts at the highest resistance and goes down slowly.',
  },
  'low-resistance': {
    asks: 'This step puts less than the lowest usual sender resistance on a thermal gauge, for 5 seconds at most.',
  },
  'engine-cold': {
    asks: 'The engine is cold. The pressure cap and the sender come off only while it is cold, and never with the engine running.',
  },
  'tank-closed': {
    asks: 'The tank stays closed. Wires are parted and joined at the dash end only, ignition off; the air is moving and nothing near can spark.',
  },
  'coolant-level': {
    asks: 'The needle stands far below the reference: coolant may be below the bulb. The engine was stopped, has cooled, and the level is right.',
  },
  'dash-open': {
    asks: 'Battery negative was off before the dash was opened, and the airbags had the minutes that the manual wants. The engine does not run.',
  },
  'engine-runs': {
    asks: 'The engine runs. Hands and leads are out of fan and belts; the fan may start by itself.',
  },
  'engine-off': {
    asks: 'The engine was switched off just now and stays off.',
  },
  'gauge-sender': {
    asks: 'This sender works the gauge and nothing else. A sensor that feeds the engine controller is left alone.',
  },
  'two-aboard': {
    asks: 'Two are aboard: one drives and looks at the road, the other reads. Alone? Stop, then read.',
  },
  'hand-ignition-off': {
    asks: 'The ignition is off whenever a clip is moved. What is measured with the ohmmeter is off the wire.',
  },
};

/** What stands of the vehicle as it is at that hour; the others are of what is known, and stay. */
const OF_THE_HOUR: readonly Confirmation[] = [
  'fuel-dash-end',
  'connected-ignition-off',
  'engine-cold',
  'tank-closed',
  'hand-ignition-off',
  'coolant-level',
  'dash-open',
  'engine-runs',
  'two-aboard',
];

/** In a longer break a vehicle may have been driven, filled or taken apart. Common practice, no source. */
export const LONGEST_BREAK_HOURS = 2;
const MS_PER_HOUR = 3_600_000;

/** A clock that was set back counts as a break. */
export const isLongBreak = (lastAt: string, nowIso: string): boolean =>
  Math.abs(Date.parse(nowIso) - Date.parse(lastAt)) / MS_PER_HOUR > LONGEST_BREAK_HOURS;

/**
 * What was said of the vehicle and counts no more, because nothing was entered in the job for longer than a break: work
 * that goes on is not interrupted, work that begins anew is asked anew.
 */
export const lapsedConfirmations = (
  state: Pick<JobState, 'confirmations' | 'lastAt'> & GateFacts,
  nowIso: string,
): readonly Confirmation[] => {
  if (isLongBreak(state.lastAt, nowIso))
    return state.confirmations.filter((each) => OF_THE_HOUR.includes(each));
  return state.confirmations.filter((each) => isRunOut(each, state, nowIso));
};

/** The job as a screen shows it: what lapsed counts no more, though only the next work in it writes that down. */
export const withoutLapsed = (state: JobState, nowIso: string): JobState => {
  const lapsed = lapsedConfirmations(state, nowIso);
  if (lapsed.length === 0) return state;
  return { ...state, confirmations: state.confirmations.filter((each) => !lapsed.includes(each)) };
};

/** What this program cannot know of a vehicle, and who does. */
export const DEFERS =
  'The vehicle maker\u2019s manual, local codes and licensed trades come before anything this page says.';

/** Work that can hurt: on a vehicle with hot coolant or fuel vapour in it, and closing the output on its gauge. */
export type RiskyWork =
  | 'sender-wire'
  | 'sender'
  | 'proof'
  | 'probe-fitted'
  | 'moving'
  | 'sweep'
  | 'by-hand'
  | 'dash'
  | 'engine-runs';

type Job = Pick<JobState, 'gauge' | 'place' | 'simulated'>;

/** The answer that says whose sensor it is. */
export const SENDER_QUESTION = 'sender-of';
export const ENGINE_CONTROLLER = 'engine-controller';

/** A wire that is parted must be the gauge's: a real engine may run by a sensor beside it. */
const ownSender = ({ gauge, place, simulated }: Job): Confirmation[] =>
  place === 'car' && !simulated && (gauge.quantity === 'temperature' || gauge.quantity === 'pressure')
    ? ['gauge-sender']
    : [];

const beforeSweep = ({ gauge, place, simulated }: Job): Confirmation[] => [
  ...(place === 'car' ? (['connected-ignition-off'] as const) : []),
  ...(place === 'car' && gauge.quantity === 'fuel' ? (['fuel-dash-end'] as const) : []),
  // A heater of unknown kind burns on a bench as well.
  ...(gauge.mechanism === 'unknown' ? (['mechanism-unknown'] as const) : []),
  ...ownSender({ gauge, place, simulated }),
];

/** Without a box: what holds for clips, for a tank, and for a heater of unknown kind on a bench as well. */
const beforeHand = ({ gauge, place, simulated }: Job): Confirmation[] => [
  ...(place === 'car' ? (['hand-ignition-off'] as const) : []),
  ...(place === 'car' && gauge.quantity === 'fuel' ? (['tank-closed'] as const) : []),
  ...(gauge.mechanism === 'unknown' ? (['mechanism-unknown'] as const) : []),
  ...ownSender({ gauge, place, simulated }),
];

/** What must be said before such work. On a bench no lead meets a live wire, no coolant is under pressure, no tank is near. */
export const confirmationsFor = (work: RiskyWork, job: Job): readonly Confirmation[] => {
  if (work === 'sweep') return beforeSweep(job);
  if (work === 'by-hand') return beforeHand(job);
  const { gauge, place } = job;
  if (place === 'bench') return [];
  switch (work) {
    case 'dash':
      return ['dash-open'];
    case 'engine-runs':
      return ['engine-runs'];
    case 'moving':
      return ['two-aboard'];
    case 'probe-fitted':
      return gauge.quantity === 'temperature' ? ['engine-cold'] : [];
    case 'proof':
      return gauge.quantity === 'fuel' ? ['tank-closed'] : [];
    case 'sender-wire':
      return gauge.quantity === 'fuel' ? ['tank-closed'] : ownSender(job);
    case 'sender':
      if (gauge.quantity === 'fuel') return ['tank-closed'];
      // Hot coolant or hot oil comes out where its sender was.
      return gauge.quantity === 'other' ? [] : ['engine-cold', ...ownSender(job)];
  }
};

/** The same, less what was said already. A probe that was put into a cold system stays there while it warms. */
export const stillToConfirm = (
  work: RiskyWork,
  state: Job & Pick<JobState, 'confirmations' | 'saidForSafety'>,
): readonly Confirmation[] =>
  confirmationsFor(work, state).filter(
    (each) =>
      !state.confirmations.includes(each) &&
      !(work === 'probe-fitted' && state.saidForSafety.some(({ confirmation }) => confirmation === each)),
  );

/** What a reading of the proof is, by its engine and by where its reference is. What nobody said is the worse of both. */
export const proofWork = (
  { gauge: { quantity } }: Pick<JobState, 'gauge'>,
  pair: { readonly engine?: ProofPair['engine']; readonly referenceKind?: ProofPair['referenceKind'] },
): readonly RiskyWork[] => {
  const hasEngine = quantity === 'temperature' || quantity === 'pressure';
  const engine = pair.engine ?? (hasEngine ? 'running' : 'off');
  return [
    'proof',
    ...(pair.referenceKind === 'flow-probe' ? (['probe-fitted'] as const) : []),
    ...(engine === 'driving' ? (['moving'] as const) : []),
    ...(engine === 'running' && hasEngine ? (['engine-runs'] as const) : []),
  ];
};

const OFF_WORDS = /\boff\b|not running|stopped|never started/i;
const RUNNING_WORDS = /\b(?:idl|run|rev|warming|driv|fan)|thermostat open/i;

/** Whether the words of a natural state tell of a running engine. */
const isEngineRunning = (natural: string): boolean => RUNNING_WORDS.test(natural) && !OFF_WORDS.test(natural);

/** What a reading as found is, by the state that it was taken in; in a drawn vehicle nothing turns. */
export const asFoundWork = ({ gauge, simulated }: Job, natural: string): readonly RiskyWork[] =>
  !simulated &&
  (gauge.quantity === 'temperature' || gauge.quantity === 'pressure') &&
  isEngineRunning(natural)
    ? ['engine-runs']
    : [];
