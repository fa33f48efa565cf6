import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/schema/commands';
import type { FoundInCatalogue } from '../../../job/wire/catalogue-messages';
import type { JobState, Sweep } from '../../../job/state/state';
import { countedReadings } from '../../../job/state/views';
import { looksLikeWords, onShortWay, shortWayWords } from '../../../words/catalogue';
import { findInCatalogue } from '../../connection/http';

/** With fewer readings too much is like too much. */
const FEWEST_READINGS = 3;
/** More than this say nothing new of which model it is. */
const MOST_READINGS = 40;

export type LooksLikeProps = {
  readonly state: JobState;
  readonly sweep: Sweep;
  /** Whoever only watches is offered nothing. */
  readonly isReader: boolean;
  readonly send: (command: JobCommand) => void;
};

/**
 * While somebody waits for the needle: which model of the catalogue this looks like, and the short way that settles it.
 * Says nothing where it knows none.
 */
export function LooksLikeLine({ state, sweep, isReader, send }: LooksLikeProps): JSX.Element | null {
  const [found, setFound] = useState<FoundInCatalogue | undefined>(undefined);
  const points = countedReadings(state)
    .slice(-MOST_READINGS)
    .map(({ resistanceOhm, reading }) => ({ resistanceOhm, value: reading }));
  const { unit, quantity } = state.gauge;
  useEffect(() => {
    if (points.length < FEWEST_READINGS) return;
    let isOver = false;
    const ask = { kind: 'gauge', unit, quantity, points, words: '', withSimulated: state.simulated };
    void findInCatalogue(JSON.stringify(ask)).then((answer) => {
      if (!isOver && answer.kind === 'answer') setFound(answer.body);
    });
    return () => {
      isOver = true;
    };
  }, [points.length, unit, quantity]);
  if (sweep.short !== undefined) return <p class="hint looks-like">{onShortWay(sweep.short.looksLike)}</p>;
  const said = points.length < FEWEST_READINGS ? undefined : looksLikeWords(found);
  if (said === undefined || found === undefined) return null;
  const short = isReader ? shortWay(found, state, sweep) : undefined;
  return (
    <div class="looks-like">
      <p class="hint">{said}</p>
      {short === undefined ? null : (
        <>
          <button type="button" class="button" onClick={() => send(short)}>
            {shortWayWords(short.resistancesOhm).press}
          </button>
          <p class="hint">{shortWayWords(short.resistancesOhm).costs}</p>
        </>
      )}
    </div>
  );
}

type Shorten = Extract<JobCommand, { kind: 'shorten-sweep' }>;

/** The readings that would settle it, where the host takes them: of a box's steps, at ohms between those it goes to. */
function shortWay(found: FoundInCatalogue, state: JobState, sweep: Sweep): Shorten | undefined {
  const resistancesOhm = found.verdict === 'clear' ? [] : found.settleAt;
  const [first] = found.parts;
  const read = countedReadings(state).filter(({ sweepId }) => sweepId === sweep.sweepId);
  if (first === undefined || resistancesOhm === undefined || read.length < FEWEST_READINGS) return undefined;
  if (sweep.mode === 'seek' || sweep.hand !== undefined) return undefined;
  const least = Math.min(...read.map(({ resistanceOhm }) => resistanceOhm));
  const most = Math.max(sweep.fromOhm, sweep.toOhm);
  return resistancesOhm.every((ohm) => ohm >= least && ohm <= most)
    ? { kind: 'shorten-sweep', looksLike: first.name, resistancesOhm: [...resistancesOhm] }
    : undefined;
}
