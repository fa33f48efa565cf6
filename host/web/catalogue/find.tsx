import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import { ARC_UNIT } from '../../core/catalogue/arc-scale';
import type { CatalogueAsk, FoundInCatalogue } from '../../job/wire/catalogue-messages';
import type { Refusal } from '../../job/wire/job-messages';
import { holdsWords, LEFT_SHARE, leavesSentence, simulatedLeftOutHere } from '../../words/catalogue';
import type { App } from '../app';
import { findInCatalogue } from '../connection/http';
import { OldPage } from '../frame/old-page';
import { Panel } from '../frame/panel';
import { Choice } from '../parts/choice';
import { Fold } from '../parts/fold';
import { Note } from '../parts/note';
import { TextField } from '../parts/text-field';
import { shownUnit, QUANTITY_WORDS } from '../parts/words';
import { createSignal, useSignal } from '../signal';
import { addressOf } from './address';
import { Demo } from './demo';
import { FoundParts } from './found-parts';
import {
  askOf,
  begunRow,
  EMPTY_ROW,
  FIRST_DRAFT,
  typedUnit,
  withNext,
  type Draft,
  type Row,
} from './question';
import { roughOhm } from './rough-ohm';
import { ReadingRow } from './reading-row';

export { BringIn } from './bring-in';

/** Kept while the page lives: whoever looks at a model comes back to his readings. */
const kept = createSignal<Draft>(FIRST_DRAFT);

const KINDS = [
  { value: 'gauge', words: 'Gauge' },
  { value: 'sender', words: 'Sender' },
] as const;
const UNITS = ['degC', 'degF', 'bar', 'psi', 'kPa', '%', 'L'].map((value) => ({
  value,
  words: shownUnit(value),
}));
/** By the place of the needle, or by the figures that are printed. */
const READ_IN = [
  { value: ARC_UNIT, words: 'Place of the needle' },
  ...['degC', 'degF', 'bar', 'psi', 'kPa'].map((value) => ({ value, words: shownUnit(value) })),
  { value: '%', words: 'Percent or quarters' },
];
const QUANTITIES = [
  { value: 'any', words: 'Any' },
  ...(['temperature', 'fuel', 'pressure'] as const).map((value) => ({ value, words: QUANTITY_WORDS[value] })),
] as const;
/** While somebody types or drags nothing is asked. */
const PAUSE_MS = 200;

/** Finds a part that nobody knows by a few readings, or by words: a conversation, one reading at a time. */
export function Find({ app }: { readonly app: App }): JSX.Element {
  const draft = useSignal(kept);
  const change = (part: Partial<Draft>): void => kept.set({ ...kept.get(), ...part });
  const ask = askOf(draft);
  const [demos, setDemos] = useState(0);
  const answer = useAnswer(ask, demos);
  const found = answer?.kind === 'refused' ? undefined : answer;
  const left = found?.parts.filter(({ share }) => share !== undefined && share >= LEFT_SHARE).length ?? 0;
  const given = ask.points.length;
  return (
    <>
      <Panel
        title="Catalogue"
        {...(found === undefined ? {} : { whose: holdsWords(found.holds) })}
        lamp={<Jobs />}
      />
      <main class="wrap paper catalogue-find">
        <section class="stack" aria-label="What is known">
          <OldPage app={app} />
          <h2 class="lead">
            {given === 0 || found?.verdict === undefined
              ? `Which ${draft.kind} is this?`
              : leavesSentence(given, draft.kind, left)}
          </h2>
          <p class="hint">
            {draft.kind === 'gauge'
              ? 'Put any known ohms in place of the sender and put the needle where it sits on the dial.'
              : 'Give the ohms of the sender at a known temperature, level or pressure.'}
          </p>
          <Rows draft={draft} change={change} />
          <NextStep found={found} draft={draft} given={given} />
          <About draft={draft} change={change} leftOut={found?.leftOut ?? 0} />
        </section>
        <section class="stack" aria-label="What fits">
          {answer?.kind === 'refused' ? (
            <Note kind="wrong">
              <p>{answer.message}</p>
            </Note>
          ) : null}
          {found === undefined ? (
            <p class="soft">Looking.</p>
          ) : (
            <>
              <FoundParts found={found} ask={ask} />
              <p>
                <a href="#/catalogue/bring-in">Bring in curves you have: files, or a pasted table</a>
              </p>
              <Demo found={found} onDone={() => setDemos((count) => count + 1)} />
            </>
          )}
        </section>
      </main>
    </>
  );
}

const Jobs = (): JSX.Element => (
  <span class="bar-end">
    <a class="bar-link" href="#/">
      Jobs
    </a>
  </span>
);

/** The answer to what was asked last; an older one never comes over a newer. */
function useAnswer(ask: CatalogueAsk, again: number): FoundInCatalogue | Refusal | undefined {
  const [answer, setAnswer] = useState<FoundInCatalogue | Refusal | undefined>(undefined);
  const question = JSON.stringify(ask);
  const asked = useRef('');
  useEffect(() => {
    asked.current = question;
    const timer = setTimeout(() => {
      void findInCatalogue(question).then((got) => {
        if (asked.current === question) setAnswer(got.kind === 'answer' ? got.body : got);
      });
    }, PAUSE_MS);
    return () => clearTimeout(timer);
  }, [question, again]);
  return answer;
}

type PartProps = { readonly draft: Draft; readonly change: (part: Partial<Draft>) => void };

function Rows({ draft, change }: PartProps): JSX.Element {
  const { rows, kind } = draft;
  const put = (index: number, row: Row): void =>
    change({ rows: rows.map((each, at) => (at === index ? row : each)) });
  return (
    <div class="catalogue-rows">
      {rows.map((row, index) => (
        <ReadingRow
          key={index}
          number={index + 1}
          row={row}
          kind={kind}
          unit={typedUnit(draft)}
          onRow={(next) => put(index, next)}
          onRemove={
            rows.length < 2 ? undefined : () => change({ rows: rows.filter((_, at) => at !== index) })
          }
        />
      ))}
      <button
        type="button"
        class="button button-plain"
        onClick={() => change({ rows: [...rows, EMPTY_ROW] })}
      >
        Another reading
      </button>
    </div>
  );
}

type NextProps = {
  readonly found: FoundInCatalogue | undefined;
  readonly draft: Draft;
  readonly given: number;
};

/** The one thing to do next: give a reading, give the one that tells most, or look at what it is. */
function NextStep({ found, draft, given }: NextProps): JSX.Element {
  const [first] = found?.parts ?? [];
  const begun = begunRow(draft);
  if (begun !== undefined && given > 0)
    return (
      <div>
        <button type="button" class="button button-main" disabled>
          {typedUnit(draft) === undefined ? `Put the needle for ${begun.ohm} \u03a9` : 'Type the other half'}
        </button>
      </div>
    );
  const isOpenEnded = found?.verdict === 'open' && found.next === undefined;
  if (given === 0 || found?.verdict === undefined || isOpenEnded)
    return (
      <div>
        <button type="button" class="button button-main" disabled>
          {isOpenEnded
            ? 'Give another reading'
            : typedUnit(draft) === undefined
              ? 'Type ohms, put the needle'
              : 'Type ohms and value'}
        </button>
      </div>
    );
  if (found.verdict === 'clear' && first !== undefined)
    return (
      <div>
        <a class="button button-main" href={addressOf(first)}>
          Open {first.name}
        </a>
      </div>
    );
  const { next } = found;
  if (found.verdict === 'none' || next === undefined)
    return (
      <div>
        <a class="button button-main" href="#/new">
          Measure it: start a job
        </a>
      </div>
    );
  const at =
    draft.kind === 'gauge' ? roughOhm(next.at) : `${Number(next.at.toPrecision(3))} ${shownUnit(draft.unit)}`;
  return (
    <div>
      <button type="button" class="button button-main" onClick={() => kept.set(withNext(draft, next.at))}>
        Read it at {at} next
      </button>
    </div>
  );
}

/** What a person knows besides; closed, it says what was said. */
function About({ draft, change, leftOut }: PartProps & { readonly leftOut: number }): JSX.Element {
  const shows = draft.kind === 'sender' ? shownUnit(draft.unit) : (draft.quantity ?? 'any');
  const readIn = draft.kind === 'gauge' ? typedUnit(draft) : undefined;
  const said = [
    `${shows} ${draft.kind}`,
    ...(readIn === undefined ? [] : [`read in ${shownUnit(readIn)}`]),
    ...(draft.words === '' ? [] : [draft.words]),
  ].join(', ');
  return (
    <Fold line="What else is known of it" says={said}>
      <Choice label="Part" options={KINDS} chosen={draft.kind} onChoose={(kind) => change({ kind })} />
      {draft.kind === 'sender' ? (
        <Choice
          label="Unit of its values"
          options={UNITS}
          chosen={draft.unit}
          onChoose={(unit) => change({ unit })}
        />
      ) : (
        <>
          <Choice
            label="What it shows"
            options={QUANTITIES}
            chosen={draft.quantity ?? 'any'}
            onChoose={(quantity) =>
              change({ quantity: quantity === 'any' || quantity === 'other' ? undefined : quantity })
            }
          />
          <Choice
            label="How it is read"
            options={READ_IN}
            chosen={draft.readIn}
            onChoose={(readIn) => change({ readIn })}
          />
        </>
      )}
      <TextField
        label="In words"
        text={draft.words}
        onText={(words) => change({ words })}
        hint="Such as: 90 ohm full, 0 empty, two terminals, M14x1.5"
      />
      {leftOut === 0 && !draft.withSimulated ? null : (
        <label class="chip chip-left">
          <input
            type="checkbox"
            checked={draft.withSimulated}
            onChange={(event) => change({ withSimulated: event.currentTarget.checked })}
          />
          {simulatedLeftOutHere(leftOut, draft.withSimulated)}
        </label>
      )}
    </Fold>
  );
}
