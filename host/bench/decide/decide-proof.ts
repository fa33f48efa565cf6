import { isDeepStrictEqual } from 'node:util';
import type { Refused } from '../../core/result';
import { refuse } from '../../refusals';
import {
  scaleOf,
  senderInVehicle,
  type CommandOf,
  type JobCommand,
  type JobState,
  type ProofPair,
} from '../../job';
import { isReason, LEAST_LETTERS, takenAsLeft, wasOutside } from '../../job/proof/proof-struck';
import { limitOf } from '../../job/proof/verdict';
import { fittedSenderOf, standsFor, untriedTolerance } from '../../job/proof/substitution';
import { nextId, noSuch, struck, type Decision } from './decision';
import { driftSince } from './decide-drift';
import { badReference, levelUnsaid, tooHot, type RunPair } from './proof-gates';
import { proofHindrance, wireHindrance } from '../box/hindrances';
import { atWork, workingFactsOf } from '../../job/proof/working-circuit';
import { offScale } from './off-scale';
import { shorted } from './shorted';
import { printed } from '../../words/notation';
import { withSentence } from '../../words/refusal';

const PROOF_COMMANDS = [
  'say-fitted',
  'set-proof-limit',
  'choose-proof-rule',
  'add-proof-pair',
  'add-proof-substitution',
  'strike-proof-pair',
  'check-drift',
] as const;
export type ProofCommand = CommandOf<(typeof PROOF_COMMANDS)[number]>;
export const isProofCommand = (command: JobCommand): command is ProofCommand =>
  PROOF_COMMANDS.some((kind) => kind === command.kind);

/** What a command of the proof adds to the journal, or why not. Pure. */
export const decideProof = (state: JobState, by: string, command: ProofCommand): Decision => {
  switch (command.kind) {
    case 'say-fitted':
      return unlessSaid(state, by, sayFitted(state, command));
    case 'set-proof-limit':
      return tooWide(state, command) ?? [{ kind: 'proof-limit', limit: command.limit }];
    case 'choose-proof-rule':
      return chooseRule(state, command);
    case 'add-proof-pair':
      return addRun(state, command);
    case 'add-proof-substitution':
      return addSubstitution(state, command);
    case 'check-drift':
      return runHindrance(state, command) ?? driftSince(state, command);
    case 'strike-proof-pair': {
      const { pairId, reason } = command;
      const pair = state.proofPairs.find((each) => each.pairId === pairId);
      const unreasoned = pair === undefined ? undefined : withoutReason(state, pair, reason);
      if (unreasoned !== undefined) return unreasoned;
      return struck(pair, noSuch('proof pair', pairId), { kind: 'proof-pair-struck', pairId, reason });
    }
  }
};

/** What was outside is not made good by a tap: somebody says why it does not count, and the record keeps it. */
const withoutReason = (state: JobState, pair: ProofPair, reason: string): Refused | undefined =>
  isReason(reason) || !wasOutside(state, pair)
    ? undefined
    : refuse('NO_REASON', { leastLetters: LEAST_LETTERS });

/** A needle that may be wrong by more than this part of its scale tells nobody anything. Common practice, no source. */
const WIDEST_PART = 0.15;

const tooWide = (
  { gauge }: JobState,
  { limit }: Pick<CommandOf<'set-proof-limit'>, 'limit'>,
): Refused | undefined => {
  const { span } = scaleOf(gauge.marks);
  const { size } = limitOf({ gauge, proofLimit: limit });
  if (size <= WIDEST_PART * span * (1 + 1e-9)) return undefined;
  const widest = Number((WIDEST_PART * span).toPrecision(4));
  return refuse('LIMIT_TOO_WIDE', { percent: WIDEST_PART * 100, widest, unit: gauge.unit });
};

/** Before the first pair: afterwards a rule would be chosen to fit them. */
const chooseRule = (state: JobState, command: CommandOf<'choose-proof-rule'>): Decision => {
  const { rule, limit } = command;
  if (takenAsLeft(state).length > 0) return refuse('RULE_STAYS');
  return (
    tooWide(state, command) ?? [
      { kind: 'proof-limit', limit },
      { kind: 'proof-rule', rule },
    ]
  );
};

/** A proof that was begun before rules were chosen goes on as it began. */
const noRule = (state: JobState): Refused | undefined =>
  state.proofRule === undefined && takenAsLeft(state).length === 0 ? refuse('RULE_FIRST') : undefined;

const sayFitted = (state: JobState, command: CommandOf<'say-fitted'>): Decision => {
  const { trimChosen, trimChosenN, trimChosenFor } = state;
  const named = command.senderId;
  if (named !== undefined && state.senders.every((each) => each.senderId !== named))
    return noSuch('sender', named);
  if (command.fitted === 'nothing') {
    const senderId = named ?? senderInVehicle(state);
    return [{ kind: 'network-fitted', fitted: 'nothing', ...(senderId === undefined ? {} : { senderId }) }];
  }
  if (trimChosen === undefined) return refuse('NO_NETWORK', { isEmpty: false });
  if (trimChosen.parts.length === 0) return refuse('NO_NETWORK', { isEmpty: true });
  if (command.chosenN !== trimChosenN) return refuse('NETWORK_CHANGED');
  const senderId = named ?? trimChosenFor ?? senderInVehicle(state);
  return [
    {
      kind: 'network-fitted',
      fitted: 'network',
      candidate: trimChosen,
      ...(senderId === undefined ? {} : { senderId }),
    },
  ];
};

/**
 * A double tap says the same twice. Said by the same person before anything was read, it stands already; later it begins
 * the proof anew.
 */
const unlessSaid = ({ fitted, proofPairs }: JobState, by: string, decided: Decision): Decision => {
  if ('kind' in decided || fitted === undefined || fitted.by !== by) return decided;
  if (proofPairs.some((pair) => pair.n > fitted.n)) return decided;
  const { n, at, by: _, ...said } = fitted;
  return decided.every((body) => isDeepStrictEqual(body, { kind: 'network-fitted', ...said })) ? [] : decided;
};

/** What must be known of the vehicle before anything proves it as it was left. */
const unfitted = ({ fitted, trimChosen }: JobState): Refused | undefined => {
  if (fitted !== undefined) return undefined;
  const isChosen = trimChosen !== undefined && trimChosen.parts.length > 0;
  return isChosen ? refuse('NOT_FITTED') : refuse('NO_NETWORK', { isEmpty: false });
};

/** A needle still tells this part of the scale beyond its outermost marks. Common practice, no source. */
const END_PART = 0.02;

/** A true value the dial has no place for proves nothing about its needle, and is most often a slip of the keys. */
const placeOffScale = ({ gauge }: JobState, reference: number): Refused | undefined => {
  const { lowest, highest, span } = scaleOf(gauge.marks);
  const room = END_PART * span;
  if (reference >= lowest - room && reference <= highest + room) return undefined;
  return refuse('PLACE_OFF_SCALE', {
    reference: Number(reference.toPrecision(4)),
    lowest,
    highest,
    unit: gauge.unit,
  });
};

/** What shuts any pair that is read while the vehicle runs, at its proof or a season later. */
const runHindrance = (state: JobState, pair: RunPair): Refused | undefined => {
  const { reference, referenceUncertainty, indicated } = pair;
  if (!(referenceUncertainty !== undefined && referenceUncertainty > 0))
    return refuse('NO_REFERENCE_UNCERTAINTY');
  return (
    tooHot(state, reference) ??
    proofHindrance(state, pair) ??
    badReference(state, pair) ??
    placeOffScale(state, reference) ??
    levelUnsaid(state, pair) ??
    offScale(state, indicated)
  );
};

const addRun = (state: JobState, command: CommandOf<'add-proof-pair'>): Decision => {
  if (command.state === 'as-found' && state.fitted?.fitted === 'network') return refuse('AS_FOUND_IS_OVER');
  const refused =
    runHindrance(state, command) ??
    (command.state === 'as-left' ? (unfitted(state) ?? noRule(state)) : undefined);
  return refused ?? [{ ...command, kind: 'proof-pair', pairId: nextId('f', state.lastN), method: 'run' }];
};

const addSubstitution = (state: JobState, command: CommandOf<'add-proof-substitution'>): Decision => {
  const refused =
    wireHindrance(state) ??
    (state.fitted?.fitted === 'network' ? undefined : shorted(state, [command.resistanceOhm])) ??
    unfitted(state) ??
    noRule(state) ??
    offScale(state, command.indicated);
  if (refused !== undefined) return refused;
  const { resistanceOhm, uncertaintyOhm, ohmmeter, indicated, leg, remark } = command;
  if (!(uncertaintyOhm !== undefined && uncertaintyOhm > 0)) return refuse('NO_OHM_UNCERTAINTY');
  const senderId = senderInVehicle(state);
  if (senderId === undefined) return refuse('NO_SENDER');
  const sender = fittedSenderOf(state, senderId);
  if (sender.kind === 'refused') return withSentence(sender, printed, 'The sender\u2019s curve: ');
  const tolerancePercent = untriedTolerance(state, senderId);
  const found = standsFor(
    state.gauge,
    { sender, atWork: atWork(workingFactsOf(state, senderId), sender) },
    { resistanceOhm, uncertaintyOhm, tolerancePercent },
  );
  if (found.kind === 'refused') return withSentence(found, printed);
  return (
    placeOffScale(state, found.reference) ?? [
      {
        kind: 'proof-pair',
        pairId: nextId('f', state.lastN),
        state: 'as-left',
        method: 'substituted',
        substitute: {
          with: command.with,
          resistanceOhm,
          uncertaintyOhm,
          ...(ohmmeter === undefined ? {} : { ohmmeter }),
          senderId,
        },
        reference: found.reference,
        referenceUncertainty: found.referenceUncertainty,
        indicated,
        leg,
        ...(remark === undefined ? {} : { remark }),
      },
    ]
  );
};
