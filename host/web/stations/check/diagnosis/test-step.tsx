import type { JSX } from 'preact';
import { wayOfJob } from '../../../../job/check/diagnosis-of-job';
import type { RiskyWork } from '../../../../job/state/confirmations';
import { testHookUp } from '../../../../job/test-hook-up';
import { later } from '../../../parts/later';
import { Gates } from '../../confirm-first';
import { minutesWords } from './lesser';
import { TestEntry } from './test-entry';
import type { TestStepProps } from './test-step-props';

const LeadsFold = later(async () => (await import('../../leads-fold')).LeadsFold);

/** One test: what to do, why this one, which lead goes where, and its answer. */
export function TestStep(props: TestStepProps): JSX.Element {
  const { state, asked, why, send } = props;
  const { test, how, minutes, access } = asked;
  const hookUp = testHookUp(test, state, wayOfJob(state) === 'box');
  const gates: RiskyWork[] = [
    ...(access.includes('lead') ? (['sender-wire'] as const) : []),
    ...(access.includes('dash') ? (['dash'] as const) : []),
    ...(test === 'as-found-warm' || (test === 'rocking' && state.gauge.quantity === 'pressure')
      ? (['engine-runs'] as const)
      : []),
  ];
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
      <Gates works={gates} state={state} send={send}>
        <TestWords how={how}>{body}</TestWords>
      </Gates>
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
