import type { JSX } from 'preact';
import { useId, useState } from 'preact/hooks';
import { useNumberDraft } from '../../parts/number-field';
import { WAKE_MS } from '../../parts/wake';

type OhmsProps = {
  /** What the plate puts on the sheet, for what was typed. */
  readonly says: (shownOhm: number) => string;
  readonly onGive: (shownOhm: number) => void;
  /** What speaks against it; then the plate is pressed twice. */
  readonly doubt?: (shownOhm: number) => string | undefined;
};

/** What the ohmmeter shows: large digits, and the plate once there are any. */
export function OhmsEntry({ says, onGive, doubt }: OhmsProps): JSX.Element {
  const draft = useNumberDraft('', 'ohm', 0);
  const [doubted, setDoubted] = useState<{ readonly ohm: number; readonly sinceMs: number } | undefined>();
  const id = useId();
  const give = (): void => {
    const { value: ohm } = draft;
    if (ohm === undefined) return;
    const nowMs = performance.now();
    if (doubt?.(ohm) === undefined) onGive(ohm);
    else if (doubted?.ohm !== ohm) setDoubted({ ohm, sinceMs: nowMs });
    else if (nowMs - doubted.sinceMs >= WAKE_MS) onGive(ohm);
  };
  const told = draft.value === undefined || doubted?.ohm !== draft.value ? undefined : doubt?.(draft.value);
  return (
    <div class="hands">
      <div class="value">
        <input
          id={id}
          inputMode="decimal"
          autoComplete="off"
          maxLength={40}
          value={draft.text}
          placeholder={'\u2013'}
          aria-invalid={draft.problem === undefined ? undefined : 'true'}
          aria-describedby={draft.problem === undefined ? undefined : `${id}-wrong`}
          onInput={(event) => draft.setText(event.currentTarget.value)}
          onKeyDown={(event) => {
            if (event.key === 'Enter') give();
          }}
        />
        <label for={id}>The ohmmeter shows (Ω)</label>
        {draft.problem === undefined ? null : (
          <span class="wrong" id={`${id}-wrong`} role="alert">
            {draft.problem}
          </span>
        )}
        {told === undefined ? null : (
          <span class="wrong" role="alert">
            {told}
          </span>
        )}
      </div>
      <div class="plate-row">
        <button
          type="button"
          class="button button-main button-wide"
          disabled={draft.value === undefined}
          onClick={give}
        >
          {draft.value === undefined ? 'Type what the ohmmeter shows' : says(draft.value)}
        </button>
      </div>
    </div>
  );
}
