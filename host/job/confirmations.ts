import type { Confirmation } from './safety';
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
};

/** What this program cannot know of a vehicle, and who does. */
export const DEFERS =
  'The vehicle maker\u2019s manual, local codes and licensed trades come before anything this page says.';

/** Work on a vehicle that can meet hot coolant or fuel vapour. */
export type RiskyWork = 'sender-wire' | 'sender' | 'proof';

/** What must be said before such work; nothing on a bench, where no coolant is under pressure and no tank is near. */
export const confirmationsFor = (
  work: RiskyWork,
  { gauge, place }: Pick<JobState, 'gauge' | 'place'>,
): readonly Confirmation[] => {
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
  state: Pick<JobState, 'gauge' | 'place' | 'confirmations'>,
): readonly Confirmation[] =>
  confirmationsFor(work, state).filter((each) => !state.confirmations.includes(each));
