import type { ComponentChildren, JSX } from 'preact';
import type { JobCommand } from '../../../job/schema/commands';
import type { Sweep } from '../../../job/state/state';

type SweepActionsProps = {
  readonly sweep: Sweep;
  readonly stepId: string | undefined;
  /** A screen that watches may only pause. */
  readonly isReader: boolean;
  readonly hasReadings: boolean;
  /** Takes back what this screen entered last. */
  readonly undo: ComponentChildren;
  readonly send: (command: JobCommand) => void;
};

/** What one may do beside answering now; each is one tap, and undo takes any of it back. */
export function SweepActions(props: SweepActionsProps): JSX.Element {
  const { sweep, stepId, hasReadings, send } = props;
  const isRunning = sweep.status.kind === 'running';
  const step = (command: (id: string) => JobCommand): (() => void) | undefined =>
    stepId === undefined ? undefined : () => send(command(stepId));
  const actions: readonly (readonly [string, (() => void) | undefined])[] = [
    ['Repeat this point', isRunning ? step((id) => ({ kind: 'repeat-step', stepId: id })) : undefined],
    ['Still moving', isRunning ? step((id) => ({ kind: 'wait-longer', stepId: id })) : undefined],
    ['Skip', isRunning ? step((id) => ({ kind: 'skip-step', stepId: id })) : undefined],
    ['Pause', isRunning ? () => send({ kind: 'pause-sweep' }) : undefined],
    ['Finish here', hasReadings ? () => send({ kind: 'finish-sweep' }) : undefined],
  ];
  return (
    <div class="chips">
      {props.isReader && hasReadings ? props.undo : null}
      {actions
        .filter(([words, act]) => act !== undefined && (props.isReader || words === 'Pause'))
        .map(([words, act]) => (
          <button key={words} type="button" class="button" onClick={act}>
            {words}
          </button>
        ))}
    </div>
  );
}
