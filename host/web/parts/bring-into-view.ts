import { useLayoutEffect, useRef } from 'preact/hooks';
import type { RefObject } from 'preact';

/** What begins lower than this part of the window does not strike the eye. */
const LOWEST_SHARE = 0.5;

/**
 * For a place whose work changes under the person's hands: each new piece of work is brought into sight, and gets the
 * focus when the control that had it is gone, so that the next thing to do is what is seen, spoken and reached next.
 */
export function useBringIntoView(key: string): RefObject<HTMLDivElement | null> {
  const place = useRef<HTMLDivElement>(null);
  const shown = useRef(key);
  useLayoutEffect(() => {
    const element = place.current;
    if (shown.current === key || element === null) return;
    shown.current = key;
    const { activeElement } = document;
    if (activeElement === null || activeElement === document.body || element.contains(activeElement))
      element.focus({ preventScroll: true });
    const { top } = element.getBoundingClientRect();
    const highest = Number.parseFloat(getComputedStyle(element).scrollMarginTop);
    if (top < highest || top > LOWEST_SHARE * innerHeight) element.scrollIntoView({ block: 'start' });
  }, [key]);
  return place;
}
