import { trim, usualLimit } from '../../../core/network';
import { judgePairs } from '../../../core/proof/judge';
import { usualLimitsAlong, type Scale as ProofScale } from '../../../core/proof/limits';
import { quantityOfUnit } from '../../../core/units';
import type { Scale } from '../../../scene/dial-strip';
import type { ErrorLimit } from '../../../scene/error-scene';
import { scaleAround } from '../../../scene/given-plot';
import { trimErrors } from '../../../scene/trim-errors';
import { adviceWords } from '../../../words/at-work';
import { plain, printed } from '../../../words/notation';
import { PLOT_WORDS } from '../../../words/plot';
import { saidRemark } from '../../../words/remark';
import { shownError, shownSpread } from '../../../words/shown';
import type { Surroundings } from '../../command';
import { marksFrom } from '../../input/dial-marks';
import { loadGauge, loadSender } from '../../input/gauge-and-sender';
import { coreUnitFromText } from '../../input/gauge-file';
import { readInput, type Input } from '../../input/input-file';
import { pairsOfGrid } from '../../input/pair-file';
import { limitsFrom, scaleFrom } from '../../input/proof-limits';
import { pairsFrom } from '../../input/proof-pairs';
import { trimOptions } from '../../input/trim-options';
import { RefusedError, refusedError } from '../../input-error';
import type { Arguments } from '../../options';
import { refusal } from '../trim';
import { isSimulated, quantityFrom, titleOf, type Drawn } from './curves';

/** The errors of a gauge with a sender, as it is and with the network that `trim` recommends. Throws RefusedError. */
export async function trimPlot(
  paths: { readonly gauge: string; readonly sender: string },
  given: Arguments,
  surroundings: Surroundings,
): Promise<Drawn> {
  const inputs = [await readInput(paths.gauge, surroundings), await readInput(paths.sender, surroundings)];
  const sender = await loadSender(paths.sender, surroundings);
  const gauge = await loadGauge(given, surroundings, sender.sender.unit, paths.gauge);
  const { response } = gauge;
  const result = trim(response, sender.response, await trimOptions(given, surroundings, sender.dissipation));
  if (result.kind === 'refused') throw refusal(result, response.unit);
  const candidate = result.candidates[result.recommended];
  if (candidate === undefined) throw new RefusedError('NOTHING_TO_TRIM', 'no network was found');
  const bare = result.candidates.find(({ topology }) => topology === 'none');
  const marks = marksFrom(given) ?? gauge.dial?.marks;
  const { unit } = response;
  const scale: Scale =
    marks === undefined
      ? scaleAround([response.lowestReading, response.highestReading], unit)
      : { marks: [...marks], unit };
  return {
    plotted: {
      title: titleOf(given, ...inputs),
      subtitle: PLOT_WORDS.errors,
      says: [adviceWords(result.advice, unit, printed), PLOT_WORDS.errorBand],
      isSimulated: inputs.some(isSimulated),
      picture: {
        kind: 'errors',
        question: trimErrors({
          gauge: scale,
          candidate,
          before: (bare?.errorTable ?? []).map(({ trueValue, error }) => ({ x: trueValue, y: error })),
          limit: given.number('limit') ?? usualLimit(response),
          limitName: 'limit',
        }),
      },
    },
    warnings: [
      ...sender.warnings,
      ...gauge.warnings,
      ...[...result.remarks, ...candidate.warnings].map((each) => saidRemark(each, plain)),
    ],
  };
}

/** The errors of pairs of reference and needle, each with its uncertainty, against the limit. */
export function pairsPlot(input: Extract<Input, { kind: 'csv' }>, given: Arguments): Drawn {
  const file = pairsOfGrid(input.grid);
  const unit = file.unit === '' ? coreUnitFromText(given.text('unit') ?? '') : file.unit;
  const marks = marksFrom(given);
  const ends = marks?.map(({ reading }) => reading);
  const proofScale: ProofScale =
    ends === undefined || given.numbers('scale') !== undefined
      ? scaleFrom(given, unit)
      : {
          quantity: quantityFrom(given) ?? quantityOfUnit(unit),
          lowest: Math.min(...ends),
          highest: Math.max(...ends),
        };
  const limits = limitsFrom(given, unit);
  const pairs = pairsFrom(given, file, { ...proofScale, unit });
  const proof = judgePairs(pairs, { scale: proofScale, rule: 'guard', limits });
  if (proof.kind === 'refused') throw refusedError(proof, `${file.file}: `);
  const { lowest, highest } = proofScale;
  const scale = marks === undefined ? scaleAround([lowest, highest], unit) : { marks: [...marks], unit };
  return {
    plotted: {
      title: titleOf(given, input),
      subtitle: PLOT_WORDS.errors,
      says: [PLOT_WORDS.pairBars, ...(pairs.some(({ leg }) => leg === 'down') ? [PLOT_WORDS.legs] : [])],
      isSimulated: false,
      picture: {
        kind: 'errors',
        question: {
          scale,
          lines: [],
          dots: proof.pairs.map(({ error, expandedUncertainty }, index) => ({
            id: String(index),
            value: pairs[index]?.value ?? 0,
            error,
            half: expandedUncertainty,
            kind: pairs[index]?.leg ?? 'up',
          })),
          limit: limitAlong(limits, proofScale, scale),
        },
      },
    },
    warnings: file.warnings,
  };
}

function limitAlong(limits: ReturnType<typeof limitsFrom>, proofScale: ProofScale, scale: Scale): ErrorLimit {
  if (limits === undefined) return { steps: usualLimitsAlong(proofScale), words: PLOT_WORDS.usualLimit };
  const { lower, upper } = limits;
  const words =
    -lower === upper
      ? `limit ${shownSpread(upper, scale)}`
      : `limit ${shownError(lower, scale)} to ${shownError(upper, scale)}`;
  return { steps: [{ from: -Infinity, to: Infinity, lower, upper }], words };
}
