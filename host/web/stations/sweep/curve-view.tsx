import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/schema/commands';
import type { CurveFinding } from '../../../job/findings';
import type { JobState } from '../../../job/state/state';
import { countedReadings } from '../../../job/state/views';
import { knownSays } from '../../../words/answer';
import { printed } from '../../../words/notation';
import { saidRefusal } from '../../../words/refusal';

import { OhmsPlot } from '../../plot/ohms-plot';
import { knownTo, lawWords } from '../../../words/curve-facts';
import { curveQuestion } from '../../../scene/curve-question';
import { pointsOf } from './curve-points';
import { PointCard } from './point-card';
import { ReadingsTable } from './readings-table';

type CurveViewProps = {
  readonly state: JobState;
  readonly finding: CurveFinding | undefined;
  /** A step can be read again: the box is there, and this screen is not one that only watches. */
  readonly canRepeat: boolean;
  readonly send: (command: JobCommand) => void;
};

/** The curve as it grows under a sweep: readings, what is drawn through them, the chosen point, and the table of both. */
export function CurveView({ state, finding, canRepeat, send }: CurveViewProps): JSX.Element {
  const { chosen, shown, hands } = useChosenPoint(state);
  const line = finding?.line ?? [];
  const count = countedReadings(state).length;
  return (
    <div class="stack">
      <h3>The curve so far</h3>
      <OhmsPlot
        question={{ ...curveQuestion(state, line), naming: 'none' }}
        label={`Ohms over the dial: ${count} readings. The table below holds the same figures.`}
        hands={hands}
      />
      {shown === undefined && chosen === undefined ? null : (
        <PointCard reading={shown} gauge={state.gauge} line={line} canRepeat={canRepeat} send={send} />
      )}
      <CurveLine state={state} finding={finding} />
      {state.readings.length === 0 ? null : <ReadingsTable state={state} send={send} />}
    </div>
  );
}

type SoFarProps = Pick<CurveViewProps, 'state' | 'finding'> & {
  readonly nowOhm?: number | undefined;
  readonly heightPixel?: number;
};

/** A glance at the curve while the needle settles; nothing in it to press. */
export const CurveSoFar = ({ state, finding, nowOhm, heightPixel }: SoFarProps): JSX.Element => (
  <OhmsPlot
    question={{ ...curveQuestion(state, finding?.line ?? []), band: [], nowOhm, naming: 'none' }}
    label={`The curve so far: ${countedReadings(state).length} readings.`}
    heightPixel={heightPixel}
  />
);

/** What is known of the curve while it grows, in a line. */
function CurveLine({ state, finding }: Pick<CurveViewProps, 'state' | 'finding'>): JSX.Element | null {
  if (finding === undefined) return null;
  const { curve } = finding;
  if (curve.kind === 'refused') return <p class="soft">No curve yet. {saidRefusal(curve, printed)}</p>;
  const known = knownTo(curve, state.gauge);
  return (
    <p class="soft">
      {lawWords(curve, state)}
      {known === undefined ? '' : `; ${knownSays(known, state.gauge.unit, printed)} so far`}.
    </p>
  );
}

/** The dot that is pointed at, or else the one that was chosen. */
export function useChosenPoint(state: JobState) {
  const [chosen, setChosen] = useState<string | undefined>(undefined);
  const [looked, setLooked] = useState<string | undefined>(undefined);
  const shown = state.readings.find((reading) => reading.readingId === (looked ?? chosen));
  return {
    chosen,
    shown,
    hands: { points: pointsOf(state), chosen, onChoose: setChosen, onLook: setLooked },
  };
}
