import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { JobInCatalogue } from '../../../job/wire/catalogue-messages';
import { keptWords, likelyWords } from '../../../words/catalogue';
import { listed } from '../../../words/sentence';
import { jobInCatalogue, keepInCatalogue, type Answer } from '../../connection/http';
import { Fold } from '../../parts/fold';
import { TextField } from '../../parts/text-field';

type InCatalogueProps = { readonly jobId: string; readonly isSimulated: boolean };

const PRIVACY = 'Only what was measured is kept, never whose vehicle it is.';

/** What the catalogue has of this curve, and keeping it there in one action. */
export function InCatalogue({ jobId, isSimulated }: InCatalogueProps): JSX.Element | null {
  const [known, setKnown] = useState<JobInCatalogue | undefined>(undefined);
  const [model, setModel] = useState('');
  const [trouble, setTrouble] = useState<string | undefined>(undefined);
  const [isBusy, setBusy] = useState(false);
  const take = (answer: Answer<JobInCatalogue>): void => {
    if (answer.kind === 'refused') setTrouble(answer.message);
    else setKnown(answer.body);
  };
  useEffect(() => {
    let isOver = false;
    void jobInCatalogue(jobId).then((answer) => isOver || take(answer));
    return () => {
      isOver = true;
    };
  }, [jobId]);
  const keep = async (): Promise<void> => {
    setBusy(true);
    setTrouble(undefined);
    take(await keepInCatalogue(jobId, model.trim()));
    setBusy(false);
  };
  if (known === undefined)
    return trouble === undefined ? null : (
      <Fold line="Catalogue" says="cannot be asked">
        <p class="wrong">{trouble}</p>
      </Fold>
    );
  if (known.cards.length === 0) return null;
  const { looksLike } = known;
  return (
    <Fold line="Catalogue" says={keptWords(known)}>
      {looksLike === undefined ? null : (
        <p>
          This looks like {listed(looksLike.names)}: {likelyWords(looksLike.share)}.
        </p>
      )}
      {known.model === undefined ? (
        <TextField
          label="Model, as you would look for it"
          text={model}
          onText={setModel}
          {...(looksLike === undefined ? {} : { suggestions: looksLike.names })}
        />
      ) : (
        <p>
          Model: <a href={`#/catalogue/model/${encodeURIComponent(known.model)}`}>{known.model}</a>
        </p>
      )}
      <div>
        <button type="button" class="button" disabled={isBusy} onClick={() => void keep()}>
          Keep this curve in the catalogue
        </button>
        <p class="hint">{isSimulated ? `${PRIVACY} It stays marked SIMULATED.` : PRIVACY}</p>
      </div>
      {trouble === undefined ? null : <p class="wrong">{trouble}</p>}
    </Fold>
  );
}
