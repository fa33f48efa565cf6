import type { JSX } from 'preact';
import type { AskedTest } from '../../../../job/findings';
import { wayOfJob } from '../../../../job/check/diagnosis-of-job';
import type { JobCommand } from '../../../../job/schema/commands';
import { testHookUp } from '../../../../job/test-hook-up';
import { later } from '../../../parts/later';
import { ConfirmFirst } from '../../confirm-first';
import type { StationProps } from '../../station-props';
import { minutesWords } from './lesser';
import { TestEntry } from './test-entry';

const LeadsFold = later(async () => (await import('../../leads-fold')).LeadsFold);

export type TestStepProps = StationProps & {
  readonly asked: AskedTest;
  readonly why: string;
  readonly send: (command: JobCommand) => void;
};

/** One test: what to do, why this one, which lead goes where, and its answer. */
export function TestStep(props: TestStepProps): JSX.Element {
  const { state, asked, why, send } = props;
  const { test, how, minutes, access } = asked;
  const hookUp = testHookUp(test, state, wayOfJob(state) === 'box');
  const body = (
    <>
      <TestEntry {...props} />
      {hookUp === undefined ? null : <LeadsFold hookUp={hookUp} isOpen={!state.simulated} />}
    </>
  );
  return (
    <div class="stack" data-test={test}>
      <p class="soft">
        {capitalMinutes(minutes)}: {why}.
      </p>
      {access.length === 0 ? (
        <TestWords how={how}>{body}</TestWords>
      ) : (
        <ConfirmFirst work="sender-wire" state={state} send={send}>
          <TestWords how={how}>{body}</TestWords>
        </ConfirmFirst>
      )}
    </div>
  );
}

const capitalMinutes = (minutes: number): string => minutesWords(minutes).replace(/^a/, 'A');

const TestWords = (props: { readonly how: string; readonly children: JSX.Element }): JSX.Element => (
  <>
    <p class="prompt">{props.how}</p>
    {props.children}
  </>
);
