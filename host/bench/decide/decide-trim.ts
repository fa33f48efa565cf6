import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import { senderInVehicle, type CommandOf, type JobState } from '../../job';
import { chainReadings, trimShut } from '../../job/proof/chain-gate';
import { testJobChain } from '../../job/proof/chain-of-job';
import { moreTankCurrent } from '../../job/proof/tank-current';
import { isReason, LEAST_LETTERS } from '../../job/proof/proof-struck';
import { printed } from '../../words/notation';
import { withSentence } from '../../words/refusal';
import type { Decision } from './decision';

export type TrimCommand = CommandOf<'request-trim' | 'choose-trim' | 'test-chain' | 'sign-trim'>;

/** What a command of Trim adds to the journal, or why not. Pure. */
export const decideTrim = (state: JobState, command: TrimCommand): Decision => {
  switch (command.kind) {
    case 'request-trim':
      return [{ kind: 'trim-requested', options: command.options }];
    case 'choose-trim':
      return (
        tankShut(state, command) ??
        shut(state, command) ?? [{ kind: 'trim-chosen', candidate: command.candidate }]
      );
    case 'test-chain':
      return testChainOf(state);
    case 'sign-trim':
      return sign(state, command);
  }
};

/** Nobody signs for more current in a tank than its maker let in. */
const tankShut = (state: JobState, { candidate }: CommandOf<'choose-trim'>): Refused | undefined => {
  const times = moreTankCurrent(state, candidate);
  if (times === undefined) return undefined;
  return refuse('TANK_CURRENT', Number.isFinite(times) ? { percent: Math.round(100 * (times - 1)) } : {});
};

/** To leave everything as it is hides nothing. */
const shut = (state: JobState, { candidate }: CommandOf<'choose-trim'>): Refused | undefined => {
  const why = candidate.parts.length === 0 ? undefined : trimShut(state);
  return why === undefined ? undefined : refuse('TRIM_SHUT', { why });
};

const sign = (state: JobState, { reason }: CommandOf<'sign-trim'>): Decision => {
  const why = trimShut(state);
  if (why === undefined) return refuse('TRIM_OPEN');
  if (!isReason(reason)) return refuse('SIGN_WITH_REASON', { leastLetters: LEAST_LETTERS });
  return [{ kind: 'trim-signed', why, reason }];
};

const testChainOf = (state: JobState): Decision => {
  const readings = chainReadings(state);
  if (readings.length === 0) return refuse('CHAIN_NEEDS_READING');
  const senderId = senderInVehicle(state);
  if (senderId === undefined) return refuse('NO_SENDER');
  const found = testJobChain(state, senderId);
  if (found.kind === 'refused') return withSentence(found, printed);
  const { mismatch } = found;
  return [
    {
      kind: 'chain-tested',
      senderId,
      pairs: found.pairs.map(({ value, indicated, predicted, senderOhm, score }, index) => ({
        asFoundN: readings[index]!.n,
        ...{ value, indicated, predicted, senderOhm, score },
      })),
      worstScore: found.worstScore,
      faultRemains: found.faultRemains,
      couldMean: mismatch.ranked.map(({ causes, sizes, alike }) => ({
        causes: [...causes],
        sizes: [...sizes],
        alike: [...alike],
      })),
      ...(mismatch.tellsApart === undefined ? {} : { readNext: mismatch.tellsApart }),
    },
  ];
};
