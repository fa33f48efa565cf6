import type { JSX } from 'preact';
import { useMemo } from 'preact/hooks';
import { scalePlace, wayOfJob } from '../../../../job/check/diagnosis-of-job';
import { partOfArcAt } from '../../../../job/state/part-of-arc';
import { faceOf } from '../../../dial/dial-geometry';
import { changeWorld } from '../../../connection/http';
import { ReadingEntry } from '../../../entry/reading-entry';
import { entryReading, UNSET } from '../../../entry/entry';
import { Fold } from '../../../parts/fold';
import { NumberField, useNumberDraft } from '../../../parts/number-field';
import { AnswerButton } from '../../../parts/one-press';
import { shownUnit } from '../../../parts/words';
import { useSignal } from '../../../signal';
import { BoxAsLoad } from '../box-as-load';
import type { TestStepProps } from './test-step-props';

/** The answer of a test: a needle, a step of it, a figure, or yes and no. */
export function TestEntry(props: TestStepProps): JSX.Element {
  switch (props.asked.measure) {
    case 'place':
      return <PlaceEntry {...props} />;
    case 'step':
      return <StepEntry {...props} />;
    case 'chance':
      return <YesOrNo {...props} />;
    case 'volt':
      return <FigureEntry {...props} unit="V" />;
    case 'millivolt':
      return <FigureEntry {...props} unit="mV" />;
    case 'ohm':
      return <FigureEntry {...props} unit="ohm" />;
  }
}

const noted = ({ asked, send }: TestStepProps, value: number, standsAt?: number): void =>
  send({
    ...{ kind: 'note-test', test: asked.test, value, source: 'person' },
    ...(asked.atOhm === undefined ? {} : { atOhm: asked.atOhm }),
    ...(standsAt === undefined ? {} : { standsAt }),
  });

/** How far beyond its scale a needle lies that rests on a stop. Common practice, no source. */
const STOP_PLACE = { low: -0.05, high: 1.05 } as const;

function PlaceEntry(props: TestStepProps): JSX.Element {
  const { state, app, job, asked, send } = props;
  const { gauge } = state;
  const face = useMemo(() => faceOf(gauge), [gauge]);
  const hasBox = useSignal(job.live)?.link.state === 'live';
  const isWarm = asked.test === 'as-found-warm';
  const reference = useNumberDraft('', gauge.unit);
  const confirm = (): void => {
    const { atStop } = app.entry.get();
    const indicated = entryReading(gauge, app.entry.get());
    if (indicated === undefined) return;
    const value = atStop === undefined ? scalePlace(gauge, indicated) : STOP_PLACE[atStop];
    noted(props, value, reference.value === undefined ? undefined : scalePlace(gauge, reference.value));
    app.entry.set(UNSET);
  };
  return (
    <div class="columns">
      <div class="stack">
        {isWarm ? (
          <NumberField
            label="True value, if you know it"
            unit={shownUnit(gauge.unit)}
            draft={reference}
            hint="A thermometer at the sender; leave it empty if there is none."
          />
        ) : null}
        {asked.atOhm !== undefined && hasBox && wayOfJob(state) === 'box' ? (
          <Fold line="The box can be the load" says="One reading of a sweep; then answer here.">
            <BoxAsLoad state={state} ohm={asked.atOhm} send={send} />
          </Fold>
        ) : null}
      </div>
      <ReadingEntry
        {...{ gauge, face, entry: app.entry, onConfirm: confirm }}
        isReady={reference.problem === undefined}
        waitWords="Mend the true value first"
      />
    </div>
  );
}

/** A step is told in the dial's own units and kept as a part of its arc, by the arc where the needle steps. */
function StepEntry(props: TestStepProps): JSX.Element {
  const { gauge } = props.state;
  const unit = shownUnit(gauge.unit);
  const draft = useNumberDraft('', gauge.unit);
  const note = (): void => {
    if (draft.value !== undefined)
      noted(props, draft.value * partOfArcAt(gauge, props.asked.test === 'rest-mark' ? 'rest' : 'middle'));
  };
  return (
    <div class="stack">
      <SimulatedLights {...props} />
      <div class="row row-end">
        <NumberField
          label="By how much"
          unit={unit}
          draft={draft}
          onEnter={note}
          hint="Up is plus, down is minus."
        />
        <AnswerButton class="button" disabled={draft.value === undefined} onClick={note}>
          Note it
        </AnswerButton>
      </div>
      <div>
        <AnswerButton class="button" onClick={() => noted(props, 0)}>
          Nothing that I can see
        </AnswerButton>
      </div>
    </div>
  );
}

const YesOrNo = (props: TestStepProps): JSX.Element => (
  <div class="chips">
    {[1, 0].map((value) => (
      <AnswerButton key={value} class="button button-tall" onClick={() => noted(props, value)}>
        {value === 1 ? 'Yes' : 'No'}
      </AnswerButton>
    ))}
  </div>
);

/** More than any meter of a garage shows. */
const OPEN_OHM = 1e6;

function FigureEntry(props: TestStepProps & { readonly unit: 'V' | 'mV' | 'ohm' }): JSX.Element {
  const { unit, asked, job, send } = props;
  const draft = useNumberDraft('', unit);
  const isLive = useSignal(job.live)?.link.state === 'live';
  const note = (): void => {
    if (draft.value !== undefined) noted(props, draft.value);
  };
  return (
    <div class="stack">
      <SimulatedLights {...props} />
      {asked.isBoxAble && isLive ? (
        <div>
          <AnswerButton
            class="button button-main"
            onClick={() => send({ kind: 'capture-test', test: asked.test })}
          >
            Let the box measure it
          </AnswerButton>
        </div>
      ) : null}
      <div class="row row-end">
        <NumberField label="What the meter shows" unit={unit} draft={draft} onEnter={note} />
        <AnswerButton
          class={asked.isBoxAble && isLive ? 'button' : 'button button-main'}
          disabled={draft.value === undefined}
          onClick={note}
        >
          Note it
        </AnswerButton>
      </div>
      {unit === 'ohm' ? (
        <div>
          <AnswerButton class="button" onClick={() => noted(props, OPEN_OHM)}>
            It shows open
          </AnswerButton>
        </div>
      ) : null}
    </div>
  );
}

const WITH_LIGHTS = ['lights', 'hex-loaded', 'case-loaded'];

/** The drawn vehicle has a switch for its lights, too. */
const SimulatedLights = ({ state, asked }: TestStepProps): JSX.Element | null =>
  state.simulated && WITH_LIGHTS.includes(asked.test) ? (
    <div class="row">
      <span class="simulated-tag">SIMULATED</span>
      {[true, false].map((lights) => (
        <button
          key={String(lights)}
          type="button"
          class="button"
          onClick={() => void changeWorld({ lights })}
        >
          {lights ? 'Switch the lights on' : 'Switch them off'}
        </button>
      ))}
    </div>
  ) : null;
