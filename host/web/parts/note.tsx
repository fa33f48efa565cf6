import type { ComponentChildren, JSX } from 'preact';
import { Icon, type IconName } from './icon';

type NoteKind = 'plain' | 'wrong' | 'good';
const WORDS: Readonly<Record<NoteKind, string>> = {
  plain: '',
  wrong: 'Look here',
  good: 'Good',
};
const SIGNS: Readonly<Record<NoteKind, IconName | undefined>> = {
  plain: undefined,
  wrong: 'bad',
  good: 'good',
};

/** What is said beside the work; its kind is told by a sign and a word as well as by colour. */
export function Note(props: {
  readonly kind: NoteKind;
  readonly word?: string;
  readonly children: ComponentChildren;
}): JSX.Element {
  const word = props.word ?? WORDS[props.kind];
  const sign = SIGNS[props.kind];
  return (
    <div class={`note note-${props.kind}`} role={props.kind === 'wrong' ? 'alert' : undefined}>
      {word === '' ? null : (
        <span class="note-word">
          {sign === undefined ? null : <Icon of={sign} />}
          {word}
        </span>
      )}
      {props.children}
    </div>
  );
}
