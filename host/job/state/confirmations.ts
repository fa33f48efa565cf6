import type { Confirmation } from '../schema/safety';
import type { JobState } from './state';

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
];

/** In a longer break a vehicle may have been driven, filled or taken apart. Common practice, no source. */
export const LONGEST_BREAK_HOURS = 2;
const MS_PER_HOUR = 3_600_000;

/**
 * What was said of the vehicle and counts no more, because nothing was entered in the job for longer than a break: work
 * that goes on is not interrupted, work that begins anew is asked anew. A clock that was set back counts as a break.
 */
export const lapsedConfirmations = (
  {
    confirmations: said,
    lastAt,
    saidForSafety,
  }: Pick<JobState, 'confirmations' | 'lastAt' | 'saidForSafety'>,
  nowIso: string,
): readonly Confirmation[] => {
  const breakHours = Math.abs(Date.parse(nowIso) - Date.parse(lastAt)) / MS_PER_HOUR;
  if (breakHours > LONGEST_BREAK_HOURS) return said.filter((each) => OF_THE_HOUR.includes(each));
  return said.filter((each) => isRunOut(each, saidForSafety, nowIso));
};

/** With the engine running hands are asked for before each reading. Common practice, no source. */
const ENGINE_RUNS_MS = 60_000;

const isRunOut = (
  confirmation: Confirmation,
  saidForSafety: JobState['saidForSafety'],
  nowIso: string,
): boolean => {
  if (confirmation !== 'engine-runs') return false;
  const at = saidForSafety.filter((each) => each.confirmation === confirmation).at(-1)?.at ?? nowIso;
  return Math.abs(Date.parse(nowIso) - Date.parse(at)) > ENGINE_RUNS_MS;
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
export type RiskyWork = 'sender-wire' | 'sender' | 'proof' | 'sweep' | 'by-hand' | 'dash' | 'engine-runs';

type Job = Pick<JobState, 'gauge' | 'place'>;

const beforeSweep = ({ gauge, place }: Job): Confirmation[] => [
  ...(place === 'car' ? (['connected-ignition-off'] as const) : []),
  ...(place === 'car' && gauge.quantity === 'fuel' ? (['fuel-dash-end'] as const) : []),
  // A heater of unknown kind burns on a bench as well.
  ...(gauge.mechanism === 'unknown' ? (['mechanism-unknown'] as const) : []),
];

/** Without a box: what holds for clips, for a tank, and for a heater of unknown kind on a bench as well. */
const beforeHand = ({ gauge, place }: Job): Confirmation[] => [
  ...(place === 'car' ? (['hand-ignition-off'] as const) : []),
  ...(place === 'car' && gauge.quantity === 'fuel' ? (['tank-closed'] as const) : []),
  ...(gauge.mechanism === 'unknown' ? (['mechanism-unknown'] as const) : []),
];

/** What must be said before such work. On a bench no lead meets a live wire, no coolant is under pressure, no tank is near. */
export const confirmationsFor = (work: RiskyWork, job: Job): readonly Confirmation[] => {
  if (work === 'sweep') return beforeSweep(job);
  if (work === 'by-hand') return beforeHand(job);
  if (work === 'dash') return job.place === 'car' ? ['dash-open'] : [];
  if (work === 'engine-runs') return job.place === 'car' ? ['engine-runs'] : [];
  const { gauge, place } = job;
  if (place === 'bench') return [];
  if (gauge.quantity === 'fuel') return ['tank-closed'];
  const isHot =
    (gauge.quantity === 'temperature' && work !== 'sender-wire') ||
    // Hot oil comes out where its sender was.
    (gauge.quantity === 'pressure' && work === 'sender');
  return isHot ? ['engine-cold'] : [];
};

/** The same, less what was said already in this job. */
export const stillToConfirm = (
  work: RiskyWork,
  state: Job & Pick<JobState, 'confirmations'>,
): readonly Confirmation[] =>
  confirmationsFor(work, state).filter((each) => !state.confirmations.includes(each));
