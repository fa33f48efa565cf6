import { Entries } from './entries';
import type { JobState, Photograph, ProofPair, Reading, SenderPoint } from './state';
import { SweepsDraft } from './sweeps-draft';

type Writable<T> = { -readonly [Key in keyof T]: T[Key] };

/** Lists that only ever grow. */
type Grown =
  | 'measurements'
  | 'tested'
  | 'skippedTests'
  | 'repairs'
  | 'asFound'
  | 'saidForSafety'
  | 'trips'
  | 'selfHeating'
  | 'workingCurrents'
  | 'proofLimits'
  | 'drifts'
  | 'adjustments'
  | 'records'
  | 'notes'
  | 'superseded'
  | 'recovered';
type Found = 'answers' | 'readings' | 'senders' | 'senderPoints' | 'proofPairs' | 'photographs' | 'sweeps';

/**
 * A state that is being made: changed in place, so that thousands of events take thousands of steps and not millions.
 * It never leaves the fold.
 */
export type Draft = {
  readonly plain: Writable<Omit<JobState, Grown | Found>>;
  readonly grown: { readonly [Key in Grown]: JobState[Key][number][] };
  readonly answers: Map<string, string>;
  readonly senders: Map<string, JobState['senders'][number]>;
  readonly readings: Entries<Reading>;
  readonly senderPoints: Entries<SenderPoint>;
  readonly proofPairs: Entries<ProofPair>;
  readonly photographs: Entries<Photograph>;
  readonly sweeps: SweepsDraft;
};

/** A draft to go on from a state; the state stays as it is. */
export const draftOf = (state: JobState): Draft => {
  const { measurements, asFound, saidForSafety, trips, selfHeating, records, notes, superseded, ...others } =
    state;
  const { recovered, proofLimits, adjustments, answers, senders, readings, senderPoints, ...further } =
    others;
  const { proofPairs, photographs, sweeps, workingCurrents, tested, ...last } = further;
  const { skippedTests, repairs, drifts, ...plain } = last;
  return {
    plain,
    grown: {
      measurements: [...measurements],
      tested: [...tested],
      skippedTests: [...skippedTests],
      repairs: [...repairs],
      asFound: [...asFound],
      saidForSafety: [...saidForSafety],
      trips: [...trips],
      selfHeating: [...selfHeating],
      workingCurrents: [...workingCurrents],
      proofLimits: [...proofLimits],
      drifts: [...drifts],
      adjustments: [...adjustments],
      records: [...records],
      notes: [...notes],
      superseded: [...superseded],
      recovered: [...recovered],
    },
    answers: new Map(Object.entries(answers)),
    senders: new Map(senders.map((sender) => [sender.senderId, sender])),
    readings: new Entries(readings, (each) => each.readingId),
    senderPoints: new Entries(senderPoints, (each) => each.pointId),
    proofPairs: new Entries(proofPairs, (each) => each.pairId),
    photographs: new Entries(photographs, (each) => each.photographId),
    sweeps: new SweepsDraft(sweeps),
  };
};

/** The state that a draft has become. */
export const stateOf = (draft: Draft): JobState => ({
  ...draft.plain,
  ...draft.grown,
  answers: Object.fromEntries(draft.answers),
  senders: [...draft.senders.values()],
  readings: draft.readings.list,
  senderPoints: draft.senderPoints.list,
  proofPairs: draft.proofPairs.list,
  photographs: draft.photographs.list,
  sweeps: draft.sweeps.list(),
});
