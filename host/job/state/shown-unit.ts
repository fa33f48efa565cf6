import { unitChange } from '../../core/units';
import { scaleOf } from '../schema/scale';
import type { Gauge, Mark } from '../schema/gauge';
import type { ProofLimit } from '../schema/proof-shapes';
import type { Drift, JobState } from './state';
import type { Given } from '../schema/values';

/**
 * A job keeps every number in the dial's own unit and may be SHOWN in another. The readings, the fits and the box never
 * see the shown unit: it is applied when a state is looked at, and each command names the unit of its numbers. What was
 * typed in another unit is kept beside the converted number (`given`) and shown again exactly as it was typed.
 */
export type Turn = {
  readonly unit: string;
  readonly value: (value: number) => number;
  /** A difference, an uncertainty, a width: without the offset. */
  readonly size: (size: number) => number;
};

/** Twelve figures: 104 degF is 40 degC again, and no digit that anybody typed is lost. */
const FIGURES = 12;
const rounded = (value: number): number => Number(value.toPrecision(FIGURES));

/** From one unit to another; undefined where there is no way between them. Source: `unitChange`. */
export const turnOf = (fromUnit: string, toUnit: string): Turn | undefined => {
  const change = unitChange(fromUnit, toUnit);
  if (change.kind === 'refused') return undefined;
  const { factor, offset } = change;
  return {
    unit: toUnit,
    value: (value) => rounded(value * factor + offset),
    size: (size) => rounded(size * factor),
  };
};

type Names<Entry> = {
  readonly values?: readonly (keyof Entry & string)[];
  readonly sizes?: readonly (keyof Entry & string)[];
};

/** A copy of an entry with its numbers turned; a number that was typed in that very unit comes back as it was typed. */
export const turned = <Entry extends object>(
  turn: Turn,
  entry: Entry & { readonly given?: Given | undefined },
  { values = [], sizes = [] }: Names<Entry>,
): Entry => {
  const typed = entry.given?.unit === turn.unit ? entry.given.numbers : {};
  const copy = { ...entry };
  const put = (names: readonly (keyof Entry & string)[], change: (value: number) => number): void => {
    for (const name of names) {
      const value: unknown = entry[name];
      if (typeof value === 'number') Object.assign(copy, { [name]: typed[name] ?? change(value) });
    }
  };
  put(values, turn.value);
  put(sizes, turn.size);
  return copy;
};

/** A number printed at a mark is drawn in the shown unit, as short as the scale allows; letters stay. */
const turnedMark = (turn: Turn, mark: Mark, stepReading: number): Mark => {
  const reading = turn.value(mark.reading);
  const isNumber = mark.label.trim() !== '' && Number.isFinite(Number(mark.label));
  const decimals = Math.min(4, Math.max(0, Math.ceil(-Math.log10(stepReading))));
  return { ...mark, reading, label: isNumber ? String(Number(reading.toFixed(decimals))) : mark.label };
};

/** A label is as fine as a fiftieth of the scale: finer would be a figure that nobody printed. */
const LABEL_PARTS = 50;

/** A dial in another unit: same arc, same marks, other numbers. */
const turnedGauge = (turn: Turn, gauge: Gauge): Gauge => {
  const stepReading = turn.size(scaleOf(gauge.marks).span) / LABEL_PARTS;
  return {
    ...turned(turn, gauge, { sizes: ['divisionReading'] }),
    unit: turn.unit,
    marks: gauge.marks.map((mark) => turnedMark(turn, mark, stepReading)),
    ...(gauge.zones === undefined
      ? {}
      : { zones: gauge.zones.map((zone) => turned(turn, zone, { values: ['fromReading', 'toReading'] })) }),
  };
};

const READ = { values: ['reading'], sizes: ['readingUncertainty'] } as const;

const turnedSweeps = (turn: Turn, sweeps: JobState['sweeps']): JobState['sweeps'] =>
  sweeps.map((sweep) => ({
    ...sweep,
    steps: sweep.steps.map((step) => ({
      ...step,
      ...(step.aim.kind === 'mark' ? { aim: turned(turn, step.aim, { values: ['reading'] }) } : {}),
      ...(step.noted === undefined ? {} : { noted: turned(turn, step.noted, READ) }),
    })),
  }));

/** Senders keep their own unit; those that can be are shown in the unit of the dial, so that curves can be compared. */
const turnedSenders = (
  state: JobState,
  unit: string,
): Pick<JobState, 'senders' | 'senderPoints' | 'selfHeating'> => {
  const turns = new Map(state.senders.map((sender) => [sender.senderId, turnOf(sender.unit, unit)]));
  // Whose description was taken back is in the dial's own unit, as a command about it is understood.
  const ofTheDial = turnOf(state.gauge.unit, unit);
  const turnedOf = <
    Entry extends { readonly senderId: string; readonly value: number; readonly given?: Given | undefined },
  >(
    entry: Entry,
    sizes: readonly (keyof Entry & string)[],
  ): Entry => {
    const turn = turns.has(entry.senderId) ? turns.get(entry.senderId) : ofTheDial;
    return turn === undefined ? entry : turned(turn, entry, { values: ['value'], sizes });
  };
  return {
    senders: state.senders.map((sender) =>
      turns.get(sender.senderId) === undefined ? sender : { ...sender, unit },
    ),
    senderPoints: state.senderPoints.map((point) => turnedOf(point, ['valueUncertainty'])),
    selfHeating: state.selfHeating.map((each) => turnedOf(each, [])),
  };
};

const turnedTrim = (turn: Turn, state: JobState): Pick<JobState, 'trimRequest' | 'trimChosen'> => ({
  ...(state.trimRequest === undefined ? {} : { trimRequest: turnedTrimOptions(turn, state.trimRequest) }),
  ...(state.trimChosen === undefined
    ? {}
    : { trimChosen: turned(turn, state.trimChosen, { sizes: ['worstError', 'rmsError'] }) }),
});

export const turnedLimit = (turn: Turn, limit: ProofLimit): ProofLimit => {
  if (limit.kind === 'size') return turned(turn, limit, { sizes: ['size'] });
  return limit.kind === 'sides' ? turned(turn, limit, { sizes: ['lower', 'upper'] }) : limit;
};

const turnedEstimate = (
  turn: Turn,
  estimate: NonNullable<JobState['reestimated']>,
): NonNullable<JobState['reestimated']> => {
  const { offer } = estimate;
  return {
    ...turned(turn, estimate, { sizes: ['referenceOff'] }),
    needle: estimate.needle.map((each) =>
      turned(turn, each, { values: ['value', 'byCurve', 'reading'], sizes: ['expandedUncertainty'] }),
    ),
    ...(offer === undefined
      ? {}
      : {
          offer: {
            ...turned(turn, offer, { sizes: ['worstNow', 'worstThen'] }),
            candidate: turned(turn, offer.candidate, { sizes: ['worstError', 'rmsError'] }),
          },
        }),
  };
};

const turnedDrift = (turn: Turn, drift: Drift): Drift => ({
  ...turned(turn, drift, {
    values: ['indicated', 'reference'],
    sizes: ['referenceUncertainty', 'ratePerMinute', 'restOff', 'restBefore'],
  }),
  asLeft: turned(turn, drift.asLeft, { sizes: ['error', 'expandedUncertainty'] }),
});

/** The wishes for a network in another unit. */
export const turnedTrimOptions = (
  turn: Turn,
  options: NonNullable<JobState['trimRequest']>,
): NonNullable<JobState['trimRequest']> => ({
  ...turned(turn, options, { values: ['from', 'to'] }),
  ...(options.weights === undefined
    ? {}
    : { weights: options.weights.map((each) => turned(turn, each, { values: ['reading'] })) }),
});

/**
 * The state in the unit a person wants to see. Sentences that were written at the time (findings, evidence, notes) stay
 * as they were written. The state itself where no other unit is wanted, or none can be had.
 */
export const inShownUnit = (state: JobState): JobState => {
  const { shownUnit } = state;
  if (shownUnit === undefined || shownUnit === state.gauge.unit) return state;
  const turn = turnOf(state.gauge.unit, shownUnit);
  if (turn === undefined) return state;
  const indicated = { values: ['indicated', 'reference'], sizes: ['referenceUncertainty'] } as const;
  return {
    ...state,
    gauge: turnedGauge(turn, state.gauge),
    printed: state.gauge,
    asFound: state.asFound.map((each) => turned(turn, each, indicated)),
    readings: state.readings.map((each) => turned(turn, each, READ)),
    superseded: state.superseded.map((each) => turned(turn, each, { values: ['reading'] })),
    sweeps: turnedSweeps(turn, state.sweeps),
    ...(state.chainTested === undefined
      ? {}
      : {
          chainTested: {
            ...state.chainTested,
            pairs: state.chainTested.pairs.map((each) =>
              turned(turn, each, { values: ['value', 'indicated', 'predicted'] }),
            ),
            couldMean: state.chainTested.couldMean.map((each) => ({
              ...each,
              sizes: each.sizes.map((size, index) =>
                each.causes[index] === 'pointer' ? turn.size(size) : size,
              ),
            })),
          },
        }),
    proofPairs: state.proofPairs.map((each) =>
      turned(turn, each, { ...indicated, sizes: ['referenceUncertainty', 'ratePerMinute'] }),
    ),
    ...(state.reestimated === undefined ? {} : { reestimated: turnedEstimate(turn, state.reestimated) }),
    drifts: state.drifts.map((each) => turnedDrift(turn, each)),
    adjustments: state.adjustments.map((each) => turned(turn, each, { sizes: ['movedBy'] })),
    ...(state.proofLimit === undefined ? {} : { proofLimit: turnedLimit(turn, state.proofLimit) }),
    proofLimits: state.proofLimits.map((each) => ({ ...each, limit: turnedLimit(turn, each.limit) })),
    ...turnedSenders(state, shownUnit),
    ...turnedTrim(turn, state),
  };
};
