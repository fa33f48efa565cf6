import type { ComponentChildren, JSX } from 'preact';
import type { Candidate } from '../../../core/network';
import type { LinePoint } from '../../../job/findings';
import type { Gauge } from '../../../job/schema/gauge';
import type { JobState } from '../../../job/state/state';
import { wiringWords } from '../../../words/network';
import { printed } from '../../../words/notation';
import { saidRemark } from '../../../words/remark';
import { Circuit } from '../../drawing/circuit';
import { Caution } from '../../parts/caution';
import { shownSpread, shownUnit } from '../../parts/words';
import { ErrorPlot } from '../../plot/error-plot';
import { trimErrors } from '../../../scene/trim-errors';
import { LoomLabel } from './loom-label';
import { FailureTable, PartLines } from './network-tables';

export type NetworkProps = {
  readonly state: Pick<JobState, 'jobId' | 'lastAt'>;
  readonly gauge: Gauge;
  readonly candidate: Candidate;
  readonly before: readonly LinePoint[];
  readonly limit: number;
  readonly tolerance?: readonly LinePoint[] | undefined;
  readonly tolerancePercent?: number | undefined;
  /** What can be done with this network. */
  readonly actions: ComponentChildren;
};

const worstOf = (band: readonly LinePoint[]): number =>
  Math.max(0, ...band.flatMap(({ low, high }) => [Math.abs(low), Math.abs(high)]));

/** One network: its errors before and after, its circuit and parts, what if a part fails, and the label for the loom. */
export function NetworkView(props: NetworkProps): JSX.Element {
  const { gauge, candidate, state } = props;
  return (
    <div class="network">
      <section class="stack network-plot">
        <ErrorPlot
          question={trimErrors({ ...props, tolerance: props.tolerance })}
          unit={shownUnit(gauge.unit)}
          label={`Error of the needle before and after the network; worst after: ${shownSpread(candidate.worstError, gauge)}. The table below holds the figures.`}
        />
        <p class="plot-key">
          <span>
            <i class="key-band" /> 95 % band
          </span>
          <span>
            <i class="key-hatch" /> outside the limit
          </span>
        </p>
        {props.tolerance === undefined || props.tolerancePercent === undefined ? null : (
          <p class="hint">
            Dash-dotted pair: senders at {'\u00b1'}
            {props.tolerancePercent} %, as their maker states; the worst of them{' '}
            {shownSpread(worstOf(props.tolerance), gauge)}.
          </p>
        )}
      </section>
      <section class="stack network-circuit">
        <div class="drawing-frame">
          <Circuit network={candidate} quantity={gauge.quantity} />
        </div>
        <p class="hint">{wiringWords[candidate.topology]}</p>
        <PartLines gauge={gauge} candidate={candidate} />
        <div class="row">{props.actions}</div>
      </section>
      <div class="network-fails">
        <FailureTable gauge={gauge} candidate={candidate} />
      </div>
      <div class="stack network-label">
        <LoomLabel gauge={gauge} candidate={candidate} jobId={state.jobId} day={state.lastAt.slice(0, DAY)} />
        {candidate.parts.length === 0 ? null : (
          <Caution line="Solder or crimp it, and keep a warning lamp that does not hang on this wire">
            <p>
              A joint that opens is the failure that hides most, and a bare twist under tape opens with age.
              Solder or crimp it, sleeve it, tie the loom on either side of it.
            </p>
          </Caution>
        )}
        {candidate.warnings.map((warning) => (
          <p key={JSON.stringify(warning)} class="hint">
            {saidRemark(warning, printed)}
          </p>
        ))}
      </div>
    </div>
  );
}

const DAY = 'yyyy-mm-dd'.length;
