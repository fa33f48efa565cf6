import type { JSX } from 'preact';
import { useId } from 'preact/hooks';
import type { Gauge } from '../../job/schema/gauge';
import type { StopEnd } from '../../job/schema/values';
import { COARSE_STEP, Dial, FINE_STEP } from '../dial/dial';
import { HIGHEST_FRACTION, LOWEST_FRACTION, heldBetweenStops, type DialFace } from '../dial/dial-geometry';
import { entryReading, turned, typedEntry, UNSET, type Entry } from './entry';
import { useSignal, type Signal } from '../signal';
import { shownReading, shownUnit } from '../parts/words';

type ReadingEntryProps = {
  readonly gauge: Gauge;
  readonly face: DialFace;
  readonly entry: Signal<Entry>;
  readonly ghostFraction: number | undefined;
  readonly isReady: boolean;
  /** On the button while nothing can be confirmed. */
  readonly waitWords?: string;
  /** A needle on its stop is no reading where an error is judged. */
  readonly canBeOnStop?: false;
  readonly onConfirm: () => void;
};

const NUDGES = [
  { words: '\u2212\u2212', spoken: 'Needle down a lot', step: -COARSE_STEP },
  { words: '\u2212', spoken: 'Needle down a hair', step: -FINE_STEP },
  { words: '+', spoken: 'Needle up a hair', step: FINE_STEP },
  { words: '++', spoken: 'Needle up a lot', step: COARSE_STEP },
] as const;

const entryWords = (gauge: Gauge, entry: Entry): string => {
  if (entry.atStop !== undefined) return `on the ${entry.atStop} stop`;
  const reading = entryReading(gauge, entry);
  if (reading !== undefined) return shownReading(reading, gauge);
  return entry.problem === undefined ? 'not given yet' : 'not understood yet';
};

/** What the button would put on the sheet, or what is missing first. */
const confirmWords = (gauge: Gauge, entry: Entry): string => {
  const words = entryWords(gauge, entry);
  if (entry.problem !== undefined) return 'Confirm once it is understood';
  if (entry.stands === 'unset') return 'Confirm once the needle is put where it stands';
  return entry.stands === 'before' ? `Confirm no change: ${words}` : `Confirm ${words}`;
};

/** The reading is given by dragging the drawn needle, by nudging it, by keys or by digits; and then confirmed. */
export function ReadingEntry(props: ReadingEntryProps): JSX.Element {
  const { gauge, entry: signal, isReady } = props;
  const entry = useSignal(signal);
  const words = entryWords(gauge, entry);
  const isGiven = entryReading(gauge, entry) !== undefined;
  return (
    <div class="entry">
      <Dial
        face={props.face}
        fraction={entry.fraction}
        ghostFraction={props.ghostFraction}
        label="Where the needle stands"
        valueText={words}
        onTurn={(fraction) => signal.set(turned(fraction))}
        onConfirm={props.onConfirm}
      />
      <p class="reading-now">{words}</p>
      <button
        type="button"
        class="button button-main button-wide"
        disabled={!isReady || !isGiven}
        onClick={props.onConfirm}
      >
        {isReady ? confirmWords(gauge, entry) : (props.waitWords ?? 'Wait for the needle')}
      </button>
      <div class="nudges">
        {NUDGES.map((nudge) => (
          <button
            key={nudge.words}
            type="button"
            class="button"
            aria-label={nudge.spoken}
            onClick={() => signal.set(turned(heldBetweenStops(signal.get().fraction + nudge.step)))}
          >
            {nudge.words}
          </button>
        ))}
      </div>
      <div class="row">
        <TypedReading gauge={gauge} entry={signal} onConfirm={props.onConfirm} />
        {props.canBeOnStop === false ? null : <StopButtons entry={signal} />}
      </div>
    </div>
  );
}

function TypedReading(props: Pick<ReadingEntryProps, 'gauge' | 'entry' | 'onConfirm'>): JSX.Element {
  const entry = useSignal(props.entry);
  const id = useId();
  return (
    <div class="field">
      <label for={id}>or type it ({shownUnit(props.gauge.unit)})</label>
      <input
        id={id}
        inputMode="decimal"
        autoComplete="off"
        maxLength={40}
        value={entry.typed}
        aria-invalid={entry.problem === undefined ? undefined : 'true'}
        aria-describedby={entry.problem === undefined ? undefined : `${id}-wrong`}
        onInput={(event) =>
          props.entry.set(typedEntry(props.gauge, props.entry.get(), event.currentTarget.value))
        }
        onKeyDown={(event) => {
          if (event.key === 'Enter') props.onConfirm();
        }}
      />
      {entry.problem === undefined ? null : (
        <span class="wrong" id={`${id}-wrong`} role="alert">
          {entry.problem}
        </span>
      )}
    </div>
  );
}

function StopButtons({ entry: signal }: { readonly entry: Signal<Entry> }): JSX.Element {
  const entry = useSignal(signal);
  const put = (atStop: StopEnd): void => {
    const fraction = atStop === 'low' ? LOWEST_FRACTION : HIGHEST_FRACTION;
    signal.set(entry.atStop === atStop ? UNSET : { ...turned(fraction), atStop });
  };
  return (
    <fieldset>
      <legend>Needle on the stop?</legend>
      <div class="chips">
        {(['low', 'high'] as const).map((end) => (
          <button
            key={end}
            type="button"
            class="chip"
            aria-pressed={entry.atStop === end}
            onClick={() => put(end)}
          >
            {end === 'low' ? 'Low stop' : 'High stop'}
          </button>
        ))}
      </div>
    </fieldset>
  );
}
