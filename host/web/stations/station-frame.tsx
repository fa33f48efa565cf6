import type { ComponentChildren, JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { Headline } from '../../job/stations';
import { STATION_WORDS, stationNumber } from './station-order';
import { isForSomethingElse } from '../parts/presses';

type StationFrameProps = {
  readonly headline: Headline;
  readonly isOpen: boolean;
  readonly onToggle: () => void;
  readonly children: ComponentChildren;
};

/** One station of the job sheet: a ruled line that states the finding, or, opened, the work itself. */
export function StationFrame({ headline, isOpen, onToggle, children }: StationFrameProps): JSX.Element {
  const { station, done } = headline;
  const section = useRef<HTMLElement>(null);
  const wasOpen = useRef(isOpen && station === 'check');
  useEffect(() => {
    if (isOpen && !wasOpen.current) section.current?.scrollIntoView({ block: 'start' });
    wasOpen.current = isOpen;
  }, [isOpen]);
  const bodyId = `station-${station}`;
  return (
    <section
      ref={section}
      class={`station ${isOpen ? 'station-open' : ''} ${done ? 'station-done' : ''}`}
      aria-labelledby={`${bodyId}-name`}
    >
      <h2 class="station-head">
        <button
          type="button"
          aria-expanded={isOpen}
          aria-controls={bodyId}
          onClick={(event) => (isForSomethingElse(event, event.currentTarget) ? undefined : onToggle())}
        >
          <span class="station-number" aria-hidden="true">
            {stationNumber(station)}
          </span>
          <span class="station-name" id={`${bodyId}-name`}>
            {STATION_WORDS[station]}
          </span>
          <span class="station-line">{headline.text}</span>
          <span class="station-tick">{done ? '\u2713 done' : isOpen ? 'now' : 'to do'}</span>
        </button>
      </h2>
      <div class="station-body" id={bodyId} hidden={!isOpen}>
        {isOpen ? children : null}
      </div>
    </section>
  );
}
