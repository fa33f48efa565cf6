import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import { unitsLike } from '../../core/units';
import type { JobState } from '../../job/state/state';
import type { JobConnection } from '../connection/job-connection';
import type { Entry } from '../entry/entry';
import type { Signal } from '../signal';
import { shownUnit } from '../parts/words';

/** The unit everything on the sheet is shown and typed in. What is kept stays in the dial's own. */
export function UnitChoice(props: {
  readonly job: JobConnection;
  readonly state: JobState;
  readonly entries: readonly Signal<Entry>[];
}): JSX.Element | null {
  const { job, state, entries } = props;
  const own = (state.printed ?? state.gauge).unit;
  const now = state.gauge.unit;
  // Two names of one unit (L, litre) are one choice.
  // Digits typed in one unit must not be read in another; the needle stays where it was put.
  useEffect(() => {
    for (const entry of entries) {
      const held = entry.get();
      if (held.typed !== '') entry.set({ ...held, typed: '', problem: undefined });
    }
  }, [now]);
  const units = unitsLike(own).filter(
    (unit, index, all) =>
      unit === now || all.findIndex((each) => shownUnit(each) === shownUnit(unit)) === index,
  );
  if (units.length < 2) return null;
  return (
    <label class="unit-choice screen-only">
      shown in{' '}
      <select
        value={now}
        onChange={(event) => void job.send({ kind: 'change-job', shownUnit: event.currentTarget.value })}
      >
        {units.map((unit) => (
          <option key={unit} value={unit}>
            {shownUnit(unit)}
          </option>
        ))}
      </select>
      {now === own ? null : ` (the dial is printed in ${shownUnit(own)})`}
    </label>
  );
}
