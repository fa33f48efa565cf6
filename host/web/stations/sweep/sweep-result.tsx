import type { ComponentChildren, JSX } from 'preact';
import type { GaugeCurve, MarkResult } from '../../../core/curve/types';
import type { JobCommand } from '../../../job/schema/commands';
import type { CurveFinding } from '../../../job/findings';
import type { JobState } from '../../../job/state/state';
import { GROUND_WORDS, wantedOhms, type WantedOhm } from '../../../job/state/wanted-ohms';
import {
  BEYOND_MARK,
  BEYOND_SAYS,
  budgetSays,
  budgetWords,
  curveKnownWords,
  knownSays,
  readingsSays,
  wantsSentence,
} from '../../../words/answer';
import { printed } from '../../../words/notation';
import { saidRefusal } from '../../../words/refusal';
import { saidRemark } from '../../../words/remark';
import { USUAL_SENDERS_REST_ON } from '../../../words/usual-senders';
import { Fold } from '../../parts/fold';
import { Icon } from '../../parts/icon';
import { TableBox } from '../../parts/table-box';
import { Verdict } from '../../parts/verdict';
import { plateIf } from '../../parts/plate';
import { markWords, shownOhm, shownReading, shownSpread, sureOhm } from '../../parts/words';
import { OhmsPlot } from '../../plot/ohms-plot';
import type { Tile } from '../../plot/tiles';
import { curveFacts, knownTo, lawWords } from '../../../words/curve-facts';
import { curveQuestion } from '../../../scene/curve-question';
import { useChosenPoint } from './curve-view';
import { Adjusted } from './adjusted';
import { InCatalogue } from './in-catalogue';
import { PointCard } from './point-card';
import { ReadingsTable } from './readings-table';
import { usualLines, usualOnGauge, type UsualOnGauge } from '../../../scene/usual-lines';

type ResultProps = {
  /** As the host knows the job: the name of its folder. */
  readonly jobId: string;
  readonly state: JobState;
  readonly finding: CurveFinding | undefined;
  readonly canRepeat: boolean;
  readonly send: (command: JobCommand) => void;
  readonly goOn: () => void;
  /** The way into another sweep: it stands folded below the answer. */
  readonly again: ComponentChildren;
};

/** What a sweep found: what the gauge wants, how well that is known, and which usual senders come near. */
export function SweepResult(props: ResultProps): JSX.Element {
  const { state, finding, goOn, again } = props;
  const curve = finding?.curve.kind === 'curve' ? finding.curve : undefined;
  const usual = curve === undefined ? [] : usualOnGauge(curve, state.gauge);
  return (
    <div class="stack answer">
      <div class="answer-top">
        <div>
          <h3 class="lead">{sentence(state, curve)}</h3>
          <CurveVerdict state={state} finding={finding} />
        </div>
        <div>
          <button type="button" class={plateIf(curve !== undefined)} onClick={goOn}>
            On to the sender <Icon of="go" />
          </button>
        </div>
      </div>
      <ResultPlot {...props} curve={curve} usual={usual} />
      <div class="folds">
        {curve === undefined ? null : (
          <RemarksFold words={curve.warnings.map((each) => saidRemark(each, printed))} />
        )}
        <ReadingsFold state={state} send={props.send} />
        {curve === undefined ? null : (
          <>
            <SureFold curve={curve} state={state} />
            <DrawnFold curve={curve} state={state} />
            <UsualFold usual={usual} />
            <InCatalogue jobId={props.jobId} isSimulated={state.simulated} />
          </>
        )}
        <Adjusted state={state} send={props.send} />
        <Fold line="Sweep again or add points" open={curve === undefined}>
          {again}
        </Fold>
      </div>
    </div>
  );
}

/** Ohms that rest on a reading, at each mark of the dial. */
const resting = (state: JobState, curve: GaugeCurve): readonly (WantedOhm & { readonly at: MarkResult })[] =>
  wantedOhms(state.gauge, curve).flatMap((wanted) =>
    wanted.at === undefined || wanted.at.note === 'at stop' ? [] : [{ ...wanted, at: wanted.at }],
  );

const FIGURES = 3;

/** Three figures, or fewer where fewer are known, and the uncertainty beside them. */
function known({ resistanceOhm, expandedUncertaintyOhm }: MarkResult): readonly [string, string] {
  const [, sure] = sureOhm(resistanceOhm, expandedUncertaintyOhm);
  const rough = Number(resistanceOhm.toPrecision(FIGURES));
  const [value] = sureOhm(rough, Math.max(expandedUncertaintyOhm, 10 ** (Math.floor(Math.log10(rough)) - 1)));
  return [value, sure];
}

function sentence(state: JobState, curve: GaugeCurve | undefined): string {
  if (curve === undefined) return 'These readings make no curve yet.';
  return wantsSentence(
    resting(state, curve).map(({ label, at }) => ({ ohm: known(at)[0].replace(' ', '\u00a0'), at: label })),
  );
}

/** One line: good, or what speaks against it. */
function CurveVerdict({ state, finding }: Pick<ResultProps, 'state' | 'finding'>): JSX.Element | null {
  if (finding === undefined) return null;
  const { curve } = finding;
  if (curve.kind === 'refused') return <Verdict kind="doubt">{saidRefusal(curve, printed)}</Verdict>;
  const { doubtful } = curveFacts({ curve: { curve, line: [] }, senders: [] }, state);
  if (doubtful !== undefined) return <Doubtful state={state} doubtful={doubtful} />;
  const { hysteresis, legs, plateaus } = curve;
  const isOdd = legs.pattern === 'sticky' || legs.pattern === 'warming';
  const sure = knownTo(curve, state.gauge);
  return (
    <Verdict kind={isOdd || sure === undefined ? 'doubt' : 'good'}>
      {curveKnownWords(
        {
          known: sure,
          flatSpots: plateaus.length,
          ...(hysteresis.kind === 'measured' ? { legs: hysteresis.largest } : {}),
        },
        state.gauge.unit,
        printed,
      )}
    </Verdict>
  );
}

type DoubtfulProps = {
  readonly state: JobState;
  readonly doubtful: NonNullable<ReturnType<typeof curveFacts>['doubtful']>;
};

const Doubtful = ({ state, doubtful: { resistanceOhm, good } }: DoubtfulProps): JSX.Element => (
  <Verdict kind="doubt">
    Repeat the reading at {shownOhm(resistanceOhm)}: it speaks against the others.
    {good === undefined
      ? ''
      : ` From ${shownReading(good.from, state.gauge)} to ${shownReading(good.to, state.gauge)} the curve is good to ${shownSpread(good.expandedUncertainty, state.gauge)} (95 %).`}
  </Verdict>
);

type PlotProps = ResultProps & {
  readonly curve: GaugeCurve | undefined;
  readonly usual: readonly UsualOnGauge[];
};

function ResultPlot({ state, finding, canRepeat, send, curve, usual }: PlotProps): JSX.Element {
  const { shown, hands } = useChosenPoint(state);
  const line = finding?.line ?? [];
  const marks = curve === undefined ? [] : resting(state, curve);
  const question = curveQuestion(state, line);
  const sure = curve === undefined ? undefined : knownTo(curve, state.gauge);
  return (
    <>
      <OhmsPlot
        label="Ohms over the dial: what this gauge wants, the readings, and what usual senders give. The tables below hold the same figures."
        question={{
          ...question,
          lines: [
            ...question.lines.map((each) => ({
              ...each,
              ...(sure === undefined ? {} : { says: knownSays(sure, state.gauge.unit, printed) }),
            })),
            ...usualLines(usual, state.gauge),
          ],
          drops: marks.map(({ reading, at }) => ({ value: reading, ohm: at.resistanceOhm })),
          naming: curve === undefined ? 'none' : 'list',
        }}
        tiles={marks.map(tileOf(state))}
        hands={hands}
      />
      <p class="plot-key">
        <span>
          <i class="key-dot key-dot-up" /> needle rising
        </span>
        <span>
          <i class="key-dot key-dot-down" /> falling
        </span>
        <span>
          <i class="key-band" /> 95 % band
        </span>
        {marks.some(({ at }) => at.note === 'beyond') ? <span>{BEYOND_SAYS}</span> : null}
        {usual.length === 0 ? null : <span>{USUAL_SENDERS_REST_ON}</span>}
      </p>
      {shown === undefined ? null : (
        <PointCard reading={shown} gauge={state.gauge} line={line} canRepeat={canRepeat} send={send} />
      )}
    </>
  );
}

const tileOf =
  ({ gauge }: JobState) =>
  ({ reading, at }: WantedOhm & { readonly at: MarkResult }): Tile => {
    const [value, sure] = known(at);
    const size = at.note === 'plateau' ? GROUND_WORDS.plateau : sure.replace(/\s\u03a9$/, '');
    return {
      reading,
      at: markWords(reading, gauge),
      value,
      sure: at.note === 'beyond' ? `${size}${BEYOND_MARK}` : size,
    };
  };

/** What the computation wants said; the first of it stands on the closed line. */
function RemarksFold({ words }: { readonly words: readonly string[] }): JSX.Element | null {
  const [first] = words;
  if (first === undefined) return null;
  return (
    <Fold line={words.length === 1 ? 'One remark' : `${words.length} remarks`} says={firstSentence(first)}>
      <ul>
        {words.map((each) => (
          <li key={each}>{each}</li>
        ))}
      </ul>
    </Fold>
  );
}

const firstSentence = (words: string): string => `${words.split('. ')[0] ?? words}`.replace(/\.$/, '');

function ReadingsFold({ state, send }: Pick<ResultProps, 'state' | 'send'>): JSX.Element {
  const counted = state.readings.filter(({ struckBecause }) => struckBecause === undefined);
  const rising = counted.filter(({ leg }) => leg === 'up').length;
  return (
    <Fold
      line={state.readings.length === 1 ? '1 reading' : `${state.readings.length} readings`}
      says={readingsSays(rising, counted.length - rising, state.readings.length - counted.length)}
    >
      <ReadingsTable state={state} send={send} />
    </Fold>
  );
}

type CurveProps = { readonly curve: GaugeCurve; readonly state: JobState };

/** The mark that is known worst, within what was read: its parts are told. */
const worstMark = (curve: GaugeCurve): MarkResult | undefined => {
  const size = (mark: MarkResult): number =>
    mark.coverageFactor * Math.hypot(...mark.budget.map((each) => each.readingUncertainty));
  return curve.marks
    .filter(({ note }) => note === 'measured' || note === 'between')
    .sort((one, other) => size(other) - size(one))[0];
};

function SureFold({ curve, state }: CurveProps): JSX.Element | null {
  const mark = worstMark(curve);
  if (mark === undefined) return null;
  const parts = mark.budget
    .map(({ source, readingUncertainty }) => ({ source, size: mark.coverageFactor * readingUncertainty }))
    .sort((one, other) => other.size - one.size);
  return (
    <Fold line={'The \u00b1 and its parts'} says={budgetSays(parts, state.gauge.unit, printed)}>
      <p class="hint">
        At {markWords(mark.reading, state.gauge)}, where it is known worst. Each part at 95 %; together the
        root of the sum of their squares.
      </p>
      <TableBox label="Parts of the uncertainty">
        <table>
          <tbody>
            {parts.map(({ source, size }) => (
              <tr key={source}>
                <th scope="row">{budgetWords[source][1]}</th>
                <td class="number">{shownSpread(size, state.gauge)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </TableBox>
    </Fold>
  );
}

function DrawnFold({ curve, state }: CurveProps): JSX.Element {
  const fitted = curve.candidates.filter(({ kind }) => kind === 'fit').length;
  return (
    <Fold line="How the curve was drawn" says={lawWords(curve, state)}>
      <p>
        {fitted === 1 ? 'One law was tried.' : `${fitted} laws were tried.`} The readings lie about{' '}
        {shownSpread(curve.repeatability.standardDeviation, state.gauge)} round the one that is drawn.
      </p>
    </Fold>
  );
}

function UsualFold({ usual }: { readonly usual: readonly UsualOnGauge[] }): JSX.Element | null {
  if (usual.length === 0) return null;
  return (
    <Fold line="Usual senders on this gauge" says={`${usual.length} kinds, by common practice`}>
      <TableBox label="Usual senders">
        <table>
          <thead>
            <tr>
              <th scope="col">Kind</th>
              <th scope="col">On this gauge</th>
            </tr>
          </thead>
          <tbody>
            {usual.map(({ name, says }) => (
              <tr key={name}>
                <td>{name}</td>
                <td>{says}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </TableBox>
    </Fold>
  );
}
