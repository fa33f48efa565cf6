import type { JSX } from 'preact';
import { useMemo, useState } from 'preact/hooks';
import type { JobCommand } from '../../../job/schema/commands';
import type { JobState } from '../../../job/state/state';
import { proofWork } from '../../../job/state/confirmations';
import type { ReferenceKind } from '../../../core/proof/reference-kinds';
import { Gates } from '../confirm-first';
import { ReferenceChoice, usualSpread } from './reference-choice';
import { faceOf } from '../../dial/dial-geometry';
import type { JobConnection } from '../../connection/job-connection';
import { entryReading, UNSET, type Entry } from '../../entry/entry';
import type { Signal } from '../../signal';
import { shownUnit } from '../../parts/words';
import { Choice } from '../../parts/choice';
import { NumberField, useNumberDraft, type NumberDraft } from '../../parts/number-field';
import { TextField } from '../../parts/text-field';
import { ReadingEntry } from '../../entry/reading-entry';

const STATES = [
  { value: 'as-left', words: 'As left (what is fitted now)' },
  { value: 'as-found', words: 'As found (before)' },
] as const;
const LEGS = [
  { value: 'up', words: 'Needle rising' },
  { value: 'down', words: 'Needle falling' },
] as const;
const ENGINES = [
  { value: 'running', words: 'Engine running' },
  { value: 'off', words: 'Engine off' },
  { value: 'driving', words: 'Being driven' },
] as const;
type EngineState = (typeof ENGINES)[number]['value'];

export type Leg = (typeof LEGS)[number]['value'];

export type PairProps = {
  readonly state: JobState;
  readonly job: JobConnection;
  readonly entry: Signal<Entry>;
};

/** What is missing before the needle can be confirmed; undefined when nothing is. */
export type NotYet = string | undefined;

export const LegChoice = (props: { readonly leg: Leg; readonly onLeg: (leg: Leg) => void }): JSX.Element => (
  <Choice label="The needle was" options={LEGS} chosen={props.leg} onChoose={props.onLeg} />
);

/**
 * A needle is put down for one pair: it is gone when the pair was sent, and comes back when that was refused. Whether it
 * was taken.
 */
export function usePairEntry({ job, entry }: Pick<PairProps, 'job' | 'entry'>) {
  return async (command: JobCommand, drafts: readonly NumberDraft[]): Promise<boolean> => {
    const held = entry.get();
    entry.set(UNSET);
    const outcome = await job.send(command);
    if (outcome.kind === 'accepted') for (const draft of drafts) draft.setText('');
    else entry.set(held);
    return outcome.kind === 'accepted';
  };
}

type NeedleProps = Pick<PairProps, 'state' | 'entry'> & {
  readonly notYet: NotYet;
  readonly onReading: (indicated: number) => void;
};

/** The needle beside what is true: it is always put down by hand. */
export function PairNeedle({ state, entry, notYet, onReading }: NeedleProps): JSX.Element {
  const { gauge } = state;
  const face = useMemo(() => faceOf(gauge), [gauge]);
  const confirm = (): void => {
    const indicated = entryReading(gauge, entry.get());
    if (notYet === undefined && indicated !== undefined) onReading(indicated);
  };
  return (
    <ReadingEntry
      gauge={gauge}
      face={face}
      entry={entry}
      isReady={notYet === undefined}
      waitWords={notYet ?? ''}
      canBeOnStop={false}
      onConfirm={confirm}
    />
  );
}

/** The first of the fields that holds nothing usable, as words on the button. */
export const firstMissing = (fields: readonly (readonly [NumberDraft, string])[]): NotYet =>
  fields.find(([draft]) => draft.value === undefined)?.[1];

/** What is still to be said of the reference. */
export const referenceMissing = ({
  reference,
  uncertainty,
}: Pick<ReturnType<typeof useReference>, 'reference' | 'uncertainty'>): NotYet =>
  firstMissing([
    [reference, 'First the reference'],
    [uncertainty, 'First the \u00b1 of the reference'],
  ]);

/** What is being typed of the reference; its kind brings what such a one is usually good to. */
function useReference(gauge: PairProps['state']['gauge']) {
  const reference = useNumberDraft('', gauge.unit);
  const uncertainty = useNumberDraft('', shownUnit(gauge.unit), 0);
  const [kind, setKind] = useState<ReferenceKind>('other');
  const chooseKind = (next: ReferenceKind): void => {
    const usual = usualSpread(next, gauge);
    if (usual !== undefined) uncertainty.setText(String(Number(usual.toPrecision(2))));
    setKind(next);
  };
  return { reference, uncertainty, kind, chooseKind };
}

/** What is being said of one pair. */
export function useRun({ state, isAsFound }: Pick<PairProps, 'state'> & { readonly isAsFound: boolean }) {
  const { gauge } = state;
  const reference = useReference(gauge);
  const [place, setPlace] = useState('');
  const [leg, setLeg] = useState<Leg>('up');
  const hasEngine = state.place === 'car' && gauge.quantity !== 'fuel' && gauge.quantity !== 'other';
  const [engine, setEngine] = useState<EngineState>(hasEngine ? 'running' : 'off');
  const [when, setWhen] = useState<'as-left' | 'as-found'>(isAsFound ? 'as-found' : 'as-left');
  return { ...reference, place, setPlace, leg, setLeg, engine, setEngine, when, setWhen };
}

/** A needle read against a reference, as a pair of the proof and a look after a season keep it; undefined before both are said. */
export function readAgainst(
  { reference, uncertainty, kind, place, leg, engine }: ReturnType<typeof useRun>,
  state: JobState,
  indicated: number,
) {
  if (reference.value === undefined || uncertainty.value === undefined) return undefined;
  return {
    reference: reference.value,
    referenceUncertainty: uncertainty.value / 2,
    referenceKind: kind,
    indicated,
    leg,
    ...(state.place === 'car' ? { engine } : {}),
    ...(place.trim() === '' ? {} : { referencePlace: place }),
  };
}

type RunFieldsProps = Pick<PairProps, 'state'> & {
  readonly run: ReturnType<typeof useRun>;
  /** A season later nothing of the vehicle is as it was found. */
  readonly isLater?: true;
};

export const RunFields = ({ state, run, isLater }: RunFieldsProps): JSX.Element => (
  <div class="stack">
    <p class="prompt">What is true, and what does the needle show?</p>
    <ReferenceChoice gauge={state.gauge} kind={run.kind} onKind={run.chooseKind} />
    <NumberField label="The reference says" unit={shownUnit(state.gauge.unit)} draft={run.reference} />
    <NumberField
      label={'\u00b1'}
      unit={`${shownUnit(state.gauge.unit)}, 95 %`}
      draft={run.uncertainty}
      hint="From its own certificate, or what you trust it to. No reference is exact."
    />
    <TextField
      label="Where is the reference?"
      text={run.place}
      onText={run.setPlace}
      hint="And why should it agree with the sender's place?"
    />
    <LegChoice leg={run.leg} onLeg={run.setLeg} />
    {state.place === 'car' ? (
      <Choice label="While it was read" options={ENGINES} chosen={run.engine} onChoose={run.setEngine} />
    ) : null}
    {isLater === true ? null : (
      <Choice label="State of the vehicle" options={STATES} chosen={run.when} onChoose={run.setWhen} />
    )}
  </div>
);

/** The vehicle as it runs, against a reference. */
export function RunPair(props: PairProps & { readonly isAsFound: boolean }): JSX.Element {
  const { state, job, entry } = props;
  const run = useRun(props);
  const { reference, kind, engine, when } = run;
  const put = usePairEntry({ job, entry });
  const notYet =
    when === 'as-left' && state.fitted === undefined ? 'First say what is fitted' : referenceMissing(run);
  const confirm = (indicated: number): void => {
    const read = readAgainst(run, state, indicated);
    if (read !== undefined) void put({ kind: 'add-proof-pair', state: when, ...read }, [reference]);
  };
  return (
    <div class="columns">
      <RunFields state={state} run={run} />
      <Gates
        works={proofWork(state, { engine, referenceKind: kind })}
        state={state}
        send={(command) => void job.send(command)}
      >
        <PairNeedle state={state} entry={entry} notYet={notYet} onReading={confirm} />
      </Gates>
    </div>
  );
}
