import type { RefObject } from 'preact';
import { useLayoutEffect, useState } from 'preact/hooks';

const ORDINARY_TYPE_PIXEL = 16;

/** Width of a frame and how large type is set; undefined until it is laid out. */
export type Measured = { readonly width: number; readonly typeFactor: number };

/** Follows the width of a frame, so that what is drawn in it is drawn for that width. */
export function useWidth(frame: RefObject<HTMLElement | null>): Measured | undefined {
  const [measured, setMeasured] = useState<Measured | undefined>(undefined);
  useLayoutEffect(() => {
    const host = frame.current;
    if (host === null) return undefined;
    const measure = (): void => {
      const width = Math.floor(host.clientWidth);
      const type = parseFloat(getComputedStyle(document.documentElement).fontSize);
      const typeFactor = Math.max(1, type / ORDINARY_TYPE_PIXEL);
      if (width === 0) return;
      setMeasured((before) =>
        before?.width === width && before.typeFactor === typeFactor ? before : { width, typeFactor },
      );
    };
    measure();
    const size = new ResizeObserver(measure);
    size.observe(host);
    return () => size.disconnect();
  }, []);
  return measured;
}
