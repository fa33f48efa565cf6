import type { CircuitQuestion } from '../../scene/circuit-layout';
import { curveQuestion, isByRatio } from '../../scene/curve-question';
import type { ErrorQuestion } from '../../scene/error-scene';
import type { OhmsQuestion } from '../../scene/ohms-scene';
import { proofErrors } from '../../scene/proof-errors';
import { searchedSender, senderPoints, twoCurves } from '../../scene/refused';
import { trimErrors } from '../../scene/trim-errors';
import { senderInVehicle } from '../../job/state/views';
import { limitOf } from '../../job/proof/verdict';
import { chosenCandidate, placedParts, refusedTrim, type RecordSource } from './context';

/** What a record shows beside its figures; each left out where there is nothing to show. */
export type Pictures = {
  readonly ohms?: { readonly title: string; readonly question: OhmsQuestion };
  readonly errors?: ErrorQuestion;
  readonly circuit?: CircuitQuestion;
};

export function picturesOf(source: RecordSource): Pictures {
  const ohms = ohmsPicture(source);
  const errors = errorsPicture(source);
  const circuit = circuitPicture(source);
  return {
    ...(ohms === undefined ? {} : { ohms }),
    ...(errors === undefined ? {} : { errors }),
    ...(circuit === undefined ? {} : { circuit }),
  };
}

function ohmsPicture(source: RecordSource): Pictures['ohms'] {
  const { state, findings } = source;
  const line = findings.curve?.line ?? [];
  if (line.length === 0) return senderPicture(source);
  if (refusedTrim(source) !== undefined)
    return {
      title: 'Ohms the gauge wants, and the sender gives',
      question: twoCurves(source, senderPoints(state, findings, searchedSender(state))),
    };
  const gives = senderPoints(state, findings, senderInVehicle(state));
  const { alsoOhms, ...curve } = curveQuestion(state, line);
  const lines = curve.lines.map((each) => ({ ...each, name: 'what the gauge wants' }));
  return {
    title: gives.length === 0 ? 'Ohms the gauge wants' : 'Ohms the gauge wants, and the sender gives',
    question: {
      ...curve,
      lines: [
        ...lines,
        ...(gives.length === 0
          ? []
          : [
              {
                id: 'sender',
                name: 'what the sender gives',
                look: 'sender' as const,
                points: gives,
                isAside: true,
              },
            ]),
      ],
      naming: 'lines',
    },
  };
}

/** A sender alone, where the gauge was not swept. */
function senderPicture({ state, findings }: RecordSource): Pictures['ohms'] {
  const gives = senderPoints(state, findings, senderInVehicle(state));
  if (gives.length === 0) return undefined;
  return {
    title: 'Ohms the sender gives',
    question: {
      scale: state.gauge,
      isRatio: isByRatio(state.gauge),
      lines: [{ id: 'sender', name: 'what the sender gives', look: 'sender', points: gives }],
      dots: [],
      naming: 'lines',
    },
  };
}

/** Errors found in the vehicle over those that were reckoned; either alone where there is no other. */
function errorsPicture(source: RecordSource): ErrorQuestion | undefined {
  const { state, findings } = source;
  const candidate = chosenCandidate(source);
  const found = proofErrors(state);
  const hasPairs = state.proofPairs.some((pair) => pair.struckBecause === undefined);
  if (candidate === undefined) return hasPairs ? found : undefined;
  const reckoned = trimErrors({
    gauge: state.gauge,
    candidate,
    before: findings.trim?.before ?? [],
    limit: limitOf(state).size,
  });
  if (!hasPairs) return reckoned;
  return { ...reckoned, dots: found.dots, lines: [...reckoned.lines, ...found.lines] };
}

function circuitPicture(source: RecordSource): CircuitQuestion | undefined {
  const { state } = source;
  const chosen = state.fitted?.candidate ?? state.trimChosen;
  if (state.fitted?.fitted === 'nothing') return { topology: 'none', parts: [] };
  if (chosen === undefined) return undefined;
  const known = chosenCandidate(source);
  if (known !== undefined) return { topology: known.topology, parts: known.parts };
  return {
    topology: chosen.topology,
    parts: placedParts(chosen).parts.map((part, index) => ({
      ...part,
      tolerancePercent: chosen.parts[index]?.tolerancePercent,
      ratingWatt: chosen.parts[index]?.ratingWatt,
    })),
  };
}
