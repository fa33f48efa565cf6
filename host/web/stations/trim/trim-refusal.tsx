import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { limitOf } from '../../../job/proof/verdict';
import { chosenFrom } from '../../../job/state/chosen';
import type { OhmPoint } from '../../../scene/ohms-scene';
import { forbiddenWords, searchedSender, senderPoints, twoCurves, waysOut } from '../../../scene/refused';
import { printed } from '../../../words/notation';
import { said } from '../../../words/refusal';
import { nearestSays, offersSays, refusedSentence, type WayOut } from '../../../words/trim-answer';
import { Fold } from '../../parts/fold';
import { Icon } from '../../parts/icon';
import { Note } from '../../parts/note';
import { Verdict } from '../../parts/verdict';
import { OhmsPlot } from '../../plot/ohms-plot';
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
  const gives = senderPoints(state, findings, searchedSender(state));
  return (
    <div class="stack answer">
      <div class="answer-top">
        <div>
          <h3 class="lead">{refusedSentence(trimmed.code)}</h3>
          <Verdict kind="bad">{forbiddenWords({ state, findings, trimmed }, gives)}</Verdict>
        </div>
      </div>
      <div class="columns">
        {curve === undefined ? null : <TwoCurves {...props} gives={gives} />}
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
function Nearest({ state, finding, trimmed, nearest, send }: ForbiddenProps): JSX.Element {
  const untrimmed = Math.max(0, ...finding.before.map(({ y }) => Math.abs(y)));
  const told = { nearest, withoutRule: trimmed.withoutRule, rule: trimmed.rule?.says, untrimmed };
  const isBetter = nearest.worstError < untrimmed;
  return (
    <>
      <h4>The nearest that resistors can come</h4>
      <Verdict kind={isBetter ? 'doubt' : 'bad'}>
        {nearestSays(told, state.gauge.unit, printed).join(' ')}
      </Verdict>
      <NetworkView
        state={state}
        gauge={state.gauge}
        candidate={nearest}
        before={finding.before}
        limit={limitOf(state).size}
        actions={
          isBetter ? (
            <button
              type="button"
              class="button"
              onClick={() => send({ kind: 'choose-trim', candidate: chosenFrom(nearest) })}
            >
              Fit it all the same
            </button>
          ) : null
        }
      />
      <ErrorTable gauge={state.gauge} candidate={nearest} />
    </>
  );
}

type CurvesProps = RefusalProps & { readonly gives: readonly OhmPoint[] };

function TwoCurves({ state, findings, gives }: CurvesProps): JSX.Element {
  const question = twoCurves({ state, findings }, gives);
  const names = question.lines.map(({ name }) => name).join(', ');
  return (
    <OhmsPlot
      label={`Ohms over the dial: ${names}. The figures stand in the sentence above and at the stations before.`}
      question={question}
    />
  );
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
