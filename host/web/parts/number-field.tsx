import type { JSX } from 'preact';
import { useId, useState } from 'preact/hooks';
import { typedNumber } from '../../core/typed-number';

export type NumberDraft = {
  readonly text: string;
  readonly setText: (text: string) => void;
  /** The number as understood; undefined while the field is empty or not a number. */
  readonly value: number | undefined;
  /** What is wrong, beside the field; what was typed stays. */
  readonly problem: string | undefined;
};

/** The text of a number field and what it is understood as. */
export function useNumberDraft(initial = ''): NumberDraft {
  const [text, setText] = useState(initial);
  if (text.trim() === '') return { text, setText, value: undefined, problem: undefined };
  const typed = typedNumber(text);
  return typed.kind === 'number'
    ? { text, setText, value: typed.value, problem: undefined }
    : { text, setText, value: undefined, problem: typed.message };
}

type NumberFieldProps = {
  readonly label: string;
  readonly draft: NumberDraft;
  readonly unit?: string | undefined;
  readonly hint?: string | undefined;
  readonly onEnter?: (() => void) | undefined;
};

/** A number typed the way people type numbers. */
export function NumberField({ label, draft, unit, hint, onEnter }: NumberFieldProps): JSX.Element {
  const id = useId();
  const describedBy = [
    hint === undefined ? '' : `${id}-hint`,
    draft.problem === undefined ? '' : `${id}-wrong`,
  ]
    .join(' ')
    .trim();
  return (
    <div class="field">
      <label for={id}>
        {label}
        {unit === undefined ? null : <span class="soft"> ({unit})</span>}
      </label>
      <input
        id={id}
        inputMode="decimal"
        autoComplete="off"
        maxLength={40}
        value={draft.text}
        aria-invalid={draft.problem === undefined ? undefined : 'true'}
        aria-describedby={describedBy === '' ? undefined : describedBy}
        onInput={(event) => draft.setText(event.currentTarget.value)}
        onKeyDown={(event) => {
          if (event.key === 'Enter' && onEnter !== undefined) {
            event.preventDefault();
            onEnter();
          }
        }}
      />
      {hint === undefined ? null : (
        <span class="hint" id={`${id}-hint`}>
          {hint}
        </span>
      )}
      {draft.problem === undefined ? null : (
        <span class="wrong" id={`${id}-wrong`} role="alert">
          {draft.problem}
        </span>
      )}
    </div>
  );
}
