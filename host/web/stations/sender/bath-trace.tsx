import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { SenderWatchLive } from '../../../job/wire/job-messages';
import { LiveTrace, type TraceSample } from '../../plot/live-trace';
import { shownOhm } from '../../parts/words';

const MS_PER_SECOND = 1000;
/** What lies further back says nothing of whether it stands still now. */
const LONGEST_SECONDS = 600;
const FEWEST_SAMPLES = 3;

/** The last minutes of what the box measures: one sees whether it still moves. Each measurement is one sample. */
export function BathTrace({ watch }: { readonly watch: SenderWatchLive }): JSX.Element | null {
  const [samples, setSamples] = useState<readonly TraceSample[]>([]);
  const startedAt = useRef(performance.now());
  const { measureId, resistanceOhm } = watch;
  useEffect(() => {
    if (resistanceOhm === undefined) return;
    const second = (performance.now() - startedAt.current) / MS_PER_SECOND;
    setSamples((before) => [
      ...before.filter((sample) => second - sample.second < LONGEST_SECONDS),
      { second, value: resistanceOhm },
    ]);
  }, [measureId]);
  const last = samples.at(-1);
  if (last === undefined || samples.length < FEWEST_SAMPLES) return null;
  return <LiveTrace samples={samples} label={`Ohms over the last minutes, now ${shownOhm(last.value)}`} />;
}
