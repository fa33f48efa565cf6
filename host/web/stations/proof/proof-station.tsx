import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/schema/commands';
import { proofVerdict } from '../../../job/proof/proof';
import { proofCautionLine, proofCautions } from '../../../job/proof/proof-cautions';
import { resistorHookUp } from '../../../job/hook-up';
import type { JobState } from '../../../job/state/state';
import { senderInVehicle } from '../../../job/state/views';
import { UNSET } from '../../entry/entry';
import { useSignal } from '../../signal';
import { confirmations } from '../../../job/state/confirmations';
import { Note } from '../../parts/note';
import { Choice } from '../../parts/choice';
import { Caution } from '../../parts/caution';
import { ConfirmFirst } from '../confirm-first';
import type { StationProps } from '../station-props';
import { AndNow, SeasonPair } from './drift-entry';
import { FittedFold, FittedQuestion } from './fitted-say';
import { isWorthIt, OfTheSender } from './of-the-sender';
import { RunPair } from './pair-entry';
import { ProofLimit, ProofSummary } from './proof-limit';
import { LeadsFold } from '../leads-fold';
import { ProofPlot } from './proof-plot';
import { ProofTable } from './proof-table';
import { isRuleWanted, RuleQuestion } from './rule-question';
import { SubstitutePair } from './substitute-pair';
import { plateIf } from '../../parts/plate';

const METHODS = [
  { value: 'run', words: 'Running, against a reference' },
  { value: 'substituted', words: 'Known ohms in the sender\u2019s place' },
] as const;

/** The installed result: against a reference as the vehicle runs, and by known ohms where running would be dangerous. */
export function ProofStation({ app, job, state }: StationProps): JSX.Element {
  const [isAsFoundFirst, setAsFoundFirst] = useState(false);
  const [further, setFurther] = useState<'pair' | 'season' | undefined>(undefined);
  const { unit } = state.gauge;
  const send = (command: JobCommand): void => void job.send(command);
  const fitted = { state, send, toTrim: () => app.opened.set('trim') };
  const isAsked = state.fitted === undefined && !isAsFoundFirst;
  const isEnded = isProofEnded(state);
  /** One more reading after the end: it is asked for first, and what was found stands below. */
  const isGoingOn = isEnded && further !== undefined;
  return (
    <div class="stack">
      {isAsked ? null : <ProofSummary state={state} />}
      {isEnded && !isGoingOn ? <Onward app={app} state={state} isPlate={!isWorthIt(state)} /> : null}
      {isEnded && !isGoingOn ? <OfTheSender state={state} send={send} /> : null}
      {isGoingOn ? null : <ProofPlot state={state} />}
      {isEnded && further === undefined ? (
        <AndNow state={state} onFurther={setFurther} />
      ) : isEnded && further === 'season' ? (
        <SeasonPair
          key={unit}
          state={state}
          job={job}
          entry={app.proofEntry}
          onDone={() => setFurther(undefined)}
        />
      ) : (
        <ConfirmFirst work="proof" state={state} send={send}>
          {isAsked ? (
            <FittedQuestion {...fitted} asFoundFirst={() => setAsFoundFirst(true)} />
          ) : isRuleWanted(state) ? (
            <RuleQuestion key={unit} state={state} send={send} />
          ) : (
            <NextPair app={app} job={job} state={state} isAsFound={isAsFoundFirst} />
          )}
        </ConfirmFirst>
      )}
      {isGoingOn ? <ProofPlot state={state} /> : null}
      {isAsked ? null : <FittedFold {...fitted} />}
      <ProofLimit key={unit} state={state} send={send} />
      <ProofTable
        state={state}
        strike={(pairId, reason) => send({ kind: 'strike-proof-pair', pairId, reason })}
      />
      {isEnded ? null : <Onward app={app} state={state} isPlate={false} />}
    </div>
  );
}

/** Everything that is wanted is there, or a pair lies outside: what comes next is not one more pair. */
const isProofEnded = (state: JobState): boolean => {
  const proof = proofVerdict(state);
  return proof !== undefined && (proof.verdict === 'outside' || proof.missing.length === 0);
};

function NextPair({
  app,
  job,
  state,
  isAsFound,
}: StationProps & { readonly isAsFound: boolean }): JSX.Element {
  const findings = useSignal(job.findings.findings);
  const [method, setMethod] = useState<(typeof METHODS)[number]['value']>('run');
  const { unit } = state.gauge;
  // What was put down before is gone when a pair begins; another unit leaves the needle where it stands.
  useEffect(() => app.proofEntry.set(UNSET), [method]);
  const pair = { state, job, entry: app.proofEntry };
  return (
    <>
      <Choice label="How is this pair made?" options={METHODS} chosen={method} onChoose={setMethod} />
      <Caution line={proofCautionLine(state.gauge, method)}>
        <ul>
          {proofCautions(state.gauge, method).map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ul>
      </Caution>
      <LevelQuestion job={job} />
      {method === 'run' ? (
        <RunPair key={unit} {...pair} isAsFound={isAsFound} />
      ) : (
        <>
          <LeadsFold hookUp={resistorHookUp(state)} isOpen={!state.simulated} />
          <ConfirmFirst work="sender-wire" state={state} send={(command) => void job.send(command)}>
            <SubstitutePair
              key={unit}
              {...pair}
              finding={findings?.senders.find((each) => each.senderId === senderInVehicle(state))}
              toSender={() => app.opened.set('sender')}
            />
          </ConfirmFirst>
        </>
      )}
    </>
  );
}

type OnwardProps = Pick<StationProps, 'app' | 'state'> & { readonly isPlate: boolean };

function Onward({ app, state, isPlate }: OnwardProps): JSX.Element | null {
  if (state.proofPairs.length === 0) return null;
  const isOutside = proofVerdict(state)?.verdict === 'outside';
  const plate = plateIf(isPlate);
  return (
    <div class="row">
      {isOutside ? (
        <button type="button" class={plate} onClick={() => app.opened.set('trim')}>
          Back to the trim
        </button>
      ) : null}
      <button type="button" class={isOutside ? 'button' : plate} onClick={() => app.opened.set('record')}>
        On to the record
      </button>
    </div>
  );
}

/** Asked where the host would not take a needle far below its reference: steam tells a bulb nothing. */
function LevelQuestion({ job }: Pick<StationProps, 'job'>): JSX.Element | null {
  const refusal = useSignal(job.refusal);
  const { asks } = confirmations['coolant-level'];
  if (refusal?.code !== 'CONFIRM_FIRST' || !refusal.message.includes(asks)) return null;
  const say = (): void => {
    job.refusal.set(undefined);
    void job.send({ kind: 'confirm-safety', confirmation: 'coolant-level' });
  };
  return (
    <Note kind="wrong" word="Stop, let it cool, look at the level">
      <p>{asks}</p>
      <div>
        <button type="button" class="button" onClick={say}>
          The level is right
        </button>
      </div>
    </Note>
  );
}
