import type { JSX } from 'preact';
import type { JobCommand } from '../../../job/commands';
import type { JobState } from '../../../job/state';
import { shownUnit } from '../../model/words';
import { NumberField, useNumberDraft } from '../../parts/number-field';

type CoolingLogProps = {
  readonly sender: JobState['senders'][number];
  readonly isLive: boolean;
  readonly send: (command: JobCommand) => void;
};

/** The box measures the sender by itself at each call; the person gives the thermometer and nothing else. */
export function CoolingLog({ sender, isLive, send }: CoolingLogProps): JSX.Element {
  const value = useNumberDraft();
  const take = (): void => {
    if (value.value === undefined || !isLive) return;
    send({ kind: 'capture-sender-point', senderId: sender.senderId, value: value.value });
    value.setText('');
  };
  return (
    <div class="stack">
      <p class="hint">
        Connect the sender, and nothing else, to the box. Start near the boil and let it cool: give the
        thermometer at each step, the box takes the resistance at that moment.
      </p>
      <NumberField label="The thermometer shows" unit={shownUnit(sender.unit)} draft={value} onEnter={take} />
      <div>
        <button
          type="button"
          class="button button-main"
          disabled={!isLive || value.value === undefined}
          onClick={take}
        >
          {isLive ? 'Take the resistance now' : 'No box is connected'}
        </button>
      </div>
    </div>
  );
}
