import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import { DANGER_WORDS, NEVER_WORDS } from '../../../job/proof/danger';
import type { SenderFinding } from '../../../job/findings';
import type { Gauge } from '../../../job/schema/gauge';
import type { Substitution } from '../../../job/proof/substitution';
import type { LiveFrame } from '../../../job/wire/job-messages';
import { useSignal } from '../../signal';
import { shownOhm, shownReading, sureOhm } from '../../parts/words';
import { Choice } from '../../parts/choice';
import { Note } from '../../parts/note';
import { NumberField, useNumberDraft } from '../../parts/number-field';
import { firstMissing, LegChoice, PairNeedle, usePairEntry, type Leg, type PairProps } from './pair-entry';
import { substituteHeatWords } from '../../../words/at-work';
import { printed } from '../../../words/notation';
import { saidRefusal } from '../../../words/refusal';
import { asSentence } from '../../../words/sentence';

const WITH = [
  { value: 'resistor', words: 'A resistor of known ohms' },
  { value: 'box', words: 'The box' },
] as const;

type SubstituteProps = PairProps & {
  readonly finding: SenderFinding | undefined;
  readonly toSender: () => void;
};

/** The dangerous end without the danger: the ohms the sender would have there, in its place. */
export function SubstitutePair(props: SubstituteProps): JSX.Element {
  const { finding, toSender } = props;
  const found = finding?.substitution;
  if (found?.kind === 'substitution') return <KnownOhms {...props} found={found} />;
  const why =
    found !== undefined
      ? saidRefusal(found, printed)
      : finding?.fitted.kind === 'refused'
        ? saidRefusal(finding.fitted, printed)
        : 'The sender has no points yet. Its curve says which ohms it would have.';
  return (
    <Note kind="plain" word="The sender's curve first">
      <p>{why}</p>
      <div>
        <button type="button" class="button" onClick={toSender}>
          To the sender
        </button>
      </div>
    </Note>
  );
}

function KnownOhms(props: SubstituteProps & { readonly found: Substitution }): JSX.Element {
  const { state, job, entry, found } = props;
  const ohm = useNumberDraft('', 'ohm', 0);
  const uncertainty = useNumberDraft('', 'ohm', 0);
  const [by, setBy] = useState<(typeof WITH)[number]['value']>('resistor');
  const [leg, setLeg] = useState<Leg>('up');
  const put = usePairEntry({ job, entry });
  const made = madeByBox(useSignal(job.live));
  const typed =
    ohm.value === undefined || uncertainty.value === undefined
      ? undefined
      : { resistanceOhm: ohm.value, uncertaintyOhm: uncertainty.value / 2 };
  const known = by === 'box' ? made : typed;
  const notYet =
    state.fitted === undefined
      ? 'First say what is fitted'
      : by === 'box'
        ? made === undefined
          ? 'First a sweep lets the box make ohms'
          : undefined
        : firstMissing([
            [ohm, 'First the ohms in the sender\u2019s place'],
            [uncertainty, 'First the \u00b1 of those ohms'],
          ]);
  const confirm = (indicated: number): void => {
    if (known === undefined) return;
    void put({ kind: 'add-proof-substitution', with: by, ...known, indicated, leg }, []);
  };
  return (
    <div class="columns">
      <div class="stack">
        <OhmsWanted gauge={state.gauge} found={found} />
        <Choice label="In the sender's place" options={WITH} chosen={by} onChoose={setBy} />
        {by === 'box' ? (
          <p class="hint">
            {made === undefined
              ? 'The output of the box is open. A pair counts only while a sweep holds it at its ohms and the needle is at rest.'
              : `The box makes ${shownOhm(made.resistanceOhm)} now.`}
          </p>
        ) : (
          <>
            <NumberField label="It has" unit="ohm" draft={ohm} />
            <NumberField
              label={'\u00b1'}
              unit="ohm, 95 %"
              draft={uncertainty}
              hint="The resistor's tolerance in ohms, or what the meter is good to."
            />
          </>
        )}
        <LegChoice leg={leg} onLeg={setLeg} />
      </div>
      <PairNeedle state={state} entry={entry} notYet={notYet} onReading={confirm} />
    </div>
  );
}

type Known = { readonly resistanceOhm: number; readonly uncertaintyOhm: number };

/** What the box itself makes, once it may be read; undefined while it stands for nothing. */
const madeByBox = (frame: LiveFrame | undefined): Known | undefined => {
  const { madeOhm, uncertaintyOhm } = frame?.output ?? {};
  return frame?.waiting.kind !== 'answer' || madeOhm === undefined || uncertaintyOhm === undefined
    ? undefined
    : { resistanceOhm: madeOhm, uncertaintyOhm };
};

/** A table without a tolerance would be good to nothing at its own rows. */
const UNTOLD_PART = 0.0005;

function OhmsWanted({ gauge, found }: { readonly gauge: Gauge; readonly found: Substitution }): JSX.Element {
  const isTold = found.expandedUncertaintyOhm > UNTOLD_PART * found.resistanceOhm;
  const [ohm, sure] = isTold
    ? sureOhm(found.resistanceOhm, found.expandedUncertaintyOhm)
    : [shownOhm(found.resistanceOhm)];
  const heat = substituteHeatWords(found, gauge.unit, printed);
  return (
    <>
      <p class="prompt">
        At {shownReading(found.reading, gauge)} this sender has {ohm}
        {isTold ? ` (${sure})` : ''}
        {found.isBeyondPoints ? ', beyond its points' : ''}. Put that in its place.
      </p>
      {heat === undefined ? null : <p>{heat}</p>}
      <p class="hint">
        {asSentence(`${DANGER_WORDS[gauge.quantity]} is proved this way; ${NEVER_WORDS[gauge.quantity]}`)} The
        sender&rsquo;s wire comes off and the known ohms go from that wire to ground; whatever is fitted stays
        in. Near is enough: what your ohms stand for is reckoned from the sender&rsquo;s curve. Rising: the
        needle came up to its place; falling: it came down to it.
      </p>
    </>
  );
}
