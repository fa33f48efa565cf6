import type { JSX } from 'preact';
import { leftPairs } from '../../../job/proof/drift-of-job';
import { isProved } from '../../../job/proof/proof';
import { proofWork } from '../../../job/state/confirmations';
import type { JobState } from '../../../job/state/state';
import { printed } from '../../../words/notation';
import { driftWords } from '../../../words/proof-later';
import { NumberField, useNumberDraft } from '../../parts/number-field';
import { Verdict } from '../../parts/verdict';
import { shownReading, shownUnit } from '../../parts/words';
import { Gates } from '../confirm-first';
import {
  PairNeedle,
  readAgainst,
  referenceMissing,
  RunFields,
  usePairEntry,
  useRun,
  type PairProps,
} from './pair-entry';

type NowProps = {
  readonly state: JobState;
  readonly onFurther: (further: 'pair' | 'season') => void;
};

/** After a proof: one pair more, or, a season later, whether it still is as it was left; with every such look so far. */
export function AndNow({ state, onFurther }: NowProps): JSX.Element {
  return (
    <div class="stack">
      <Looks state={state} />
      <div class="row">
        <button type="button" class="button" onClick={() => onFurther('pair')}>
          Take another pair
        </button>
        {isProved(state) ? (
          <button type="button" class="button" onClick={() => onFurther('season')}>
            A season later: still as left?
          </button>
        ) : null}
      </div>
    </div>
  );
}

const Looks = ({ state }: { readonly state: JobState }): JSX.Element | null => {
  const since = state.drifts.filter(({ n }) => n > (state.fitted?.n ?? 0));
  if (since.length === 0) return null;
  return (
    <section class="stack" aria-label="Looked at again since">
      <h3>Looked at again since</h3>
      {since.map((drift) => (
        <Verdict key={drift.n} kind={drift.hasMoved ? 'bad' : 'good'}>
          <b>{drift.at.slice(0, 'yyyy-mm-dd'.length)}</b>. {driftWords(drift, state.gauge.unit, printed)}
        </Verdict>
      ))}
    </section>
  );
};

/** One warm pair near a place of the proof, and the rest mark where somebody looks. */
export function SeasonPair(props: PairProps & { readonly onDone: () => void }): JSX.Element {
  const { state, job, entry, onDone } = props;
  const run = useRun({ state, isAsFound: false });
  const { reference, kind, engine } = run;
  const rest = useNumberDraft('', state.gauge.unit);
  const put = usePairEntry({ job, entry });
  const confirm = (indicated: number): void => {
    const read = readAgainst(run, state, indicated);
    if (read === undefined) return;
    const restOff = rest.value === undefined ? {} : { restOff: rest.value };
    void put({ kind: 'check-drift', ...read, ...restOff }, [reference, rest]).then((isTaken) => {
      if (isTaken) onDone();
    });
  };
  const places = leftPairs(state).map(
    (pair) => `${shownReading(pair.reference, state.gauge)} ${pair.leg === 'up' ? 'rising' : 'falling'}`,
  );
  return (
    <div class="stack">
      <p class="hint">
        Read it near a place of the proof, the needle moving the same way: {[...new Set(places)].join(', ')}.
      </p>
      <div class="columns">
        <div class="stack">
          <RunFields state={state} run={run} isLater />
          <NumberField
            label="Off its rest mark, ignition off"
            unit={shownUnit(state.gauge.unit)}
            draft={rest}
            hint="Up is plus, down is minus; leave it empty where nobody looked."
          />
        </div>
        <Gates
          works={proofWork(state, { engine, referenceKind: kind })}
          state={state}
          send={(command) => void job.send(command)}
        >
          <PairNeedle state={state} entry={entry} notYet={referenceMissing(run)} onReading={confirm} />
        </Gates>
      </div>
      <div>
        <button type="button" class="button button-plain" onClick={onDone}>
          Not now
        </button>
      </div>
    </div>
  );
}
