import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { gaugeResponse } from '../../../core/curve';
import type { GaugeCurve } from '../../../core/curve/types';
import type { LinePoint } from '../../../job/findings';
import type { Mark } from '../../../job/schema/gauge';
import type { OhmsAtMark } from '../../../words/answer';
import { scaleOf } from '../../../job/schema/scale';
import { turnOf } from '../../../job/state/shown-unit';
import { limitOf } from '../../../job/proof/verdict';
import type { JobState } from '../../../job/state/state';
import { printed } from '../../../words/notation';
import { said } from '../../../words/refusal';
import {
  converterWay,
  newFiguresWay,
  offersSays,
  otherSenderWay,
  refusedLines,
  refusedSentence,
  refusedWords,
  turnedFloatWay,
  type WayOut,
} from '../../../words/trim-answer';
import { Fold } from '../../parts/fold';
import { Icon } from '../../parts/icon';
import { Note } from '../../parts/note';
import { Verdict } from '../../parts/verdict';
import { shownSpread } from '../../parts/words';
import { OhmsPlot } from '../../plot/ohms-plot';
import type { OhmPoint } from '../../../scene/ohms-scene';
import { isByRatio } from '../../../scene/curve-question';
import { usualOnGauge } from '../sweep/usual-lines';
import { chosenFrom } from './chosen';
import { ErrorTable } from './network-tables';
import { NetworkView } from './network-view';
import { OffersView } from './offers';
import { curveOf, type AnswerProps } from './answer-props';

type Refusal = Extract<AnswerProps['finding']['trimmed'], { kind: 'refused' }>;
/** Of a law, which always brings how near resistors come. */
type LawRefusal = Extract<Refusal, { readonly nearest?: unknown }>;
type RefusalProps = AnswerProps & { readonly trimmed: Refusal };

/** The law of circuits that forbids it, the two curves that show it, and what does work; or what is wrong with the question. */
export function TrimRefusal(props: RefusalProps): JSX.Element {
  const { trimmed, finding, toSender } = props;
  // Where a law of circuits forbids it, how near resistors come is always told; else the question itself was wrong.
  if ('nearest' in trimmed && trimmed.nearest !== undefined)
    return <Forbidden {...props} trimmed={trimmed} nearest={trimmed.nearest} />;
  const about = finding.of === undefined ? '' : `The ${finding.of}'s curve: `;
  return (
    <Note kind="wrong" word="Mend this first: nothing was searched">
      <p>
        {about}
        {said(trimmed, printed)}
      </p>
      <div>
        <button type="button" class="button button-main" onClick={toSender}>
          To the sender
        </button>
      </div>
    </Note>
  );
}

type ForbiddenProps = AnswerProps & {
  readonly trimmed: LawRefusal;
  readonly nearest: NonNullable<LawRefusal['nearest']>;
};

function Forbidden(props: ForbiddenProps): JSX.Element {
  const { state, trimmed, findings, tryAnother } = props;
  const [isNearShown, setNearShown] = useState(false);
  const curve = curveOf(findings);
  const gives = senderPoints(props);
  return (
    <div class="stack answer">
      <div class="answer-top">
        <div>
          <h3 class="lead">{refusedSentence(trimmed.code)}</h3>
          <Verdict kind="bad">{lawWords(props, gives)}</Verdict>
        </div>
      </div>
      <div class="columns">
        {curve === undefined ? null : <TwoCurves {...props} curve={curve} gives={gives} />}
        <section class="stack">
          <h4>What will do it</h4>
          <Ways ways={waysOut(state, trimmed.code, curve, gives)} onFirst={tryAnother} />
          <div class="row">
            <button type="button" class="button button-main" onClick={tryAnother}>
              Try another sender
            </button>
            <button
              type="button"
              class="button button-plain"
              aria-expanded={isNearShown}
              onClick={() => setNearShown(!isNearShown)}
            >
              How near could resistors come?
            </button>
          </div>
        </section>
      </div>
      {trimmed.offers === undefined ? null : (
        <div class="folds">
          <Fold line="Each way in figures" says={offersSays(trimmed.offers)}>
            <OffersView offers={trimmed.offers} withoutRule={trimmed.withoutRule} unit={state.gauge.unit} />
          </Fold>
        </div>
      )}
      {isNearShown ? <Nearest {...props} /> : null}
    </div>
  );
}

/** How near resistors come all the same, with everything one should know before soldering it. */
function Nearest({ state, finding, nearest, send }: ForbiddenProps): JSX.Element {
  return (
    <>
      <h4>The nearest that resistors can come</h4>
      <NetworkView
        state={state}
        gauge={state.gauge}
        candidate={nearest}
        before={finding.before}
        limit={limitOf(state).size}
        actions={
          <button
            type="button"
            class="button"
            onClick={() => send({ kind: 'choose-trim', candidate: chosenFrom(nearest) })}
          >
            Fit it all the same
          </button>
        }
      />
      <ErrorTable gauge={state.gauge} candidate={nearest} />
    </>
  );
}

/** What the sender of this search gives, over the dial. */
function senderPoints({ state, findings }: RefusalProps): readonly OhmPoint[] {
  const senderId = state.trimRequest?.senderId ?? state.trimSenderId;
  const unit = state.senders.find((each) => each.senderId === senderId)?.unit ?? state.gauge.unit;
  const turn = turnOf(unit, state.gauge.unit);
  const line = findings.senders.find((each) => each.senderId === senderId)?.line ?? [];
  return turn === undefined ? [] : line.map(({ x, y }) => ({ value: turn.value(x), ohm: y }));
}

const risesAlong = (points: readonly OhmPoint[]): boolean => {
  const ordered = [...points].sort((one, other) => one.value - other.value);
  return (ordered.at(-1)?.ohm ?? 0) > (ordered[0]?.ohm ?? 0);
};

const wantedPoints = (line: readonly LinePoint[]): readonly OhmPoint[] =>
  line.map(({ x, y }) => ({ ohm: x, value: y }));

/** Ohms of a line at a mark; undefined beyond its ends. */
function ohmAtMark(points: readonly OhmPoint[], reading: number): number | undefined {
  const ordered = [...points].sort((one, other) => one.value - other.value);
  const after = ordered.findIndex(({ value }) => value >= reading);
  const [low, high] = [ordered[Math.max(0, after - 1)], ordered[after]];
  if (low === undefined || high === undefined || low.value > reading) return undefined;
  const share = high.value === low.value ? 0 : (reading - low.value) / (high.value - low.value);
  return low.ohm + share * (high.ohm - low.ohm);
}

/** At the outermost marks that both curves reach: what is wanted, what is given, and the law that forbids it. */
function lawWords({ state, trimmed, findings }: RefusalProps, gives: readonly OhmPoint[]): string {
  const wanted = wantedPoints(findings.curve?.line ?? []);
  const at = (points: readonly OhmPoint[], mark: Mark): OhmsAtMark[] => {
    const ohm = ohmAtMark(points, mark.reading);
    return ohm === undefined ? [] : [{ ohm: printed.ohm(Number(ohm.toPrecision(3))), at: mark.label }];
  };
  const both = [...state.gauge.marks]
    .sort((one, other) => one.reading - other.reading)
    .flatMap((mark) => {
      const [wants, given] = [at(wanted, mark)[0], at(gives, mark)[0]];
      return wants === undefined || given === undefined ? [] : [{ wants, given }];
    });
  const [first, last] = [both[0], both.at(-1)];
  const words =
    first === undefined || last === undefined || first === last
      ? undefined
      : refusedWords({
          code: trimmed.code,
          wants: [first.wants, last.wants],
          gives: [first.given, last.given],
        });
  return words ?? said(trimmed, printed);
}

type CurvesProps = RefusalProps & { readonly curve: GaugeCurve; readonly gives: readonly OhmPoint[] };

function TwoCurves({ state, findings, gives }: CurvesProps): JSX.Element {
  const wanted = wantedPoints(findings.curve?.line ?? []);
  const [gauge, sender] = refusedLines(risesAlong(wanted), risesAlong(gives));
  return (
    <OhmsPlot
      label={`Ohms over the dial: ${gauge}, ${sender}. The figures stand in the sentence above and at the stations before.`}
      question={{
        scale: state.gauge,
        isRatio: isByRatio(state.gauge),
        lines: [
          { id: 'wanted', name: gauge, look: 'curve', points: wanted },
          { id: 'given', name: sender, look: 'sender', points: gives },
        ],
        dots: [],
        naming: 'lines',
      }}
    />
  );
}

/** Ways that do work, the best first. Only another sender is a way this job can go on by itself. */
function waysOut(
  state: JobState,
  code: string,
  curve: GaugeCurve | undefined,
  gives: readonly OhmPoint[],
): readonly WayOut[] {
  const usual = curve === undefined ? undefined : usualOnGauge(curve, state.gauge)[0];
  const rises = curve === undefined ? false : gaugeResponse(curve).risesWithResistance;
  const turned = curve === undefined || code !== 'SENSE' ? undefined : turnedError(state, curve, gives);
  return [
    otherSenderWay(rises, usual),
    ...(state.gauge.quantity === 'fuel' && turned !== undefined
      ? [turnedFloatWay(shownSpread(turned, state.gauge))]
      : []),
    newFiguresWay,
    ...(state.gauge.quantity === 'fuel' && turned !== undefined ? [] : [converterWay]),
  ];
}

/** The worst error with the sender's ohms the other way round, between the ends of the scale. */
function turnedError(state: JobState, curve: GaugeCurve, gives: readonly OhmPoint[]): number | undefined {
  const { lowest, highest } = scaleOf(state.gauge.marks);
  const { reading } = gaugeResponse(curve);
  const errors = gives
    .map(({ value, ohm }) => ({ value: lowest + highest - value, ohm }))
    .filter(({ value }) => value >= lowest && value <= highest)
    .map(({ value, ohm }) => Math.abs(reading(ohm) - value));
  return errors.length === 0 ? undefined : Math.max(...errors);
}

function Ways({
  ways,
  onFirst,
}: {
  readonly ways: readonly WayOut[];
  readonly onFirst: () => void;
}): JSX.Element {
  return (
    <ol class="ways">
      {ways.map(({ does, gets }, index) => (
        <li key={does}>
          {index === 0 ? (
            <button type="button" onClick={onFirst}>
              <b>{does}</b>
              <span>{gets}</span>
              <Icon of="go" />
            </button>
          ) : (
            <div>
              <b>{does}</b>
              <span>{gets}</span>
            </div>
          )}
        </li>
      ))}
    </ol>
  );
}
