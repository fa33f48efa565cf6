import type { ComponentChildren, JSX } from 'preact';
import { useId } from 'preact/hooks';
import type { Gauge } from '../../job/schema/gauge';
import type { StopEnd } from '../../job/schema/values';
import { COARSE_STEP, Dial, FINE_STEP } from '../dial/dial';
import { HIGHEST_FRACTION, LOWEST_FRACTION, heldBetweenStops, type DialFace } from '../dial/dial-geometry';
import { entryReading, turned, typedEntry, UNSET, type Entry } from './entry';
import { useSignal, type Signal } from '../signal';
import { Icon } from '../parts/icon';
import { shownReading, shownUnit } from '../parts/words';

export type ReadingEntryProps = {
  readonly gauge: Gauge;
  readonly face: DialFace;
  readonly entry: Signal<Entry>;
  readonly isReady: boolean;
  /** On the plate while nothing can be confirmed. */
  readonly waitWords?: string;
  /** A needle on its stop is no reading where an error is judged. */
  readonly canBeOnStop?: false;
  readonly onConfirm: () => void;
};

const NUDGES = [
  { spoken: 'Needle down a lot', step: -COARSE_STEP },
  { spoken: 'Needle down a hair', step: -FINE_STEP },
  { spoken: 'Needle up a hair', step: FINE_STEP },
  { spoken: 'Needle up a lot', step: COARSE_STEP },
] as const;

const UNSAID = 'Put the needle where yours stands';

const entryWords = (gauge: Gauge, entry: Entry): string => {
  if (entry.atStop !== undefined) return `on the ${entry.atStop} stop`;
  const reading = entryReading(gauge, entry);
  if (reading !== undefined) return shownReading(reading, gauge);
  return entry.problem === undefined ? 'not given yet' : 'not understood yet';
};

/** What the plate would put on the sheet, or what is missing first. */
const plateWords = (gauge: Gauge, entry: Entry): string => {
  if (entry.problem !== undefined) return 'Mend what is typed first';
  if (entry.stands !== 'now') return UNSAID;
  const really = entry.doubt === undefined ? '' : 'really ';
  return entry.atStop === undefined
    ? `It ${really}reads ${entryWords(gauge, entry)}`
    : `It ${really}is ${entryWords(gauge, entry)}`;
};

/** The keys confirm what was put there in this step, and nothing else. */
export const confirmNow = ({ entry, onConfirm }: Pick<ReadingEntryProps, 'entry' | 'onConfirm'>): void => {
  if (entry.get().stands === 'now') onConfirm();
};

/** The reading is given by dragging the drawn needle, by nudging it, by keys or by digits; and then confirmed. */
export const ReadingEntry = (props: ReadingEntryProps): JSX.Element => (
  <div class="entry">
    <ReadingDial {...props} />
    <ReadingHands {...props}>
      {props.canBeOnStop === false ? null : <StopButtons entry={props.entry} />}
    </ReadingHands>
  </div>
);

/** The drawn dial with the needle to be put where the real one stands. */
export function ReadingDial(props: ReadingEntryProps): JSX.Element {
  const entry = useSignal(props.entry);
  return (
    <Dial
      face={props.face}
      fraction={entry.fraction}
      label="Where the needle stands"
      valueText={entryWords(props.gauge, entry)}
      onTurn={(fraction) => props.entry.set(turned(fraction))}
      onConfirm={() => confirmNow(props)}
    />
  );
}

/** Everything to press: the value with its nudges, the plate, and what stands in `children`. */
export function ReadingHands(
  props: ReadingEntryProps & { readonly children?: ComponentChildren },
): JSX.Element {
  const { gauge, entry: signal, isReady, onConfirm } = props;
  const entry = useSignal(signal);
  const isGiven = entry.stands === 'now' && entryReading(gauge, entry) !== undefined;
  const isUnmoved = isReady && entry.stands === 'before' && entry.problem === undefined;
  return (
    <div class="hands">
      <div class="value-row">
        {NUDGES.slice(0, 2).map((nudge) => (
          <Nudge key={nudge.step} {...nudge} entry={signal} />
        ))}
        <TypedReading {...props} />
        {NUDGES.slice(2).map((nudge) => (
          <Nudge key={nudge.step} {...nudge} entry={signal} />
        ))}
      </div>
      {entry.doubt === undefined ? null : (
        <p class="wrong" role="alert">
          {entry.doubt.words}
        </p>
      )}
      <div class="plate-row">
        {isUnmoved ? (
          <button type="button" class="button" onClick={onConfirm}>
            It has not moved: {entryWords(gauge, entry)}
          </button>
        ) : null}
        <button
          type="button"
          class="button button-main button-wide"
          disabled={!isReady || !isGiven}
          onClick={onConfirm}
        >
          {isReady ? plateWords(gauge, entry) : (props.waitWords ?? 'Wait for the needle')}
        </button>
      </div>
      {props.children}
    </div>
  );
}

function Nudge(props: {
  readonly spoken: string;
  readonly step: number;
  readonly entry: Signal<Entry>;
}): JSX.Element {
  const { step, entry } = props;
  const way = step < 0 ? 'left' : 'right';
  return (
    <button
      type="button"
      class="button nudge"
      aria-label={props.spoken}
      onClick={() => entry.set(turned(heldBetweenStops(entry.get().fraction + step)))}
    >
      <Icon of={way} />
      {Math.abs(step) === COARSE_STEP ? <Icon of={way} /> : null}
    </button>
  );
}

/** The value itself is the field that digits are typed into. */
function TypedReading(props: ReadingEntryProps): JSX.Element {
  const { gauge } = props;
  const entry = useSignal(props.entry);
  const id = useId();
  const isSaid = entry.problem === undefined && entry.stands !== 'unset';
  const reading = entryWords(gauge, entry).replace(` ${shownUnit(gauge.unit)}`, '');
  return (
    <div class="value">
      <input
        id={id}
        class={isSaid && entry.stands === 'now' ? '' : 'value-old'}
        inputMode="decimal"
        autoComplete="off"
        maxLength={40}
        value={entry.typed}
        placeholder={isSaid && entry.atStop === undefined ? reading : '\u2013'}
        aria-invalid={entry.problem === undefined ? undefined : 'true'}
        aria-describedby={entry.problem === undefined ? undefined : `${id}-wrong`}
        onInput={(event) => props.entry.set(typedEntry(gauge, props.entry.get(), event.currentTarget.value))}
        onKeyDown={(event) => {
          if (event.key === 'Enter') confirmNow(props);
        }}
      />
      <label for={id}>or type it ({shownUnit(gauge.unit)})</label>
      {entry.problem === undefined ? null : (
        <span class="wrong" id={`${id}-wrong`} role="alert">
          {entry.problem}
        </span>
      )}
    </div>
  );
}

/** The needle rests on a stop: how far it wanted to go is not known. */
export function StopButtons({ entry: signal }: { readonly entry: Signal<Entry> }): JSX.Element {
  const entry = useSignal(signal);
  const put = (atStop: StopEnd): void => {
    const fraction = atStop === 'low' ? LOWEST_FRACTION : HIGHEST_FRACTION;
    signal.set(entry.atStop === atStop ? UNSET : { ...turned(fraction), atStop });
  };
  return (
    <div class="lesser" role="group" aria-label="Needle on the stop?">
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
  );
}
