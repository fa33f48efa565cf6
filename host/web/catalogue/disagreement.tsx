import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { CurvesDisagree, SaidOfCard } from '../../job/wire/catalogue-messages';
import { printed } from '../../words/notation';
import { afterDisagreement, disagreeWords } from '../../words/two-curves';
import { Note } from '../parts/note';
import { TextField } from '../parts/text-field';

type DisagreementProps = {
  readonly found: CurvesDisagree;
  /** What a card is called on this sheet. */
  readonly named: (id: string) => string;
  /** Answers what was wrong with it. */
  readonly say: (said: SaidOfCard) => Promise<string | undefined>;
};

/** Two curves of one part that contradict each other: where, by how much, and the ways out of it. */
export function Disagreement({ found, named, say }: DisagreementProps): JSX.Element {
  const [older, newer] = found.cards;
  const [why, setWhy] = useState('');
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const reason = why.trim();
  const act = async (said: SaidOfCard): Promise<void> => setTrouble(await say(said));
  const ways: readonly (readonly [words: string, said: SaidOfCard])[] = [
    [`Withdraw ${named(older)}`, { says: 'withdrawn', card: older, reason }],
    [`Withdraw ${named(newer)}`, { says: 'withdrawn', card: newer, reason }],
    [`${named(newer)} replaces ${named(older)}`, { says: 'replaced', card: older, by: newer, reason }],
    ['They are two parts', { says: 'apart', card: newer }],
  ];
  return (
    <section class="stack" aria-label="Two curves of one part disagree">
      <Note kind="wrong">
        <p>{disagreeWords(found, named, printed)}</p>
        <p>{afterDisagreement(found, printed)}</p>
      </Note>
      <div class="screen-only stack">
        <TextField
          label="Why a curve is withdrawn or replaced"
          text={why}
          onText={setWhy}
          hint="Needed before one is withdrawn or replaced. It stays readable with its reason."
        />
        <div class="lesser">
          {ways.map(([words, said]) => (
            <button
              key={words}
              type="button"
              class="button"
              disabled={said.says !== 'apart' && reason === ''}
              onClick={() => void act(said)}
            >
              {words}
            </button>
          ))}
        </div>
        {trouble === undefined ? null : <p class="wrong">{trouble}</p>}
      </div>
    </section>
  );
}
