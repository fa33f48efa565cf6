import { answerCount } from './check/measured';
import { isFaultFound } from './check/since-fault';
import type { DoubtfulSetting } from './state/doubtful-setting';
import { differenceUnit, scaleOf } from './schema/scale';
import { inShownUnit } from './state/shown-unit';
import { idlePairs, isProved, MISSING_SHORT, proofVerdict, provingPairs } from './proof/proof';
import { proofRemarks, remarkWords } from './proof/proof-remarks';
import type { Conclusion, JobState } from './state/state';
import { limitOf, type Verdict } from './proof/verdict';
import { countedReadings, currentStep, legGap, openSweep, progressOf } from './state/views';

export const stations = ['check', 'sweep', 'sender', 'trim', 'proof', 'record'] as const;
export type Station = (typeof stations)[number];

export type Headline = { readonly station: Station; readonly done: boolean; readonly text: string };

/** Facts that need a fit; whoever has made one may pass them in. */
export type FittedFacts = {
  /** Expanded uncertainty of the curve at its worst mark, in dial units. */
  readonly curveExpandedUncertainty?: number;
  /** The one setting that speaks against the others. */
  readonly doubtful?: DoubtfulSetting;
};

const SHOWN_DIGITS = 3;
const shown = (value: number): string => String(Number(value.toPrecision(SHOWN_DIGITS)));

/** "Reads 7 K high at 90 degC". The reference is what is true; the needle is what is judged. */
const readsAgainst = (unit: string, reference: number, indicated: number): string => {
  const error = indicated - reference;
  if (error === 0) return `Reads right at ${shown(reference)} ${unit}`;
  const side = error > 0 ? 'high' : 'low';
  return `Reads ${shown(Math.abs(error))} ${differenceUnit(unit)} ${side} at ${shown(reference)} ${unit}`;
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

const sentence = (parts: readonly (string | undefined)[]): string =>
  parts.filter((part) => part !== undefined).join('; ');

/** Sound is only what was asked whole; a journal from before that was asked says no more than what it found. */
const findingWords = ({ finding, notAsked }: Conclusion): string => {
  if (finding !== 'sound' && finding !== 'nothing-found') return FINDINGS[finding];
  if (finding === 'sound' && notAsked?.length === 0) return FINDINGS.sound;
  const left = notAsked?.length ?? 0;
  const told = left === 0 ? '' : `, ${left === 1 ? 'one thing' : `${left} things`} not asked`;
  return `${FINDINGS['nothing-found']}${told}`;
};

const checkLine = (state: JobState): string => {
  const found = state.asFound.filter((each) => each.reference !== undefined).at(-1);
  const reads =
    found?.reference === undefined
      ? undefined
      : found.atStop !== undefined
        ? `Needle on the ${found.atStop} stop at ${shown(found.reference)} ${state.gauge.unit}`
        : readsAgainst(state.gauge.unit, found.reference, found.indicated);
  const finding = state.conclusion;
  const concluded = finding === undefined ? undefined : findingWords(finding);
  const line = sentence([reads, concluded]);
  if (line !== '') return line;
  const steps = state.asFound.length + state.measurements.length + answerCount(state);
  return steps === 0
    ? 'Not checked yet'
    : `Check begun: ${steps === 1 ? 'one answer' : `${steps} answers`} so far`;
};

/** What one slip of a reading spoils is not called play of the needle: it is read again. */
const doubtWords = ({ gauge }: JobState, { resistanceOhm, good }: DoubtfulSetting): string[] => {
  const again = `repeat the reading at ${shown(resistanceOhm)} ohm`;
  if (good === undefined) return [again];
  const { from, to, expandedUncertainty } = good;
  const unit = differenceUnit(gauge.unit);
  return [
    again,
    `${shown(from)} to ${shown(to)} ${gauge.unit} is good to ${shown(expandedUncertainty)} ${unit}`,
  ];
};

const sweepLine = (state: JobState, facts: FittedFacts): string => {
  const sweep = openSweep(state);
  const count = countedReadings(state).length;
  if (sweep !== undefined) {
    const { done, total, minutesLeft } = progressOf(sweep);
    const pausedWhy = sweep.status.kind === 'paused' ? `, paused: ${sweep.status.reason}` : '';
    return `${done} of ${total} steps, about ${minutesLeft} min left${pausedWhy}`;
  }
  if (count === 0) return 'No readings yet';
  const { span } = scaleOf(state.gauge.marks);
  const readings = count === 1 ? '1 reading' : `${count} readings`;
  if (facts.doubtful !== undefined) return sentence([readings, ...doubtWords(state, facts.doubtful)]);
  const known = facts.curveExpandedUncertainty;
  const gap = legGap(state);
  return sentence([
    readings,
    known === undefined ? undefined : `curve known to ${shown((100 * known) / span)} % of arc`,
    gap === undefined
      ? undefined
      : `up and down differ by ${shown(Math.abs(gap.gap))} ${differenceUnit(state.gauge.unit)} at ${shown(gap.resistanceOhm)} ohm`,
  ]);
};

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

const trimLine = (state: JobState): string => {
  const chosen = state.trimChosen;
  if (chosen === undefined)
    return state.trimRequest === undefined ? 'No network chosen' : 'Network not chosen yet';
  const unit = differenceUnit(state.gauge.unit);
  if (chosen.topology === 'none') return `No network needed; worst error ${shown(chosen.worstError)} ${unit}`;
  const parts = chosen.parts.map((part) => `${shown(part.resistanceOhm)} ohm`).join(' + ');
  return `${chosen.topology}, ${parts}; worst error ${shown(chosen.worstError)} ${unit}`;
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

const remarksOf = (state: JobState): readonly string[] =>
  proofRemarks(state).map((remark) => remarkWords(remark, state));

const proofLine = (state: JobState): string => {
  const proof = proofVerdict(state);
  const [worst] = [...provingPairs(state)].sort(
    (a, b) => Math.abs(b.indicated - b.reference) - Math.abs(a.indicated - a.reference),
  );
  if (proof === undefined || worst === undefined) return sentence([unproved(state), ...remarksOf(state)]);
  const { verdict, missing, counted } = proof;
  const limit = `(limit ${shown(limitOf(state).size)} ${differenceUnit(state.gauge.unit)})`;
  const told = missing.length === 0 || verdict === 'outside' ? PROVED[verdict] : `Begun, ${SO_FAR[verdict]}`;
  const pairs = counted === 1 ? '1 pair' : `${counted} pairs`;
  return sentence([
    `${told} ${limit}`,
    ...remarksOf(state),
    `${pairs}, worst: ${readsAgainst(state.gauge.unit, worst.reference, worst.indicated).replace('R', 'r')}`,
    missing.length === 0 ? undefined : `wanted: ${missing.map((each) => MISSING_SHORT[each]).join(', ')}`,
  ]);
};

const SO_FAR: Readonly<Record<Verdict, string>> = {
  within: 'within the limit so far',
  outside: 'outside the limit so far',
  'cannot-tell': 'not told so far',
};

/** What each station has found, in one line, in the order of the job sheet. */
export const headlines = (kept: JobState, facts: FittedFacts = {}): Headline[] =>
  linesOf(inShownUnit(kept), facts);

const linesOf = (state: JobState, facts: FittedFacts): Headline[] => [
  {
    station: 'check',
    done: state.conclusion !== undefined && !isFaultFound(state.conclusion.finding),
    text: checkLine(state),
  },
  {
    station: 'sweep',
    done: countedReadings(state).length > 0 && currentStep(openSweep(state)) === undefined,
    text: sweepLine(state, facts),
  },
  { station: 'sender', done: hasSenderCurve(state), text: senderLine(state) },
  { station: 'trim', done: state.trimChosen !== undefined, text: trimLine(state) },
  {
    station: 'proof',
    done: isProved(state),
    text: proofLine(state),
  },
  {
    station: 'record',
    done: state.records.length > 0,
    text:
      state.records.length === 0 ? 'No record made yet' : `Record made: ${state.records.at(-1)?.file ?? ''}`,
  },
];
