import type { JSX } from 'preact';
import type { JobCommand } from '../../../job/schema/commands';
import type { Station } from '../../../job/stations';
import { countedReadings } from '../../../job/state/views';
import { useSignal } from '../../signal';
import { MarksTable } from '../marks-table';
import type { StationProps } from '../station-props';
import { trimShut } from '../../../job/proof/chain-gate';
import { ChainGate } from './chain-gate';
import { TrimAnswer } from './trim-answer';
import { TrimQuestion } from './trim-question';
import { sendersForJob } from '../../connection/http';
import { SuitedSenders } from '../../parts/suited-senders';
import { plateIf } from '../../parts/plate';

/** From the two curves to parts one can buy. */
export function TrimStation({ app, job, state }: StationProps): JSX.Element {
  const findings = useSignal(job.findings.findings);
  const isComputing = useSignal(job.findings.isComputing);
  const send = (command: JobCommand): void => void job.send(command);
  const hasReadings = countedReadings(state).length > 1;
  const hasSender = state.senderPoints.some((point) => point.struckBecause === undefined);
  if (!hasReadings || !hasSender) return <OneCurveMissing {...{ app, job, state, hasReadings, hasSender }} />;
  const shut = trimShut(state);
  const wasSearched = state.trimRequest?.senderId === state.trimSenderId;
  const searched =
    state.senders.length < 2
      ? undefined
      : state.senders.find(({ senderId }) => senderId === state.trimSenderId);
  return (
    <div class="stack">
      {searched === undefined || !wasSearched ? null : (
        <p>
          For the sender <b>{searched.title}</b>:
        </p>
      )}
      {findings?.trim === undefined || !wasSearched ? null : (
        <TrimAnswer
          key={JSON.stringify(state.trimRequest)}
          state={state}
          finding={findings.trim}
          findings={findings}
          send={send}
          goOn={() => app.opened.set('proof')}
          toSender={() => app.opened.set('sender')}
          tryAnother={() => {
            app.anotherSender.set(true);
            app.opened.set('sender');
          }}
        />
      )}
      {shut === undefined || !wasSearched || findings?.trim?.trimmed.kind !== 'trimmed' ? null : (
        <ChainGate state={state} why={shut} send={send} toCheck={() => app.opened.set('check')} />
      )}
      <p role="status" class="soft">
        {isComputing && state.trimRequest !== undefined ? 'Searching the networks.' : ''}
      </p>
      <TrimQuestion key={state.trimSenderId} state={state} send={send} />
      <SuitedSenders ask={() => sendersForJob(state.jobId)} />
    </div>
  );
}

type MissingProps = StationProps & { readonly hasReadings: boolean; readonly hasSender: boolean };

/** What is to be measured first; a gauge that is swept has a sender picked for it meanwhile. */
function OneCurveMissing({ app, job, state, hasReadings, hasSender }: MissingProps): JSX.Element {
  const findings = useSignal(job.findings.findings);
  const curve = findings?.curve?.curve;
  return (
    <div class="stack">
      <TwoCurvesFirst hasReadings={hasReadings} hasSender={hasSender} open={app.opened.set} />
      {curve?.kind === 'curve' ? (
        <MarksTable
          gauge={state.gauge}
          curve={curve}
          caption="What a sender must have at each mark, to order one or look for one by"
        />
      ) : null}
      {hasReadings ? <SuitedSenders ask={() => sendersForJob(state.jobId)} /> : null}
    </div>
  );
}

type FirstProps = {
  readonly hasReadings: boolean;
  readonly hasSender: boolean;
  readonly open: (station: Station) => void;
};

function TwoCurvesFirst({ hasReadings, hasSender, open }: FirstProps): JSX.Element {
  return (
    <div class="stack">
      <p class="prompt">Two curves are needed first.</p>
      <p>
        {hasReadings ? 'The gauge is swept.' : 'The gauge has no curve yet.'}{' '}
        {hasSender ? 'The sender has points.' : 'The sender has no points yet.'}
      </p>
      <div class="row">
        {hasReadings ? null : (
          <button type="button" class="button button-main" onClick={() => open('sweep')}>
            To the sweep
          </button>
        )}
        {hasSender ? null : (
          <button type="button" class={plateIf(hasReadings)} onClick={() => open('sender')}>
            To the sender
          </button>
        )}
      </div>
    </div>
  );
}
