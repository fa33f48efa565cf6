import type { ComponentChildren, JSX } from 'preact';

type NoteKind = 'plain' | 'caution' | 'wrong' | 'good';
const WORDS: Readonly<Record<NoteKind, string>> = {
  plain: '',
  caution: 'Caution',
  wrong: 'Look here',
  good: 'Good',
};

/** A boxed remark; its kind is told by a word as well as by colour. */
export function Note(props: {
  readonly kind: NoteKind;
  readonly word?: string;
  readonly children: ComponentChildren;
}): JSX.Element {
  const word = props.word ?? WORDS[props.kind];
  return (
    <div class={`note note-${props.kind}`} role={props.kind === 'wrong' ? 'alert' : undefined}>
      {word === '' ? null : <span class="note-word">{word}</span>}
      {props.children}
    </div>
  );
}
