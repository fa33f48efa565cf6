import { missingFromProof, proofVerdict, provingPairs } from '../../job/proof/proof';
import { proofRemarks } from '../../job/proof/proof-remarks';
import { limitOf, pairResult } from '../../job/proof/verdict';
import type { JobState, ProofPair } from '../../job/state/state';
import { countedReadings } from '../../job/state/views';
import { forbiddenWords, searchedSender, senderPoints } from '../../scene/refused';
import { hiddenWords, needleWords } from '../../words/network';
import { printed } from '../../words/notation';
import { proofRemarkWords, missingWords } from '../../words/proof';
import { asFoundWords, SO_FAR, verdictSentence, worstFoundWords } from '../../words/record';
import { asSentence } from '../../words/sentence';
import { shownPart } from '../../words/shown';
import { partsPlaced, refusedSentence } from '../../words/trim-answer';
import { chosenCandidate, placedParts, refusedTrim, type RecordSource } from './context';
import type { Found } from './record-model';

const byError = (one: ProofPair, other: ProofPair): number =>
  Math.abs(other.indicated - other.reference) - Math.abs(one.indicated - one.reference);

/** What the record comes to, first of all for a customer. */
export function foundOf(source: RecordSource): Found {
  const { state } = source;
  const proof = proofVerdict(state);
  const refused = refusedTrim(source);
  const dangers = dangersOf(source);
  if (proof === undefined && refused !== undefined)
    return {
      sign: 'refused',
      sentence: refusedSentence(refused.code),
      more: [
        forbiddenWords(
          { ...source, trimmed: refused },
          senderPoints(state, source.findings, searchedSender(state)),
        ),
        ...asFoundLine(state),
      ],
      dangers,
    };
  const isWhole = proof !== undefined && proof.missing.length === 0;
  const sign = proof === undefined || (proof.verdict === 'within' && !isWhole) ? 'open' : proof.verdict;
  return {
    sign,
    sentence: sentenceOf(source),
    more: [
      ...fittedLine(source),
      ...worstLine(state),
      ...asFoundLine(state),
      ...remarks(state),
      ...wanted(state),
    ],
    dangers,
  };
}

function sentenceOf({ state, findings }: RecordSource): string {
  const proof = proofVerdict(state);
  const references = provingPairs(state).map(({ reference }) => reference);
  const said = verdictSentence(
    {
      verdict: proof?.verdict,
      isWhole: proof?.missing.length === 0,
      limit: limitOf(state).size,
      from: Math.min(...references),
      to: Math.max(...references),
    },
    state.gauge.unit,
    printed,
  );
  if (said !== undefined) return said;
  if (isBegun(state)) return SO_FAR.begun;
  if (state.trimChosen !== undefined) return SO_FAR.chosen;
  if (findings.curve !== undefined || countedReadings(state).length > 0) return SO_FAR.curve;
  return state.conclusion === undefined &&
    state.tested.length === 0 &&
    state.measurements.length === 0 &&
    state.asFound.length === 0
    ? SO_FAR.nothing
    : SO_FAR.checked;
}

/** What is in the sender's lead, as somebody said it; or what was chosen and nobody said is fitted. */
function fittedLine(source: RecordSource): string[] {
  const { state } = source;
  if (state.fitted === undefined)
    return state.trimChosen === undefined || state.trimChosen.parts.length === 0
      ? []
      : [`Chosen, and not yet said to be fitted: ${partsPlaced(placedParts(state.trimChosen), printed)}.`];
  const { candidate } = state.fitted;
  if (candidate === undefined || candidate.parts.length === 0)
    return ['Nothing is fitted in the sender\u2019s lead.'];
  return [`With ${partsPlaced(placedParts(candidate), printed)}.`];
}

function worstLine(state: JobState): string[] {
  const [worst] = [...provingPairs(state)].sort(byError);
  if (worst === undefined) return [];
  const { error, expandedUncertainty } = pairResult(state, worst);
  const expanded = worst.referenceUncertainty === undefined ? undefined : expandedUncertainty;
  return [worstFoundWords({ error, at: worst.reference, expanded }, state.gauge.unit, printed)];
}

/** The worst of what was found before anything was changed. */
function asFoundLine(state: JobState): string[] {
  const [pair] = state.proofPairs
    .filter((each) => each.state === 'as-found' && each.struckBecause === undefined)
    .sort(byError);
  const read = state.asFound
    .filter((each) => each.reference !== undefined && each.atStop === undefined)
    .at(-1);
  const worst =
    pair !== undefined
      ? { error: pair.indicated - pair.reference, at: pair.reference }
      : read?.reference !== undefined
        ? { error: read.indicated - read.reference, at: read.reference }
        : undefined;
  return worst === undefined ? [] : [asFoundWords(worst, state.gauge.unit, printed)];
}

/** Pairs were taken and every one of them was struck, or proves nothing. */
const isBegun = (state: JobState): boolean => state.proofPairs.some((each) => each.state === 'as-left');

const remarks = (state: JobState): string[] =>
  proofRemarks(state).map((remark) => asSentence(proofRemarkWords(remark, state.gauge.unit, printed)));

const wanted = (state: JobState): string[] =>
  (proofVerdict(state) === undefined && !isBegun(state)) || missingFromProof(state).length === 0
    ? []
    : [
        `The proof still wants: ${missingFromProof(state)
          .map((each) => missingWords(each, state, printed))
          .join('; ')}.`,
      ];

/** What a failed part hides from the driver. */
function dangersOf(source: RecordSource): string[] {
  const { unit } = source.state.gauge;
  return (chosenCandidate(source)?.failures ?? []).flatMap(({ hides, resistanceOhm, fails, needle }) =>
    hides === undefined
      ? []
      : [
          `If the ${shownPart(resistanceOhm)} resistor ${fails === 'open' ? 'comes loose' : 'shorts'}, the needle ${needleWords(needle, unit, printed)}: it ${hiddenWords[hides]}.`,
        ],
  );
}
