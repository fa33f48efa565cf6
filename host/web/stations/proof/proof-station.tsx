import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/schema/commands';
import { proofVerdict } from '../../../job/proof/proof';
import { proofCautions } from '../../../job/proof/proof-cautions';
import { resistorHookUp } from '../../../job/hook-up';
import { senderInVehicle } from '../../../job/state/views';
import { UNSET } from '../../entry/entry';
import { useSignal } from '../../signal';
import { Choice } from '../../parts/choice';
import { Note } from '../../parts/note';
import { ConfirmFirst } from '../confirm-first';
import type { StationProps } from '../station-props';
import { FittedSay } from './fitted-say';
import { RunPair } from './pair-entry';
import { ProofLimit } from './proof-limit';
import { LeadsFold } from '../leads-fold';
import { ProofPlot } from './proof-plot';
import { ProofTable } from './proof-table';
import { SubstitutePair } from './substitute-pair';

const METHODS = [
  { value: 'run', words: 'Running, against a reference' },
  { value: 'substituted', words: 'Known ohms in the sender\u2019s place' },
] as const;

/** The installed result: against a reference as the vehicle runs, and by known ohms where running would be dangerous. */
export function ProofStation({ app, job, state }: StationProps): JSX.Element {
  const findings = useSignal(job.findings.findings);
  const [method, setMethod] = useState<(typeof METHODS)[number]['value']>('run');
  const { unit } = state.gauge;
  // What was put down before is gone when a pair begins; another unit leaves the needle where it stands.
  useEffect(() => app.proofEntry.set(UNSET), [method]);
  const send = (command: JobCommand): void => void job.send(command);
  const pair = { state, job, entry: app.proofEntry };
  return (
    <div class="stack">
      <p>
        In a moving vehicle the passenger reads, the driver drives. Do not trust the trimmed needle as the
        only warning before it is proved.
      </p>
      <FittedSay state={state} send={send} toTrim={() => app.opened.set('trim')} />
      <Choice label="How is this pair made?" options={METHODS} chosen={method} onChoose={setMethod} />
      <ConfirmFirst work="proof" state={state} send={send}>
        <Note kind="caution">
          <ul>
            {proofCautions(state.gauge, method).map((caution) => (
              <li key={caution}>{caution}</li>
            ))}
          </ul>
        </Note>
        {method === 'substituted' ? (
          <LeadsFold hookUp={resistorHookUp(state)} isOpen={!state.simulated} />
        ) : null}
        {method === 'run' ? (
          <RunPair key={unit} {...pair} />
        ) : (
          <SubstitutePair
            key={unit}
            {...pair}
            finding={findings?.senders.find((each) => each.senderId === senderInVehicle(state))}
            toSender={() => app.opened.set('sender')}
          />
        )}
      </ConfirmFirst>
      <ProofLimit key={unit} state={state} send={send} />
      <ProofPlot state={state} />
      <ProofTable
        state={state}
        strike={(pairId, reason) => send({ kind: 'strike-proof-pair', pairId, reason })}
      />
      <Onward app={app} state={state} />
    </div>
  );
}

function Onward({ app, state }: Pick<StationProps, 'app' | 'state'>): JSX.Element | null {
  if (state.proofPairs.length === 0) return null;
  const isOutside = proofVerdict(state)?.verdict === 'outside';
  return (
    <div class="row">
      {isOutside ? (
        <button type="button" class="button button-main" onClick={() => app.opened.set('trim')}>
          Back to the trim
        </button>
      ) : null}
      <button
        type="button"
        class={isOutside ? 'button' : 'button button-main'}
        onClick={() => app.opened.set('record')}
      >
        On to the record
      </button>
    </div>
  );
}
