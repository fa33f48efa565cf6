import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { MOST_TABLE_BYTES } from '../../core/text/file-text';
import { tableCardWords, tablesWords } from '../../words/catalogue';
import { asSentence } from '../../words/sentence';
import type { App } from '../app';
import { OldPage } from '../frame/old-page';
import { Panel } from '../frame/panel';
import { FilePick, oneByOne } from '../parts/file-pick';
import { Fold } from '../parts/fold';
import { Note } from '../parts/note';
import { TextField } from '../parts/text-field';
import { useTableSheets, type KeptCard, type ReadSheet } from './table-sheets';
import { Understood } from './understood';
import { Ways } from './ways';

/** Curves that somebody has already, pasted or out of files; shown as understood before they are kept. */
export function BringIn({ app }: { readonly app: App }): JSX.Element {
  const { read, kept, wrong, isBusy, addFile, change, keep } = useTableSheets();
  const [pasted, ...files] = read;
  return (
    <>
      <Panel title="Catalogue" lamp={<Ways />} />
      <main
        class="wrap paper stack"
        onDragOver={(event) => event.preventDefault()}
        onDrop={(event) => {
          event.preventDefault();
          void oneByOne([...(event.dataTransfer?.files ?? [])], addFile);
        }}
      >
        <OldPage app={app} />
        <h2 class="lead">Bring in the curves you have</h2>
        <p class="hint">
          A gauge: ohms, and what its needle showed there. A sender: its values and ohms. Several curves may
          stand below each other, each under a heading of its own.
        </p>
        <FilePick many onFile={addFile} />
        {pasted === undefined ? null : (
          <>
            <TextField
              label="or paste a table, one pair a line"
              rows={6}
              longest={MOST_TABLE_BYTES}
              text={pasted.sheet.text}
              onText={(text) => change(pasted.sheet.id, text)}
              hint="First line: resistance_ohm, reading_C. Or reading_percent, reading_psi; of a sender temperature_C, level_percent."
            />
            <Understood taken={pasted.taken} />
          </>
        )}
        {files.map((each) => (
          <FileSheet key={each.sheet.id} of={each} onText={(text) => change(each.sheet.id, text)} />
        ))}
        {wrong === undefined ? null : (
          <Note kind="wrong">
            <p>{asSentence(wrong)}</p>
          </Note>
        )}
        <Keep read={read} isBusy={isBusy} onKeep={keep} />
        <Kept cards={kept} isMending={read.some(({ sheet }) => sheet.replaces !== undefined)} />
      </main>
    </>
  );
}

type KeepProps = {
  readonly read: readonly ReadSheet[];
  readonly isBusy: boolean;
  readonly onKeep: (model: string) => Promise<void>;
};

/** Keeps everything that was understood, in one action. */
function Keep({ read, isBusy, onKeep }: KeepProps): JSX.Element {
  const [model, setModel] = useState('');
  const taken = read.flatMap((each) => each.taken ?? []);
  const cards = taken.flatMap((each) => each.cards);
  const fresh = cards.filter((card) => card.new).length;
  const leftOut = taken.reduce((sum, { leftOutCount }) => sum + leftOutCount, 0);
  const words =
    fresh > 0
      ? `Keep ${tablesWords(fresh, leftOut)}`
      : cards.length > 0
        ? 'All of it is kept'
        : 'Paste or pick a table';
  return (
    <>
      <div>
        <button
          type="button"
          class="button button-main"
          disabled={fresh === 0 || isBusy}
          onClick={() => void onKeep(model.trim())}
        >
          {words}
        </button>
        <p class="hint">They stay on this machine, marked private.</p>
      </div>
      <Fold line="All of one model" says={model.trim() === '' ? 'not said' : model}>
        <TextField label="Model, as you would look for it" text={model} onText={setModel} />
      </Fold>
    </>
  );
}

type FileSheetProps = { readonly of: ReadSheet; readonly onText: (text: string) => void };

function FileSheet({ of: { sheet, taken }, onText }: FileSheetProps): JSX.Element {
  const says = taken === undefined ? 'looking' : tablesWords(taken.cards.length, taken.leftOutCount);
  const from = sheet.from ?? '';
  return (
    <Fold line={from} says={says} open={(taken?.leftOutCount ?? 0) > 0}>
      <TextField
        label={`What ${from} holds`}
        rows={4}
        longest={MOST_TABLE_BYTES}
        text={sheet.text}
        onText={onText}
      />
      <Understood taken={taken} />
    </Fold>
  );
}

type KeptProps = { readonly cards: readonly KeptCard[]; readonly isMending: boolean };

function Kept({ cards, isMending }: KeptProps): JSX.Element | null {
  if (cards.length === 0) return null;
  return (
    <section class="stack" aria-label="Kept">
      <Note kind="good">
        <ul>
          {cards.map((card, index) => (
            <li key={index}>
              {card.id === undefined ? (
                tableCardWords(card)
              ) : (
                <a href={`#/catalogue/card/${card.id}`}>{tableCardWords(card)}</a>
              )}
            </li>
          ))}
        </ul>
      </Note>
      {isMending ? (
        <p class="hint">
          Rows that were left out are still above. Mend them and keep the table again: its card takes the
          place of this one.
        </p>
      ) : null}
    </section>
  );
}
