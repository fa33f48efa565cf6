import type { JSX } from 'preact';
import { useId } from 'preact/hooks';

export type Option<Value extends string> = { readonly value: Value; readonly words: string };

type ChoiceProps<Value extends string> = {
  readonly label: string;
  readonly options: readonly Option<Value>[];
  readonly chosen: Value | undefined;
  readonly onChoose: (value: Value) => void;
};

/** One of a few: real radio buttons, drawn as tick boxes of a form that a thumb can hit. */
export function Choice<Value extends string>(props: ChoiceProps<Value>): JSX.Element {
  const group = useId();
  return (
    <fieldset>
      <legend>{props.label}</legend>
      <div class="chips">
        {props.options.map((option) => (
          <label key={option.value} class="chip">
            <input
              type="radio"
              name={group}
              value={option.value}
              checked={option.value === props.chosen}
              onChange={() => props.onChoose(option.value)}
            />
            {option.words}
          </label>
        ))}
      </div>
    </fieldset>
  );
}

type PickProps<Value extends string> = ChoiceProps<Value>;

/** One of many: a list that drops down. */
export function Pick<Value extends string>(props: PickProps<Value>): JSX.Element {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{props.label}</label>
      <select
        id={id}
        value={props.chosen}
        onChange={(event) => {
          const found = props.options.find((option) => option.value === event.currentTarget.value);
          if (found !== undefined) props.onChoose(found.value);
        }}
      >
        {props.options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.words}
          </option>
        ))}
      </select>
    </div>
  );
}
