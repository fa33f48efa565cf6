import type { JSX } from 'preact';
import { useId, useState } from 'preact/hooks';
import { typedIn } from '../../core/text/number';

/** For a draft that may be 0 but not less. */
export const FROM_ZERO = -1e-9;
const NOT_NEGATIVE = 'It must be 0 or more.';

export type NumberDraft = {
  readonly text: string;
  readonly setText: (text: string) => void;
  /** The number as understood; undefined while the field is empty or not a number. */
  readonly value: number | undefined;
  /** What is wrong, beside the field; what was typed stays. */
  readonly problem: string | undefined;
};

/**
 * The text of a number field and what it is understood as. With a unit, the unit may be typed behind it; what is not
 * above the least that makes sense is explained beside the field.
 */
export function useNumberDraft(initial = '', unit?: string, above = -Infinity): NumberDraft {
  const [text, setText] = useState(initial);
  if (text.trim() === '') return { text, setText, value: undefined, problem: undefined };
  const typed = typedIn(text, unit);
  if (typed.kind === 'refused') return { text, setText, value: undefined, problem: typed.message };
  return typed.value > above
    ? { text, setText, value: typed.value, problem: undefined }
    : {
        text,
        setText,
        value: undefined,
        problem: above < 0 ? NOT_NEGATIVE : `It must be more than ${above}.`,
      };
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
