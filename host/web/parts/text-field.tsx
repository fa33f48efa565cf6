import type { JSX } from 'preact';
import { useId } from 'preact/hooks';

type TextFieldProps = {
  readonly label: string;
  readonly text: string;
  readonly onText: (text: string) => void;
  readonly hint?: string;
  /** At least so many lines; it grows with what is typed. */
  readonly rows?: number;
  /** Most characters of several lines. A browser cuts off what is pasted beyond them. */
  readonly longest?: number;
  readonly suggestions?: readonly string[];
};

/** A table that somebody pasted does not push the rest of the page away. */
const MOST_ROWS = 16;

export function TextField({
  label,
  text,
  onText,
  hint,
  rows,
  longest,
  suggestions,
}: TextFieldProps): JSX.Element {
  const id = useId();
  const described = hint === undefined ? undefined : `${id}-hint`;
  return (
    <div class="field">
      <label for={id}>{label}</label>
      {rows === undefined ? (
        <input
          id={id}
          value={text}
          maxLength={200}
          autoComplete="off"
          aria-describedby={described}
          list={suggestions === undefined ? undefined : `${id}-list`}
          onInput={(event) => onText(event.currentTarget.value)}
        />
      ) : (
        <textarea
          id={id}
          rows={Math.max(rows, Math.min(MOST_ROWS, text.split('\n').length))}
          maxLength={longest ?? 40_000}
          value={text}
          aria-describedby={described}
          onInput={(event) => onText(event.currentTarget.value)}
        />
      )}
      {suggestions === undefined ? null : (
        <datalist id={`${id}-list`}>
          {suggestions.map((each) => (
            <option key={each} value={each} />
          ))}
        </datalist>
      )}
      {hint === undefined ? null : (
        <span class="hint" id={`${id}-hint`}>
          {hint}
        </span>
      )}
    </div>
  );
}
