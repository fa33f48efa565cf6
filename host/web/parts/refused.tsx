import type { JSX } from 'preact';
import type { Desk } from '../model/desk';
import { useSignal } from '../model/signal';
import { sentence } from '../model/words';

/** What the host would not do, where the hands are: at the foot of the window, whatever part of the sheet is in sight. */
export function Refused({ desk }: { readonly desk: Desk }): JSX.Element | null {
  const refusal = useSignal(desk.refusal);
  if (refusal === undefined) return null;
  return (
    <div class="refused" role="alert">
      <p>
        <strong>Not done.</strong> {sentence(refusal.message)}
      </p>
      <button type="button" class="button" onClick={() => desk.refusal.set(undefined)}>
        Seen
      </button>
    </div>
  );
}
