import type { JSX } from 'preact';
import { useScreenOn } from '../../parts/screen-on';

/** A phone or a tablet: only there does the screen go dark by itself in a minute. */
const isTouched = (): boolean => matchMedia('(pointer: coarse)').matches;

/** Keeps a phone awake through a sweep; where its browser allows that to nobody, a person has to. */
export function ScreenHint({ isShown }: { readonly isShown: boolean }): JSX.Element | null {
  const state = useScreenOn();
  return isShown && state === 'not-held' && isTouched() ? (
    <p class="hint">
      This browser lets the screen go dark, and a dark screen pauses the sweep: set it to stay on.
    </p>
  ) : null;
}
