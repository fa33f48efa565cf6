import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { newestCheckN, wayOfJob } from '../../../../job/check/diagnosis-of-job';
import type { TestName } from '../../../../core/diagnosis/names';
import type { AskedTest, DiagnosisFinding } from '../../../../job/findings';
import type { JobCommand } from '../../../../job/schema/commands';
import { useSignal } from '../../../signal';
import { useBringIntoView } from '../../../parts/bring-into-view';
import { Note } from '../../../parts/note';
import { OnePress } from '../../../parts/one-press';
import type { StationProps } from '../../station-props';
import { AsFoundStep } from '../as-found-step';
import { Beliefs } from './beliefs';
import { EndStep, Found } from './diagnosis-end';
import { hasSaid, Lesser } from './lesser';
import { TestStep } from './test-step';
import { WayStep } from './way-step';

/** What is asked now: how one works, the needle as found, one test, or what it came to. */
type Asked =
  | { readonly kind: 'way' | 'as-found' | 'found' }
  | { readonly kind: 'waiting' }
  | {
      readonly kind: 'test';
      readonly test: AskedTest;
      readonly why: string;
      readonly finding: DiagnosisFinding;
    }
  | { readonly kind: 'end'; readonly finding: DiagnosisFinding };

type Standing = {
  readonly state: StationProps['state'];
  readonly finding: DiagnosisFinding | undefined;
  /** Taken in place of the test that was proposed; it lasts until something is entered. */
  readonly taken: { readonly test: AskedTest; readonly ofN: number } | undefined;
};

function askedOf({ state, finding, taken }: Standing): Asked {
  const newestN = newestCheckN(state);
  if ((state.conclusion?.n ?? 0) > newestN) return { kind: 'found' };
  if (!hasSaid(state, 'as-found')) return { kind: 'as-found' };
  const way = wayOfJob(state);
  if (way === undefined) return { kind: 'way' };
  if (finding?.ofN !== newestN || finding.way !== way) return { kind: 'waiting' };
  if (taken?.ofN === newestN)
    return {
      kind: 'test',
      test: taken.test,
      why: 'you took this one',
      finding,
    };
  return finding.next === undefined
    ? { kind: 'end', finding }
    : { kind: 'test', test: finding.next, why: finding.next.why, finding };
}

/** Which part lies: one test at a time, the most telling first, until what is wrong is proved or nothing tells more. */
export function DiagnosisStation({ app, job, state }: StationProps): JSX.Element {
  const finding = useSignal(job.findings.findings)?.diagnosis;
  const trouble = useSignal(job.findings.trouble);
  const [taken, setTaken] = useState<Standing['taken']>(undefined);
  const asked = askedOf({ state, finding, taken });
  const newestN = newestCheckN(state);
  const question = `${asked.kind} ${asked.kind === 'test' ? asked.test.test : ''} ${newestN}`;
  const place = useBringIntoView(question);
  const send = (command: JobCommand): void => void job.send(command);
  const take = (test: AskedTest): void => setTaken({ test, ofN: newestN });
  return (
    <div
      class="stack check"
      ref={place}
      tabIndex={-1}
      role="group"
      aria-label={labelOf(asked)}
      data-asked={question}
    >
      <OnePress question={question}>
        {asked.kind === 'way' ? <WayStep send={send} /> : null}
        {asked.kind === 'as-found' ? <AsFoundStep state={state} entry={app.entry} send={send} /> : null}
        {asked.kind === 'waiting' ? <Waiting trouble={trouble?.message} /> : null}
        {asked.kind === 'test' ? (
          <TestStep key={question} {...{ app, job, state, asked: asked.test, why: asked.why, send }} />
        ) : null}
        {asked.kind === 'end' ? <EndStep finding={asked.finding} send={send} /> : null}
        {asked.kind === 'found' ? (
          <Found state={state} send={send} goOn={() => app.opened.set('sweep')} />
        ) : (
          <Lesser
            job={job}
            test={testOf(asked)}
            finding={asked.kind === 'waiting' ? undefined : finding}
            take={take}
          />
        )}
      </OnePress>
      {asked.kind === 'test' || asked.kind === 'end' ? <Beliefs finding={asked.finding} /> : null}
    </div>
  );
}

function testOf(asked: Asked): TestName | undefined {
  if (asked.kind === 'as-found') return 'as-found';
  return asked.kind === 'test' ? asked.test.test : undefined;
}

function labelOf(asked: Asked): string {
  switch (asked.kind) {
    case 'way':
      return 'How you work';
    case 'as-found':
      return 'As found';
    case 'waiting':
      return 'Choosing the next test';
    case 'test':
      return asked.test.name;
    case 'end':
    case 'found':
      return 'What the check found';
  }
}

const Waiting = ({ trouble }: { readonly trouble: string | undefined }): JSX.Element =>
  trouble === undefined ? (
    <p class="prompt">Choosing the test that tells most now.</p>
  ) : (
    <Note kind="wrong">
      <p>{trouble}</p>
    </Note>
  );
