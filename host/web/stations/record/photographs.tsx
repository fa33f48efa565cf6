import type { JSX } from 'preact';
import { useId, useState } from 'preact/hooks';
import { photographSubjects, type PhotographSubject } from '../../../job/schema/photograph-subjects';
import type { JobCommand } from '../../../job/schema/commands';
import type { JobState } from '../../../job/state/state';
import { PHOTOGRAPH_WORDS } from '../../../words/photograph';
import { addPhotograph, photographAddress } from '../../connection/http';
import { Fold } from '../../parts/fold';
import { Note } from '../../parts/note';
import { Pick } from '../../parts/choice';
import { smallerPicture } from '../../parts/smaller-picture';

type PhotographsProps = {
  /** The folder of the job. */
  readonly jobId: string;
  readonly state: JobState;
  readonly send: (command: JobCommand) => void;
};

const OPTIONS = photographSubjects.map((value) => ({ value, words: PHOTOGRAPH_WORDS[value] }));

/** Pictures of dial and parts, kept with the job. They are drawn anew here: place and camera stay on this device. */
export function Photographs({ jobId, state, send }: PhotographsProps): JSX.Element {
  const kept = state.photographs.filter(({ struckBecause }) => struckBecause === undefined);
  return (
    <Fold line="Photographs" says={kept.length === 0 ? 'dial and parts; none yet' : String(kept.length)}>
      <AddPhotograph jobId={jobId} />
      <ul class="photographs">
        {kept.map(({ photographId, of, title }) => (
          <li key={photographId}>
            <figure>
              <img
                src={photographAddress(jobId, photographId)}
                alt={title ?? PHOTOGRAPH_WORDS[of]}
                loading="lazy"
                decoding="async"
              />
              <figcaption>{title ?? PHOTOGRAPH_WORDS[of]}</figcaption>
            </figure>
            <DeleteButton
              what={title ?? PHOTOGRAPH_WORDS[of]}
              onDelete={() => send({ kind: 'strike-photograph', photographId, reason: 'deleted' })}
            />
          </li>
        ))}
      </ul>
    </Fold>
  );
}

/** Nothing brings a picture back: the second press means it. */
function DeleteButton(props: { readonly what: string; readonly onDelete: () => void }): JSX.Element {
  const [isAsked, setAsked] = useState(false);
  if (!isAsked)
    return (
      <button
        type="button"
        class="button button-plain"
        aria-label={`Delete: ${props.what}`}
        onClick={() => setAsked(true)}
      >
        Delete
      </button>
    );
  return (
    <div class="row">
      <button type="button" class="button" onClick={() => setAsked(false)}>
        Keep it
      </button>
      <button type="button" class="button" onClick={props.onDelete}>
        Delete it for good
      </button>
    </div>
  );
}

type Adding = 'nothing' | 'adding' | { readonly why: string };

function AddPhotograph({ jobId }: { readonly jobId: string }): JSX.Element {
  const id = useId();
  const [of, setOf] = useState<PhotographSubject>('as-found');
  const [adding, setAdding] = useState<Adding>('nothing');
  const add = async (file: File): Promise<void> => {
    setAdding('adding');
    const smaller = await smallerPicture(file);
    if (smaller.kind === 'none') return setAdding({ why: smaller.why });
    const answer = await addPhotograph(jobId, of, smaller.blob);
    return setAdding(answer.kind === 'refused' ? { why: answer.message } : 'nothing');
  };
  return (
    <>
      <Pick label="A photograph of" options={OPTIONS} chosen={of} onChoose={setOf} />
      <div class="field">
        <label for={id}>Take or pick a picture (JPEG or PNG)</label>
        <input
          id={id}
          type="file"
          accept="image/jpeg,image/png"
          disabled={adding === 'adding'}
          aria-describedby={`${id}-hint`}
          onChange={(event) => {
            const [file] = event.currentTarget.files ?? [];
            if (file !== undefined) void add(file);
            event.currentTarget.value = '';
          }}
        />
        <span class="hint" id={`${id}-hint`}>
          {adding === 'adding'
            ? 'Being made smaller and kept ...'
            : 'It is made smaller; place and camera are taken out.'}
        </span>
      </div>
      {typeof adding === 'object' ? (
        <Note kind="wrong" word="Not kept">
          {adding.why}
        </Note>
      ) : null}
    </>
  );
}
