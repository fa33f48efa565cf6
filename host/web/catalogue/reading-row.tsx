import type { JSX } from 'preact';
import { useId } from 'preact/hooks';
import { shownUnit } from '../parts/words';
import { NeedleStrip } from './needle-strip';
import { problemOf, type Row } from './question';

type RowProps = {
  /** From 1. */
  readonly number: number;
  readonly row: Row;
  readonly kind: 'gauge' | 'sender';
  /** Of typed values; undefined where the needle is put on a strip. */
  readonly unit: string | undefined;
  readonly onRow: (row: Row) => void;
  readonly onRemove: (() => void) | undefined;
};

/** Ohms, and what was seen there: the needle of a gauge, the value of a sender. */
export function ReadingRow({ number, row, kind, unit, onRow, onRemove }: RowProps): JSX.Element {
  return (
    <div class="catalogue-row" role="group" aria-label={`Reading ${number}`}>
      <TypedNumber label={'Ohms'} unit="ohm" text={row.ohm} onText={(ohm) => onRow({ ...row, ohm })} />
      {unit === undefined ? (
        <div class="field">
          <span class="label">Where the needle sits</span>
          <NeedleStrip
            label={`Where the needle sits at reading ${number}`}
            place={row.place}
            onPlace={(place) => onRow({ ...row, place })}
          />
        </div>
      ) : (
        <TypedNumber
          label={kind === 'gauge' ? `Needle at, ${shownUnit(unit)}` : shownUnit(unit)}
          unit={unit}
          text={row.value}
          onText={(value) => onRow({ ...row, value })}
        />
      )}
      {onRemove === undefined ? null : (
        <button
          type="button"
          class="button button-plain"
          aria-label={`Remove reading ${number}`}
          onClick={onRemove}
        >
          {'\u00d7'}
        </button>
      )}
    </div>
  );
}

type TypedProps = {
  readonly label: string;
  readonly unit: string;
  readonly text: string;
  readonly onText: (text: string) => void;
};

function TypedNumber({ label, unit, text, onText }: TypedProps): JSX.Element {
  const id = useId();
  const problem = problemOf(text, unit);
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        inputMode="decimal"
        autoComplete="off"
        maxLength={40}
        value={text}
        aria-invalid={problem === undefined ? undefined : 'true'}
        aria-describedby={problem === undefined ? undefined : `${id}-wrong`}
        onInput={(event) => onText(event.currentTarget.value)}
      />
      {problem === undefined ? null : (
        <span class="wrong" id={`${id}-wrong`} role="alert">
          {problem}
        </span>
      )}
    </div>
  );
}
