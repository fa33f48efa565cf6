import { GROUND_WORDS, inShownUnit, wantedOhms, type JobState, type WantedOhm } from '../../job';
import { missingFromProof, proofVerdict, provesNothing } from '../../job/proof/proof';
import { proofRemarks } from '../../job/proof/proof-remarks';
import { limitOf, pairResult, probabilityWithin, verdictOf } from '../../job/proof/verdict';
import { curveFinding } from '../../server/findings/findings';
import { tasksOf } from '../../server/findings/tasks';
import type { Report } from '../command';
import type { JobProofJson, WantedJson } from './answers/jobs';
import { ohmText, significant, textTable } from './text-table';
import { headlines } from '../../words/headline';
import { plain } from '../../words/notation';
import { missingWords, proofRemarkWords } from '../../words/proof';

/** What a sender must have at each mark, in the unit the job is shown in; empty while the gauge has no curve. */
function wantedOf(state: JobState): readonly WantedOhm[] {
  const { curve: task } = tasksOf(state);
  const curve = task === undefined ? undefined : curveFinding(task).curve;
  return curve?.kind === 'curve' ? wantedOhms(inShownUnit(state).gauge, curve) : [];
}

const wantedText = (wanted: readonly WantedOhm[], unit: string): string[] =>
  wanted.length === 0
    ? []
    : [
        '',
        'what a sender must have at each mark, to order one or look for one by:',
        ...textTable(
          [
            { title: 'mark', align: 'left' },
            { title: unit },
            { title: 'resistance' },
            { title: 'uncertainty (95 %)' },
            { title: '', align: 'left' },
          ],
          wanted.map(({ label, reading, at }) => [
            label,
            significant(reading),
            at === undefined ? '-' : ohmText(at.resistanceOhm),
            at === undefined ? '-' : `\u00b1${ohmText(at.expandedUncertaintyOhm, 2)}`,
            at === undefined ? 'no resistance puts the needle there' : GROUND_WORDS[at.note],
          ]),
        ),
      ];

const wantedJson = (wanted: readonly WantedOhm[]): readonly WantedJson[] =>
  wanted.map(({ label, reading, at }) => ({
    mark: label,
    reading,
    resistance_ohm: at?.resistanceOhm ?? null,
    expanded_uncertainty_ohm: at?.expandedUncertaintyOhm ?? null,
    note: at?.note ?? 'unreached',
  }));

/** What a proof that was begun still wants; nothing while nobody began one. */
function proofText(state: JobState): string[] {
  const missing = missingFromProof(state);
  if (missing.length === 0 || (state.proofPairs.length === 0 && state.fitted === undefined)) return [];
  return ['', 'the proof still wants:', ...missing.map((each) => `  ${missingWords(each, state, plain)}`)];
}

function proofJson(state: JobState): JobProofJson {
  const proof = proofVerdict(state);
  const limit = limitOf(state).size;
  return {
    fitted: state.fitted?.fitted ?? null,
    limit,
    verdict: proof?.verdict ?? null,
    missing: missingFromProof(state),
    remarks: proofRemarks(state).map((remark) => proofRemarkWords(remark, state.gauge.unit, plain)),
    pairs: state.proofPairs
      .filter((pair) => pair.struckBecause === undefined)
      .map((pair) => {
        const result = pairResult(state, pair);
        const isSure = pair.referenceUncertainty !== undefined;
        return {
          state: pair.state,
          method: pair.method ?? null,
          reference: pair.reference,
          indicated: pair.indicated,
          leg: pair.leg,
          error: result.error,
          expanded_uncertainty: isSure ? result.expandedUncertainty : null,
          verdict: isSure ? verdictOf(state, pair) : null,
          probability_within: isSure ? probabilityWithin(state, pair) : null,
          proves_nothing: provesNothing(state, pair) ?? null,
          substitute_ohm: pair.substitute?.resistanceOhm ?? null,
        };
      }),
  };
}

/** What `job` shows of a job: its headlines, what a sender must have at each mark, and what its proof still wants. */
export function jobReport(kept: JobState, folder: string): Report {
  const state = inShownUnit(kept);
  const lines = headlines(kept, plain);
  const wanted = wantedOf(kept);
  const { trimChosen } = kept;
  return {
    text: [
      `${state.simulated ? 'SIMULATED ' : ''}${state.title} (${state.vehicle})`,
      ...lines.map(({ station, done, text }) => `  ${done ? 'done' : 'open'}  ${station.padEnd(7)} ${text}`),
      ...wantedText(wanted, state.gauge.unit),
      ...proofText(state),
    ],
    json: {
      schema: 'needlewright/job/1',
      kind: 'job',
      job: folder,
      title: state.title,
      vehicle: state.vehicle,
      simulated: state.simulated,
      events: state.lastN,
      headlines: lines.map(({ station, done, text }) => ({ station, done, text })),
      wanted_ohm: wantedJson(wanted),
      trim_chosen:
        trimChosen === undefined
          ? null
          : {
              topology: trimChosen.topology,
              parts: trimChosen.parts.map(({ place, resistanceOhm }) => ({
                place,
                resistance_ohm: resistanceOhm,
              })),
              worst_error: trimChosen.worstError,
              chosen_n: kept.trimChosenN ?? null,
            },
      proof: proofJson(state),
    },
  };
}
