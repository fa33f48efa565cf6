import { useEffect } from 'preact/hooks';

/** These take any key for themselves; a button, a link, a summary only those that press it. */
const TYPED = 'input, select, textarea, [role="slider"]';
const PRESSED = 'button, a, summary';
const PRESSES: readonly string[] = ['Enter', ' '];
const PEDAL_KEYS: readonly string[] = ['Enter', ' ', 'PageDown'];

/** A foot pedal is a keyboard with one key: one of these. */
export const isPedal = (key: string): boolean => PEDAL_KEYS.includes(key);

/** Keys pressed outside any control, wherever the focus is; `act` says whether the key was meant for it. */
export function usePageKeys(act: (key: string) => boolean): void {
  useEffect(() => {
    const onKeyDown = (event: KeyboardEvent): void => {
      const controls = PRESSES.includes(event.key) ? `${TYPED}, ${PRESSED}` : TYPED;
      const isInControl = event.target instanceof Element && event.target.closest(controls) !== null;
      if (isInControl || event.repeat || event.ctrlKey || event.metaKey || event.altKey) return;
      if (act(event.key)) event.preventDefault();
    };
    window.addEventListener('keydown', onKeyDown);
    return () => window.removeEventListener('keydown', onKeyDown);
  }, [act]);
}
