import type { ComponentChildren, JSX } from 'preact';
import type { JobCommand } from '../../../job/schema/commands';
import type { Sweep } from '../../../job/state/state';

type SweepActionsProps = {
  readonly sweep: Sweep;
  readonly stepId: string | undefined;
  /** A screen that watches may only pause. */
  readonly isReader: boolean;
  readonly hasReadings: boolean;
  /** Where the needle may rest, while a reading is asked. */
  readonly stops: ComponentChildren;
  /** Takes back what this screen entered last. */
  readonly undo: ComponentChildren;
  readonly send: (command: JobCommand) => void;
  /** What has no meaning at this moment. */
  readonly without?: readonly string[];
};

/** What one may do beside answering now; each is one tap, and undo takes any of it back. */
export function SweepActions(props: SweepActionsProps): JSX.Element {
  const { sweep, stepId, hasReadings, send, without = [] } = props;
  const isRunning = sweep.status.kind === 'running';
  const step = (command: (id: string) => JobCommand): (() => void) | undefined =>
    stepId === undefined ? undefined : () => send(command(stepId));
  const actions: readonly (readonly [string, string, (() => void) | undefined])[] = [
    ['Not steady', 'Not steady', isRunning ? step((id) => ({ kind: 'wait-longer', stepId: id })) : undefined],
    [
      'Repeat',
      'Repeat this point',
      isRunning ? step((id) => ({ kind: 'repeat-step', stepId: id })) : undefined,
    ],
    ['Skip', 'Skip', isRunning ? step((id) => ({ kind: 'skip-step', stepId: id })) : undefined],
    ['Pause', 'Pause', isRunning ? () => send({ kind: 'pause-sweep' }) : undefined],
    ['Finish', 'Finish here', hasReadings ? () => send({ kind: 'finish-sweep' }) : undefined],
  ];
  return (
    <div class="actions">
      {props.stops}
      <div class="lesser">
        {props.isReader && hasReadings ? props.undo : null}
        {actions
          .filter(([words, , act]) => act !== undefined && !without.includes(words))
          .filter(([words]) => props.isReader || words === 'Pause')
          .map(([words, spoken, act]) => (
            <button
              key={words}
              type="button"
              class="button"
              aria-label={spoken === words ? undefined : spoken}
              onClick={act}
            >
              {words}
            </button>
          ))}
      </div>
    </div>
  );
}
