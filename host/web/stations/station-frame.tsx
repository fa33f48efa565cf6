import type { ComponentChildren, JSX } from 'preact';
import { useLayoutEffect, useRef } from 'preact/hooks';
import type { Station } from '../../job/stations';
import { STATION_WORDS } from './station-order';

type StationFrameProps = { readonly station: Station; readonly children: ComponentChildren };

/** The one station that is shown. Another one begins at its top, and takes the focus of a control that is gone. */
export function StationFrame({ station, children }: StationFrameProps): JSX.Element {
  const section = useRef<HTMLElement>(null);
  const before = useRef(station);
  useLayoutEffect(() => {
    if (before.current === station) return;
    before.current = station;
    scrollTo(0, 0);
    const { activeElement } = document;
    if (activeElement === null || activeElement === document.body)
      section.current?.focus({ preventScroll: true });
  }, [station]);
  return (
    <section
      ref={section}
      class="station"
      id={`station-${station}`}
      tabIndex={-1}
      aria-labelledby="station-name"
    >
      <h2 class="unseen" id="station-name">
        {STATION_WORDS[station]}
      </h2>
      {children}
    </section>
  );
}
