import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { typedNumber } from '../../core/text/number';

type CellProps<Value> = {
  readonly name: string;
  readonly value: Value;
  readonly onValue: (value: Value) => void;
};

/** Keeps what was typed until it is a number; then the dial beside it follows. */
export function CellNumber({ name, value, onValue }: CellProps<number>): JSX.Element {
  const [typed, setTyped] = useState<string | undefined>(undefined);
  const isWrong = typed !== undefined && typedNumber(typed).kind === 'refused';
  return (
    <input
      class="bare"
      inputMode="decimal"
      aria-label={name}
      aria-invalid={isWrong ? 'true' : undefined}
      value={typed ?? String(value)}
      onInput={(event) => {
        const text = event.currentTarget.value;
        setTyped(text);
        const result = typedNumber(text);
        if (result.kind === 'number') onValue(result.value);
      }}
      onBlur={() => {
        if (!isWrong) setTyped(undefined);
      }}
    />
  );
}

const LONGEST_LABEL = 20;

/** A label may be empty while it is being typed, never after. */
export function CellText({ name, value, onValue }: CellProps<string>): JSX.Element {
  const [typed, setTyped] = useState<string | undefined>(undefined);
  return (
    <input
      class="bare"
      aria-label={name}
      value={typed ?? value}
      maxLength={LONGEST_LABEL}
      onInput={(event) => {
        const text = event.currentTarget.value;
        setTyped(text);
        if (text.trim() !== '') onValue(text.trim());
      }}
      onBlur={() => setTyped(undefined)}
    />
  );
}
