import { useEffect, useState } from 'preact/hooks';
import { holdScreen, type ScreenOn } from './screen-lock';

/** Keeps the screen on while the page asks and waits; whether that could be had. */
export function useScreenOn(): ScreenOn {
  const [state, setState] = useState<ScreenOn>('asked');
  useEffect(
    () => holdScreen('wakeLock' in navigator ? navigator.wakeLock : undefined, document, setState),
    [],
  );
  return state;
}
