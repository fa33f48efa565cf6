import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { FoundInCatalogue } from '../../../job/wire/catalogue-messages';
import type { JobState } from '../../../job/state/state';
import { countedReadings } from '../../../job/state/views';
import { looksLikeWords } from '../../../words/catalogue';
import { findInCatalogue } from '../../connection/http';

/** With fewer readings too much is like too much. */
const FEWEST_READINGS = 3;
/** More than this say nothing new of which model it is. */
const MOST_READINGS = 40;

/** While somebody waits for the needle: which model of the catalogue this looks like. Says nothing where it knows none. */
export function LooksLikeLine({ state }: { readonly state: JobState }): JSX.Element | null {
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
  const said = points.length < FEWEST_READINGS ? undefined : looksLikeWords(found);
  return said === undefined ? null : <p class="hint looks-like">{said}</p>;
}
