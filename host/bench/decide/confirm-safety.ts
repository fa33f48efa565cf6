import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import type { CommandOf, JobState } from '../../job';
import { confirmations } from '../../job/state/confirmations';
import { coldFromIso } from '../../job/state/gate-times';
import { engineSensor } from '../box/hindrances';
import type { Decision } from './decision';

type Said = CommandOf<'confirm-safety'>;

/** Under it neither coolant nor oil scalds. Common practice, no source. */
const COLD_CELSIUS = 40;
/** A hand on the button is no hand in the fan. Common practice, no source. */
const HELD_MS = 3_000;
const MS_PER_S = 1_000;

type Now = { readonly by: string; readonly nowIso: string };

/** On a drawn vehicle nothing is hot, nothing turns and nobody drives. */
function gateShut(state: JobState, said: Said, nowIso: string): Refused | undefined {
  if (state.simulated) return undefined;
  const { confirmation, airbagWaitMinutes, heldMs } = said;
  if (confirmation === 'engine-cold') return notCold(state, said, nowIso);
  if (confirmation === 'dash-open' && airbagWaitMinutes === undefined) return refuse('NO_AIRBAG_WAIT');
  if (confirmation === 'engine-runs' && !((heldMs ?? 0) >= HELD_MS))
    return refuse('NOT_HELD', { seconds: HELD_MS / MS_PER_S });
  if (confirmation === 'two-aboard' && !areTwo(said)) return refuse('TWO_NAMES');
  return confirmation === 'gauge-sender' ? engineSensor(state) : undefined;
}

/** By one's own probe, or by the hours that the engine stood by the journal. */
function notCold(state: JobState, { probeCelsius }: Said, nowIso: string): Refused | undefined {
  if (probeCelsius !== undefined)
    return probeCelsius < COLD_CELSIUS
      ? undefined
      : refuse('NOT_COLD', { limitCelsius: COLD_CELSIUS, probeCelsius });
  const coldIso = coldFromIso(state);
  if (coldIso !== undefined && Date.parse(nowIso) >= Date.parse(coldIso)) return undefined;
  return refuse('NOT_COLD', {
    limitCelsius: COLD_CELSIUS,
    ...(coldIso === undefined ? {} : { until: hourOf(coldIso) }),
  });
}

/** Hour and minute as the clock on the wall shows them. */
const hourOf = (iso: string): string => new Date(iso).toTimeString().slice(0, 5);

const plainName = (text = ''): string => text.trim().toLowerCase();
const areTwo = ({ driver, reader }: Said): boolean =>
  plainName(driver) !== '' && plainName(reader) !== '' && plainName(driver) !== plainName(reader);

/** Who said it last, where it stands. */
const stillSaid = ({ confirmations: standing, saidForSafety }: JobState, { confirmation }: Said) =>
  standing.includes(confirmation)
    ? saidForSafety.filter((each) => each.confirmation === confirmation).at(-1)
    : undefined;

const evidenceWords = ({ probeCelsius, airbagWaitMinutes, driver, reader }: Said): string =>
  [
    driver === undefined ? '' : ` Drives: ${driver}.`,
    reader === undefined ? '' : ` Reads: ${reader}.`,
    probeCelsius === undefined ? '' : ` Measured: ${probeCelsius} \u00b0C.`,
    airbagWaitMinutes === undefined ? '' : ` Waited: ${airbagWaitMinutes} min.`,
  ].join('');

/** Said again it stands anew: by the time since. */
const RENEWED: readonly Said['confirmation'][] = ['engine-runs', 'engine-cold', 'engine-off', 'two-aboard'];

/** Keeps what was said for safety with what it was measured by. A double tap says it once. */
export function confirmSafety(state: JobState, { by, nowIso }: Now, command: Said): Decision {
  const shut = gateShut(state, command, nowIso);
  if (shut !== undefined) return shut;
  const isRenewed = !state.simulated && RENEWED.includes(command.confirmation);
  if (!isRenewed && stillSaid(state, command)?.by === by) return [];
  const { kind, ...said } = command;
  const sentence = `${confirmations[command.confirmation].asks}${evidenceWords(command)}`;
  return [{ kind: 'safety-confirmed', ...said, sentence }];
}
