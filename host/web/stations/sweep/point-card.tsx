import type { JSX } from 'preact';
import type { JobCommand } from '../../../job/schema/commands';
import type { CurveFinding } from '../../../job/findings';
import type { Gauge } from '../../../job/schema/gauge';
import type { Reading } from '../../../job/state/state';
import { curveAt } from './point-facts';
import { shownError, shownOhm, shownReading, shownSpread, sureOhm } from '../../parts/words';

type PointCardProps = {
  readonly reading: Reading | undefined;
  readonly gauge: Gauge;
  readonly line: CurveFinding['line'];
  readonly canRepeat: boolean;
  readonly send: (command: JobCommand) => void;
};

/** What is known of one point, and what can be done with it. */
export function PointCard({ reading, gauge, line, canRepeat, send }: PointCardProps): JSX.Element {
  if (reading === undefined)
    return (
      <p class="point-card hint">
        Tap or point at a dot, or Tab to it: its figures, repeat, strike or restore.
      </p>
    );
  const { readingId, stepId, struckBecause } = reading;
  return (
    <section class="point-card" aria-label="The chosen point">
      <dl class="live-numbers">
        {factsOf(reading, gauge, line).map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      {struckBecause === undefined ? null : <p class="wrong">Struck: {struckBecause}.</p>}
      <div class="row">
        <button
          type="button"
          class="button"
          disabled={!canRepeat}
          onClick={() => send({ kind: 'repeat-step', stepId })}
        >
          Repeat this step
        </button>
        {struckBecause === undefined ? (
          <button
            type="button"
            class="button"
            onClick={() => send({ kind: 'strike-reading', readingId, reason: 'struck by hand' })}
          >
            Strike this point
          </button>
        ) : (
          <button type="button" class="button" onClick={() => send({ kind: 'restore-reading', readingId })}>
            Restore this point
          </button>
        )}
      </div>
    </section>
  );
}

/** Coverage factor of about 95 %, as for everything this page calls known. */
const EXPANDED = 2;

type Fact = readonly [name: string, value: string];

function factsOf(reading: Reading, gauge: Gauge, line: CurveFinding['line']): readonly Fact[] {
  const at = curveAt(line, reading.resistanceOhm);
  const stop = reading.atStop === undefined ? '' : `, ${reading.atStop} stop`;
  return [
    ['Needle', `${shownReading(reading.reading, gauge)}${stop}`],
    ['Resistance', shownOhm(reading.resistanceOhm)],
    ['Made to', sureOhm(reading.resistanceOhm, EXPANDED * reading.uncertaintyOhm)[1]],
    ['Moving', reading.leg === 'up' ? 'going up' : 'going down'],
    ['Off the curve', at === undefined ? '\u2014' : shownError(reading.reading - at.reading, gauge)],
    ['Curve known to', at === undefined ? '\u2014' : shownSpread((at.high - at.low) / 2, gauge)],
    ['Read by', reading.by],
  ];
}
