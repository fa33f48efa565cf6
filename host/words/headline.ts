import { answerCount } from '../job/check/measured';
import { isFaultFound } from '../job/check/since-fault';
import type { DoubtfulSetting } from '../job/state/doubtful-setting';
import { scaleOf } from '../job/schema/scale';
import { inShownUnit } from '../job/state/shown-unit';
import { idlePairs, isProved, proofVerdict, provingPairs } from '../job/proof/proof';
import { proofRemarks } from '../job/proof/proof-remarks';
import type { Conclusion, JobState } from '../job/state/state';
import { limitOf, type Verdict } from '../job/proof/verdict';
import type { Headline } from '../job/stations';
import { countedReadings, currentStep, legGap, openSweep, progressOf } from '../job/state/views';
import { topologyWords } from './network';
import type { Notation } from './notation';
import { MISSING_SHORT, proofRemarkWords } from './proof';
import { capital } from './sentence';
import type { CurveKnown } from './answer';

const FIGURES = 3;
const rounded = (value: number): number => Number(value.toPrecision(FIGURES));

/** Facts that need a fit; whoever has made one may pass them in. */
export type FittedFacts = {
  readonly curveKnown?: CurveKnown;
  /** The one setting that speaks against the others. */
  readonly doubtful?: DoubtfulSetting;
};

/** "7 degC high at 90 degC". The reference is what is true; the needle is what is judged. */
const readsAgainst = (
  { reference, indicated }: { readonly reference: number; readonly indicated: number },
  unit: string,
  say: Notation,
): string => {
  const error = indicated - reference;
  const at = `at ${say.short(reference, unit)}`;
  return error === 0 ? `right ${at}` : `${say.lowOrHigh(error, unit)} ${at}`;
};

const FINDINGS: Readonly<Record<NonNullable<JobState['conclusion']>['finding'], string>> = {
  sound: 'sound: everything was asked',
  'nothing-found': 'nothing found so far',
  'ground-fault': 'ground fault',
  'supply-fault': 'supply fault',
  'stabiliser-fault': 'stabiliser fault',
  'wire-fault': 'wire fault',
  'sender-suspect': 'sender suspect',
  'gauge-suspect': 'gauge suspect',
  undetermined: 'cause not found',
};

const joined = (parts: readonly (string | undefined)[]): string =>
  parts.filter((part) => part !== undefined).join('; ');

/** Sound is only what was asked whole; a journal from before that was asked says no more than what it found. */
const findingWords = ({ finding, notAsked }: Conclusion): string => {
  if (finding !== 'sound' && finding !== 'nothing-found') return FINDINGS[finding];
  if (finding === 'sound' && notAsked?.length === 0) return FINDINGS.sound;
  const left = notAsked?.length ?? 0;
  const told = left === 0 ? '' : `, ${left === 1 ? 'one thing' : `${left} things`} not asked`;
  return `${FINDINGS['nothing-found']}${told}`;
};

const checkLine = (state: JobState, say: Notation): string => {
  const found = state.asFound.filter((each) => each.reference !== undefined).at(-1);
  const reads =
    found?.reference === undefined
      ? undefined
      : found.atStop !== undefined
        ? `Needle on the ${found.atStop} stop at ${say.short(found.reference, state.gauge.unit)}`
        : `Reads ${readsAgainst({ reference: found.reference, indicated: found.indicated }, state.gauge.unit, say)}`;
  const finding = state.conclusion;
  const concluded = finding === undefined ? undefined : findingWords(finding);
  const line = joined([reads, concluded]);
  if (line !== '') return line;
  const steps = state.asFound.length + state.measurements.length + state.tested.length + answerCount(state);
  return steps === 0
    ? 'Not checked yet'
    : `Check begun: ${steps === 1 ? 'one answer' : `${steps} answers`} so far`;
};

/** What one slip of a reading spoils is not called play of the needle: it is read again. */
const doubtWords = (
  { gauge }: JobState,
  { resistanceOhm, good }: DoubtfulSetting,
  say: Notation,
): string[] => {
  const again = `repeat the reading at ${say.ohm(rounded(resistanceOhm))}`;
  if (good === undefined) return [again];
  const { from, to, expandedUncertainty } = good;
  const { unit } = gauge;
  return [
    again,
    `${say.range(rounded(from), rounded(to), unit)} is good to ${say.spread(expandedUncertainty, unit)}`,
  ];
};

/** "curve known to \u00b11.2 % of the scale from 80 to 120 degC, \u00b16 % at 40 degC". */
const knownOfScale = (
  { size, range, worst }: CurveKnown,
  { marks, unit }: JobState['gauge'],
  say: Notation,
): string => {
  const { span } = scaleOf(marks);
  const spread = (each: number): string => `\u00b1${say.number(rounded((100 * each) / span))} %`;
  const where = range === undefined ? '' : ` from ${say.range(range.from, range.to, unit)}`;
  const end = worst === undefined ? '' : `, ${spread(worst.size)} at ${say.short(worst.at, unit)}`;
  return `curve known to ${spread(size)} of the scale${where}${end}`;
};

const sweepLine = (state: JobState, facts: FittedFacts, say: Notation): string => {
  const sweep = openSweep(state);
  const count = countedReadings(state).length;
  if (sweep !== undefined) {
    const { done, total, minutesLeft } = progressOf(sweep);
    const pausedWhy = sweep.status.kind === 'paused' ? `, paused: ${sweep.status.reason}` : '';
    return `${done} of ${total} steps, about ${minutesLeft} min left${pausedWhy}`;
  }
  if (count === 0) return 'No readings yet';
  const readings = count === 1 ? '1 reading' : `${count} readings`;
  if (facts.doubtful !== undefined) return joined([readings, ...doubtWords(state, facts.doubtful, say)]);
  const gap = legGap(state);
  return joined([
    readings,
    facts.curveKnown === undefined ? undefined : knownOfScale(facts.curveKnown, state.gauge, say),
    gap === undefined
      ? undefined
      : `up and down differ by ${say.short(Math.abs(gap.gap), state.gauge.unit)} at ${say.ohm(rounded(gap.resistanceOhm))}`,
  ]);
};

/** Of fewer no curve comes: one reading for the check is no sweep. */
const FEWEST_SETTINGS = 3;
const settingCount = (state: JobState): number =>
  new Set(countedReadings(state).map(({ resistanceOhm }) => resistanceOhm)).size;

const senderLine = (state: JobState): string => {
  const counted = state.senderPoints.filter((point) => point.struckBecause === undefined);
  if (counted.length === 0) return 'No sender points yet';
  const senders = new Set(counted.map((point) => point.senderId)).size;
  const points = counted.length === 1 ? '1 point' : `${counted.length} points`;
  return senders === 1 ? points : `${points} of ${senders} senders`;
};

/** One point is no curve. */
const hasSenderCurve = (state: JobState): boolean =>
  state.senderPoints.filter((point) => point.struckBecause === undefined).length > 1;

const trimLine = (state: JobState, say: Notation): string => {
  const chosen = state.trimChosen;
  if (chosen === undefined)
    return state.trimRequest === undefined ? 'No network chosen' : 'Network not chosen yet';
  const worst = `worst error ${say.spread(chosen.worstError, state.gauge.unit)}`;
  if (chosen.topology === 'none') return `No network needed; ${worst}`;
  const parts = chosen.parts.map((part) => say.part(part.resistanceOhm)).join(' + ');
  return `${capital(topologyWords[chosen.topology])}, ${parts}; ${worst}`;
};

const PROVED: Readonly<Record<Verdict, string>> = {
  within: 'Within the limit',
  outside: 'Outside the limit',
  'cannot-tell': 'Cannot be told',
};

/** Nothing proves the vehicle as it is left: not begun, or only by what no longer counts. */
const unproved = (state: JobState): string => {
  const idle = idlePairs(state);
  if (idle.length === 0) return 'Not proved in the vehicle yet';
  const pairs = idle.length === 1 ? '1 pair' : `${idle.length} pairs`;
  return idle.some((pair) => pair.method === undefined)
    ? `Begun by the older rule: ${pairs}, which prove nothing now`
    : `Begun: ${pairs}, taken before what is fitted now was said`;
};

const remarksOf = (state: JobState, say: Notation): readonly string[] =>
  proofRemarks(state).map((remark) => proofRemarkWords(remark, state.gauge.unit, say));

const proofLine = (state: JobState, say: Notation): string => {
  const proof = proofVerdict(state);
  const [worst] = [...provingPairs(state)].sort(
    (a, b) => Math.abs(b.indicated - b.reference) - Math.abs(a.indicated - a.reference),
  );
  if (proof === undefined || worst === undefined) return joined([unproved(state), ...remarksOf(state, say)]);
  const { verdict, missing, counted } = proof;
  const limit = `(limit ${say.spread(limitOf(state).size, state.gauge.unit)})`;
  const told = missing.length === 0 || verdict === 'outside' ? PROVED[verdict] : `Begun, ${SO_FAR[verdict]}`;
  const pairs = counted === 1 ? '1 pair' : `${counted} pairs`;
  return joined([
    `${told} ${limit}`,
    ...remarksOf(state, say),
    `${pairs}, the worst reads ${readsAgainst(worst, state.gauge.unit, say)}`,
    missing.length === 0 ? undefined : `wanted: ${missing.map((each) => MISSING_SHORT[each]).join(', ')}`,
  ]);
};

const SO_FAR: Readonly<Record<Verdict, string>> = {
  within: 'within the limit so far',
  outside: 'outside the limit so far',
  'cannot-tell': 'not told so far',
};

/** What each station has found, in one line, in the order of the job sheet. */
export const headlines = (kept: JobState, say: Notation, facts: FittedFacts = {}): Headline[] =>
  linesOf(inShownUnit(kept), facts, say);

const linesOf = (state: JobState, facts: FittedFacts, say: Notation): Headline[] => [
  {
    station: 'check',
    done: state.conclusion !== undefined && !isFaultFound(state.conclusion.finding),
    text: checkLine(state, say),
  },
  {
    station: 'sweep',
    done: settingCount(state) >= FEWEST_SETTINGS && currentStep(openSweep(state)) === undefined,
    text: sweepLine(state, facts, say),
  },
  { station: 'sender', done: hasSenderCurve(state), text: senderLine(state) },
  { station: 'trim', done: state.trimChosen !== undefined, text: trimLine(state, say) },
  {
    station: 'proof',
    done: isProved(state),
    text: proofLine(state, say),
  },
  {
    station: 'record',
    done: state.records.length > 0,
    text:
      state.records.length === 0 ? 'No record made yet' : `Record made: ${state.records.at(-1)?.file ?? ''}`,
  },
];
