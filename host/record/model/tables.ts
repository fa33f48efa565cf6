import type { GaugeCurve, MarkResult } from '../../core/curve/types';
import { provesNothing, provingPairs } from '../../job/proof/proof';
import { pairResult, verdictOf } from '../../job/proof/verdict';
import type { JobState, ProofPair } from '../../job/state/state';
import { readingUncertaintyOf, senderInVehicle, senderNumbers } from '../../job/state/views';
import { wantedOhms } from '../../job/state/wanted-ohms';
import { ohmAtMark, senderPoints } from '../../scene/refused';
import { inPlaceWords } from '../../words/at-work';
import { hiddenWords, needleWords, partWords, surroundingsWords } from '../../words/network';
import { printed } from '../../words/notation';
import { BUDGET_WORDS, pairWayWords } from '../../words/record';
import { capital } from '../../words/sentence';
import { shownError, shownOhm, shownPart, shownSpread, shownUnit } from '../../words/shown';
import { chosenCandidate, placedParts, type RecordSource } from './context';
import type { BudgetRow, Fact, FailureRow, MarkRow, PairRow, ReadingRow, SenderRow } from './record-model';

const curveOf = ({ findings }: RecordSource): GaugeCurve | undefined =>
  findings.curve?.curve.kind === 'curve' ? findings.curve.curve : undefined;

const dayOf = (iso: string): string => iso.slice(0, 'yyyy-mm-dd'.length);

/** The ohms a sender must have at each mark, with their uncertainty, and what the sender in the vehicle gives there. */
export function marksOf(source: RecordSource): MarkRow[] {
  const curve = curveOf(source);
  if (curve === undefined) return [];
  const { state, findings } = source;
  const gives = senderPoints(state, findings, senderInVehicle(state));
  return wantedOhms(state.gauge, curve).map(({ label, reading, at }) => {
    const senderOhm = ohmAtMark(gives, reading);
    return {
      label,
      reading,
      ...(at === undefined
        ? {}
        : {
            resistanceOhm: at.resistanceOhm,
            expandedUncertaintyOhm: at.expandedUncertaintyOhm,
            coverageFactor: at.coverageFactor,
            ground: at.note,
          }),
      ...(senderOhm === undefined ? {} : { senderOhm }),
    };
  });
}

/** The mark inside what was measured that is known worst. */
function worstMark(curve: GaugeCurve): MarkResult | undefined {
  const known = curve.marks.filter(({ note }) => note === 'measured' || note === 'between');
  return [...known].sort((one, other) => expandedOf(other) - expandedOf(one))[0];
}

const combined = (parts: readonly number[]): number => Math.hypot(...parts);
const expandedOf = ({ coverageFactor, budget }: MarkResult): number =>
  coverageFactor * combined(budget.map(({ readingUncertainty }) => readingUncertainty));

/** Of a proof. Source: `pairResult`, U = 2 u. */
const PROOF_FACTOR = 2;

/**
 * What stands behind a plus-minus, of the curve at its worst mark and of the worst known pair: standard uncertainties, the
 * root of the sum of their squares, the coverage factor, and the two multiplied. Source: JCGM 100:2008 (GUM), 5.1.2, 6.2.
 */
export function budgetOf(source: RecordSource): {
  readonly rows: readonly BudgetRow[];
  readonly at: string | undefined;
} {
  const curve = curveOf(source);
  const mark = curve === undefined ? undefined : worstMark(curve);
  const { state } = source;
  const references = provingPairs(state).flatMap(({ referenceUncertainty: u }) =>
    u === undefined ? [] : [u],
  );
  const proof =
    references.length === 0
      ? undefined
      : { reading: readingUncertaintyOf(state.gauge), reference: Math.max(...references) };
  if (mark === undefined && proof === undefined) return { rows: [], at: undefined };
  const curveParts = mark?.budget ?? [];
  const parts: BudgetRow[] = curveParts.map(({ source: from, readingUncertainty }) => ({
    kind: 'part',
    source: BUDGET_WORDS[from],
    curve: readingUncertainty,
    ...(from === 'reading' && proof !== undefined ? { proof: proof.reading } : {}),
  }));
  const isReadingSaid = curveParts.some(({ source: from }) => from === 'reading');
  const ofProof: BudgetRow[] =
    proof === undefined
      ? []
      : [
          ...(isReadingSaid
            ? []
            : [{ kind: 'part' as const, source: BUDGET_WORDS.reading, proof: proof.reading }]),
          { kind: 'part', source: 'reference and its place', proof: proof.reference },
        ];
  const sum = {
    ...(mark === undefined ? {} : { curve: combined(curveParts.map((each) => each.readingUncertainty)) }),
    ...(proof === undefined ? {} : { proof: combined([proof.reading, proof.reference]) }),
  };
  const factor = {
    ...(mark === undefined ? {} : { curve: mark.coverageFactor }),
    ...(proof === undefined ? {} : { proof: PROOF_FACTOR }),
  };
  const expanded = {
    ...(mark === undefined ? {} : { curve: expandedOf(mark) }),
    ...(proof === undefined ? {} : { proof: PROOF_FACTOR * combined([proof.reading, proof.reference]) }),
  };
  return {
    rows: [
      ...parts,
      ...ofProof,
      { kind: 'combined', source: 'root of the sum of squares', ...sum },
      { kind: 'factor', source: 'coverage factor k', ...factor },
      { kind: 'expanded', source: '\u00b1 (95 %)', ...expanded },
    ],
    at: mark === undefined ? undefined : printed.of(mark.reading, state.gauge.unit),
  };
}

/** Every reading in the order in which it was given, struck ones too. */
export function readingsOf(source: RecordSource): ReadingRow[] {
  const points = [...(curveOf(source)?.points ?? [])];
  return source.state.readings.map((reading, index) => {
    const at = points.findIndex(
      (point) =>
        point.resistanceOhm === reading.resistanceOhm &&
        point.reading === reading.reading &&
        point.leg === reading.leg,
    );
    const [point] = at < 0 || reading.struckBecause !== undefined ? [] : points.splice(at, 1);
    return {
      number: index + 1,
      leg: reading.leg,
      resistanceOhm: reading.resistanceOhm,
      reading: reading.reading,
      ...(point === undefined || point.role === 'bound' ? {} : { residual: point.residual }),
      ...(reading.struckBecause === undefined ? {} : { struckBecause: reading.struckBecause }),
    };
  });
}

export const pairsOf = ({ state }: RecordSource): PairRow[] =>
  state.proofPairs.map((pair) => pairRow(state, pair));

function pairRow(state: JobState, pair: ProofPair): PairRow {
  const { error, expandedUncertainty } = pairResult(state, pair);
  const isSure = pair.referenceUncertainty !== undefined;
  const idle = provesNothing(state, pair);
  const counts = pair.struckBecause === undefined && idle === undefined && isSure;
  return {
    state: pair.state,
    way: pairWayWords(pair, printed),
    reference: pair.reference,
    indicated: pair.indicated,
    error,
    day: dayOf(pair.at),
    by: pair.by,
    ...(pair.referenceUncertainty === undefined
      ? {}
      : { referenceUncertainty: pair.referenceUncertainty, expandedUncertainty }),
    ...(pair.referencePlace === undefined ? {} : { referencePlace: pair.referencePlace }),
    ...(counts ? { verdict: verdictOf(state, pair) } : {}),
    ...(idle === undefined ? {} : { provesNothing: idle }),
    ...(pair.struckBecause === undefined ? {} : { struckBecause: pair.struckBecause }),
  };
}

export const failuresOf = (source: RecordSource): FailureRow[] =>
  (chosenCandidate(source)?.failures ?? []).map(({ resistanceOhm, fails, needle, hides }) => ({
    part: `${shownPart(resistanceOhm)} ${fails === 'open' ? 'opens' : 'shorts'}`,
    needle: `needle ${needleWords(needle, source.state.gauge.unit, printed)}`,
    ...(hides === undefined ? {} : { danger: `it ${hiddenWords[hides]}` }),
  }));

/** Each part with what its bag must say. */
export function partsOf(source: RecordSource): string[] {
  const known = chosenCandidate(source);
  if (known !== undefined)
    return known.parts.map(
      (part) =>
        `${partWords(part, printed)}, metal film, ${part.tolerancePercent} %, ${
          part.ratingWatt === undefined ? 'no ordinary rating carries it' : `${part.ratingWatt} W`
        } (${printed.number(Number(part.powerWorstWatt.toPrecision(2)))} W at the worst)`,
    );
  const { fitted, trimChosen } = source.state;
  const network = fitted?.candidate ?? trimChosen;
  return network === undefined ? [] : placedParts(network).parts.map((part) => partWords(part, printed));
}

/** The same network with other parts, another sender, another dash, another battery. */
export function whatIfOf(source: RecordSource): Fact[] {
  const known = chosenCandidate(source);
  if (known === undefined) return [];
  const { gauge } = source.state;
  return [
    ...(known.parts.length === 0
      ? []
      : [
          {
            name: 'parts as they come, 95 % of them',
            value: `worst error ${shownSpread(known.tolerance.monteCarlo.worstErrorOf95Percent, gauge)}`,
          },
        ]),
    ...known.replacements.map(({ changePercent, worstError }) => ({
      name: `next sender ${Math.abs(changePercent)} % ${changePercent > 0 ? 'higher' : 'lower'}`,
      value: `worst error ${shownSpread(worstError, gauge)}`,
    })),
    ...known.surroundings.map((each) => ({
      name: surroundingsWords(each.with, printed),
      value: `shifts by up to ${shownError(each.largestShift, gauge)}`,
    })),
  ];
}

export function sendersOf({ state, findings }: RecordSource): SenderRow[] {
  return state.senders.flatMap((sender) => {
    const points = state.senderPoints.filter(
      (point) => point.senderId === sender.senderId && point.struckBecause === undefined,
    );
    const inPlace = findings.senders.find((each) => each.senderId === sender.senderId)?.inPlace;
    const heat =
      inPlace === undefined || inPlace.kind === 'refused'
        ? []
        : [inPlaceWords(inPlace, sender.unit, printed)];
    const tolerance =
      sender.tolerancePercent === undefined
        ? []
        : [`maker\u2019s tolerance \u00b1${sender.tolerancePercent} %`];
    const { serial, part } = senderNumbers(state, sender);
    const numbers = [
      ...(serial === undefined ? [] : [`serial ${serial}`]),
      ...(part === undefined ? [] : [`part ${part}`]),
    ];
    if (points.length === 0 && numbers.length === 0) return [];
    return [
      {
        title: sender.title,
        about: [...numbers, ...tolerance, ...heat].map(capital),
        points: points.map((point) => ({
          value: `${printed.number(point.value)} ${shownUnit(sender.unit)}`.trimEnd(),
          resistance: shownOhm(point.resistanceOhm),
        })),
      },
    ];
  });
}
