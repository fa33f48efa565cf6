import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import type { CommandOf, JobState } from '../../job';
import { confirmations } from '../../job/state/confirmations';
import type { Decision } from './decision';

type Said = CommandOf<'confirm-safety'>;

/** Under it neither coolant nor oil scalds. Common practice, no source. */
const COLD_CELSIUS = 40;
/** A hand on the button is no hand in the fan. Common practice, no source. */
const HELD_MS = 3_000;
const MS_PER_S = 1_000;

/** What a gate is opened by, where a tap is no evidence. On a drawn vehicle nothing is hot and nothing turns. */
function gateShut({ simulated }: JobState, said: Said): Refused | undefined {
  if (simulated) return undefined;
  const { confirmation, probeCelsius, airbagWaitMinutes, heldMs } = said;
  if (confirmation === 'engine-cold' && !(probeCelsius !== undefined && probeCelsius < COLD_CELSIUS))
    return refuse('NOT_COLD', {
      limitCelsius: COLD_CELSIUS,
      ...(probeCelsius === undefined ? {} : { probeCelsius }),
    });
  if (confirmation === 'dash-open' && airbagWaitMinutes === undefined) return refuse('NO_AIRBAG_WAIT');
  return confirmation === 'engine-runs' && !((heldMs ?? 0) >= HELD_MS)
    ? refuse('NOT_HELD', { seconds: HELD_MS / MS_PER_S })
    : undefined;
}

/** Who said it last, where it stands. */
const stillSaid = ({ confirmations: standing, saidForSafety }: JobState, { confirmation }: Said) =>
  standing.includes(confirmation)
    ? saidForSafety.filter((each) => each.confirmation === confirmation).at(-1)
    : undefined;

const evidenceWords = ({ probeCelsius, airbagWaitMinutes }: Said): string =>
  [
    probeCelsius === undefined ? '' : ` Measured: ${probeCelsius} \u00b0C.`,
    airbagWaitMinutes === undefined ? '' : ` Waited: ${airbagWaitMinutes} min.`,
  ].join('');

/** Keeps what was said for safety with what it was measured by. A double tap says it once. */
export function confirmSafety(state: JobState, by: string, command: Said): Decision {
  const shut = gateShut(state, command);
  if (shut !== undefined) return shut;
  const isRenewed = command.confirmation === 'engine-runs';
  if (!isRenewed && stillSaid(state, command)?.by === by) return [];
  const { kind, ...said } = command;
  const sentence = `${confirmations[command.confirmation].asks}${evidenceWords(command)}`;
  return [{ kind: 'safety-confirmed', ...said, sentence }];
}
