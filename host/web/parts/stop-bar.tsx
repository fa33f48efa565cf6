import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import type { Desk } from '../model/desk';
import { useSignal } from '../model/signal';

/** Escape stops from anywhere on the page, whatever has the focus. */
function useEscapeStops(desk: Desk, isDriving: boolean): void {
  useEffect(() => {
    if (!isDriving) return undefined;
    const onKeyDown = (event: KeyboardEvent): void => {
      if (event.key === 'Escape') desk.stop();
    };
    window.addEventListener('keydown', onKeyDown, true);
    return () => window.removeEventListener('keydown', onKeyDown, true);
  }, [desk, isDriving]);
}

/** The big stop control: on every view while the output is, or may be, live. */
export function StopBar({ desk }: { readonly desk: Desk }): JSX.Element | null {
  const frame = useSignal(desk.live);
  const isDriving = frame !== undefined && (frame.box.state === 'driving' || frame.box.state === 'armed');
  useEscapeStops(desk, isDriving);
  if (!isDriving) return null;
  return (
    <div class="stop-bar screen-only">
      <button type="button" class="stop" onClick={desk.stop}>
        STOP: open the output
        <small>Escape does the same. The box confirms it here.</small>
      </button>
    </div>
  );
}
