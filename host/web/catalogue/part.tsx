import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { PartInCatalogue, SaidOfCard } from '../../job/wire/catalogue-messages';
import type { Refusal } from '../../job/wire/job-messages';
import { notOneModelWords, partWords, simulatedLeftOutHere, specimensWords } from '../../words/catalogue';
import type { App } from '../app';
import { partInCatalogue, sayOfCard, sendersForPart } from '../connection/http';
import { OldPage } from '../frame/old-page';
import { Panel } from '../frame/panel';
import { Note } from '../parts/note';
import { SuitedSenders } from '../parts/suited-senders';
import { Verdict } from '../parts/verdict';
import { modelAddress } from './address';
import { Disagreement } from './disagreement';
import { gaugeOf } from './gauge-of';
import { lettered } from '../../scene/part-question';
import { PartPlots } from './part-plots';
import { MarksTable, SpecimensTable } from './part-tables';
import { Ways } from './ways';

export type PartProps = { readonly app: App; readonly part: 'model' | 'card'; readonly name: string };

/** A model with all its specimens, or one card: what the next one will do, and how well that is known. */
export function Part({ app, part, name }: PartProps): JSX.Element {
  const [withSimulated, setWithSimulated] = useState(false);
  const [answer, setAnswer] = useState<PartInCatalogue | Refusal | undefined>(undefined);
  useEffect(() => {
    let isOver = false;
    void partInCatalogue({ kind: part, name }, withSimulated).then((got) => {
      if (!isOver) setAnswer(got.kind === 'answer' ? got.body : got);
    });
    return () => {
      isOver = true;
    };
  }, [part, name, withSimulated]);
  const say = async (said: SaidOfCard): Promise<string | undefined> => {
    const got = await sayOfCard({ kind: part, name }, withSimulated, said);
    if (got.kind === 'refused') return got.message;
    setAnswer(got.body);
    return undefined;
  };
  return (
    <>
      <Panel title="Catalogue" lamp={<Ways />} />
      <main class="wrap paper stack">
        <OldPage app={app} />
        {answer === undefined ? <p class="soft">Looking.</p> : null}
        {answer?.kind === 'refused' ? <NotThere refusal={answer} /> : null}
        {answer?.kind === 'part-in-catalogue' ? (
          <>
            <PartSheet app={app} part={answer} say={say} />
            {answer.part === 'gauge' ? (
              <SuitedSenders
                key={String(withSimulated)}
                ask={() => sendersForPart({ kind: part, name }, withSimulated)}
              />
            ) : null}
            {answer.leftOut === 0 && !withSimulated ? null : (
              <label class="chip chip-left screen-only">
                <input
                  type="checkbox"
                  checked={withSimulated}
                  onChange={(event) => setWithSimulated(event.currentTarget.checked)}
                />
                {simulatedLeftOutHere(answer.leftOut, withSimulated)}
              </label>
            )}
          </>
        ) : null}
      </main>
    </>
  );
}

const NotThere = ({ refusal }: { readonly refusal: Refusal }): JSX.Element => (
  <>
    <Note kind="wrong">
      <p>{refusal.message}</p>
    </Note>
    <div>
      <a class="button button-main" href="#/catalogue">
        Look in the catalogue
      </a>
    </div>
  </>
);

type SheetProps = { readonly app: App; readonly part: PartInCatalogue };
type Saying = { readonly say: (said: SaidOfCard) => Promise<string | undefined> };

function PartSheet({ app, part, say }: SheetProps & Saying): JSX.Element {
  const specimens = lettered(part.specimens);
  const counted = specimens.filter(({ specimen }) => specimen.counts && specimen.line.length > 0).length;
  const letterOf = (id: string): string => specimens.find(({ specimen }) => specimen.id === id)?.letter ?? id;
  return (
    <div class="stack answer">
      <div class="answer-top">
        <div>
          <h2 class="lead">{part.name}</h2>
          <p class="hint">
            {partWords(part.part, part.quantity)}
            {part.alsoCalled.length === 0 ? '' : `, also called ${part.alsoCalled.join(', ')}`}
            {part.model === undefined || part.model === part.name ? null : (
              <>
                , one specimen of <a href={modelAddress(part.model)}>{part.model}</a>
              </>
            )}
          </p>
          <Verdict kind={part.against.length + part.disagree.length > 0 || counted === 0 ? 'doubt' : 'good'}>
            {specimensWords(counted, part.against.length)}{' '}
            {part.against.map((each) => notOneModelWords(each, letterOf)).join(' ')}
          </Verdict>
        </div>
        <NextStep app={app} part={part} />
      </div>
      {part.disagree.map((each) => (
        <Disagreement key={each.cards.join(' ')} found={each} named={letterOf} say={say} />
      ))}
      <PartPlots part={part} specimens={specimens} />
      <SpecimensTable part={part} specimens={specimens} />
      <MarksTable part={part} />
    </div>
  );
}

/** A gauge begins a job with the dial and the ohms that are known of it. */
function NextStep({ app, part }: SheetProps): JSX.Element {
  const gauge = gaugeOf(part);
  if (gauge === undefined)
    return (
      <div>
        <a class="button button-main" href="#/catalogue">
          Look for another part
        </a>
      </div>
    );
  return (
    <div>
      <a class="button button-main" href="#/new" onClick={() => app.startFrom.set(gauge)}>
        Start a job from this
      </a>
    </div>
  );
}
