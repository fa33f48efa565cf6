import {
  equivalentOhm,
  inCircuitSenderOhm,
  stabiliserFor,
  twoCoilOffsetOhm,
  twoTerminalOffsetOhm,
} from '../../core/circuit';
import { offScale } from '../../core/dial';
import { offScaleWords } from '../../words/network';
import { printed } from '../../words/notation';
import { isRefused } from '../../core/result';
import type { CheckFinding, DialWorth } from '../../job/findings';
import type { Gauge } from '../../job/schema/gauge';
import { scaleOf } from '../../job/schema/scale';
import type { JobState, Measurement } from '../../job/state/state';
import { saidRefusal } from '../../words/refusal';

/** What the gauge shows at a resistance, and where that is known from. */
export type DialLaw = {
  readonly from: string;
  readonly reading: (ohm: number) => number;
  readonly ohm: (reading: number) => number;
};

/** A reading of the dial at which things are weighed, and the sender that makes it. */
type Place = { readonly reading: number; readonly ohm: number };

const SIGNIFICANT = 2;
const figures = (value: number, count = SIGNIFICANT): string => String(Number(value.toPrecision(count)));

/**
 * Before any sweep: straight in ln R between the ends of the family the gauge is thought to belong to. A stand-in good
 * enough to tell 1 degree from 10; every line that uses it says so. Common practice, no source.
 */
export const familyLaw = ({ family, marks }: Gauge): DialLaw | undefined => {
  if (family === undefined || !(family.lowEndOhm > 0 && family.highEndOhm > 0)) return undefined;
  const { lowest, span } = scaleOf(marks);
  const decades = Math.log(family.highEndOhm / family.lowEndOhm);
  if (decades === 0) return undefined;
  return {
    from: 'by the usual range of such senders',
    reading: (ohm) => lowest + (span * Math.log(ohm / family.lowEndOhm)) / decades,
    ohm: (reading) => family.lowEndOhm * Math.exp((decades * (reading - lowest)) / span),
  };
};

type Facts = {
  readonly gauge: Gauge;
  readonly measurements: readonly Measurement[];
  readonly law: DialLaw | undefined;
  /** Where the needle stood as found; the middle of the scale when nobody said. */
  readonly at: Place | undefined;
};

const newest = (
  { measurements }: Pick<Facts, 'measurements'>,
  what: Measurement['what'],
  loads?: Measurement['loads'],
): number | undefined =>
  measurements.filter((each) => each.what === what && (loads === undefined || each.loads === loads)).at(-1)
    ?.value;

const placeOf = (gauge: Gauge, asFound: JobState['asFound'], law: DialLaw | undefined): Place | undefined => {
  if (law === undefined) return undefined;
  const { lowest, span } = scaleOf(gauge.marks);
  const found = asFound.at(-1)?.indicated ?? lowest + span / 2;
  const reading = Math.min(lowest + 0.9 * span, Math.max(lowest + 0.1 * span, found));
  const ohm = law.ohm(reading);
  return Number.isFinite(ohm) && ohm > 0 ? { reading, ohm } : undefined;
};

/** An eye does not see less than this part of the scale. Common practice, no source. */
const UNSEEN_FRACTION = 0.002;

/** "worth 4.1 degC at 90 degC (by the gauge's curve)". */
const worth = ({ gauge, law, at }: Facts, seenOhm: number | undefined): DialWorth | undefined => {
  if (law === undefined || at === undefined || seenOhm === undefined) return undefined;
  if (seenOhm === Infinity)
    return { size: scaleOf(gauge.marks).span, partOfScale: 1, words: 'worth the whole dial' };
  const size = Math.abs(law.reading(seenOhm) - law.reading(at.ohm));
  if (!Number.isFinite(size)) return undefined;
  const partOfScale = size / scaleOf(gauge.marks).span;
  const words =
    partOfScale < UNSEEN_FRACTION
      ? 'too little to be seen on the needle'
      : `worth ${printed.of(Number(figures(size)), gauge.unit)} at ${printed.short(at.reading, gauge.unit)} (${law.from})`;
  return { size, partOfScale, words };
};

/** Volts that feed the gauge, whichever pole is the ground: what heats it where that was measured, else the supply. */
const feedVolt = (facts: Facts): number | undefined => {
  const volt = newest(facts, 'effective-volt') ?? newest(facts, 'supply-volt');
  return volt === undefined || volt === 0 ? undefined : Math.abs(volt);
};

const isSeries = ({ mechanism }: Gauge): boolean => mechanism === 'thermal' || mechanism === 'moving-coil';
const isRatio = ({ mechanism }: Gauge): boolean => mechanism === 'two-coil' || mechanism === 'cross-coil';

/**
 * The resistance the gauge takes the sender for while one ground lies `offsetVolt` above the other; Infinity where no
 * sender looks like that. A gauge that was not
 * measured is taken to have what its sender has at mid scale: they are made of one order. Common practice, no source.
 */
const offsetOhm = (facts: Facts, offsetVolt: number): number | undefined => {
  const { gauge, at } = facts;
  const supplyVolt = feedVolt(facts);
  if (supplyVolt === undefined || at === undefined) return undefined;
  const gaugeOhm = newest(facts, 'gauge-ohm') ?? at.ohm;
  if (isSeries(gauge) || gauge.mechanism === 'unknown') {
    const extra = twoTerminalOffsetOhm(Math.abs(offsetVolt), { supplyVolt, gaugeOhm, senderOhm: at.ohm });
    return isRefused(extra) ? Infinity : at.ohm + extra.ohm;
  }
  if (!isRatio(gauge)) return undefined;
  const seen = twoCoilOffsetOhm(Math.abs(offsetVolt), {
    supplyVolt,
    limitingOhm: gaugeOhm,
    operatingOhm: gaugeOhm,
    senderOhm: at.ohm,
  });
  return isRefused(seen) ? Infinity : seen.ohm;
};

const groundWorth = (facts: Facts): CheckFinding['groundWorth'] => {
  const { gauge } = facts;
  const told = (loads: 'off' | 'lights'): DialWorth | undefined => {
    const volt = newest(facts, 'ground-offset-volt', loads);
    const size = volt === undefined ? undefined : worth(facts, offsetOhm(facts, volt));
    if (size === undefined) return undefined;
    const coils = isRatio(gauge) ? ', its coils taken as equal' : '';
    const taken =
      newest(facts, 'gauge-ohm') === undefined ? ', the gauge\u2019s ohms taken as its sender\u2019s' : '';
    return { ...size, words: `${size.words}${coils}${taken}` };
  };
  const [off, lights] = [told('off'), told('lights')];
  return { ...(off === undefined ? {} : { off }), ...(lights === undefined ? {} : { lights }) };
};

/** Ohms in the sender's ground add to the sender's own. */
const bodyWorth = (facts: Facts): DialWorth | undefined => {
  const ohm = newest(facts, 'sender-body-ohm');
  return ohm === undefined || facts.at === undefined ? undefined : worth(facts, facts.at.ohm + ohm);
};

const STILL_CHOPPED = 0.97;

/** Heat-equivalent volts, what a DC meter makes of them, and what a tenth of a volt is worth. */
const heatLines = (facts: Facts): string[] => {
  const { gauge, at } = facts;
  const [heat, supply] = [newest(facts, 'effective-volt'), newest(facts, 'supply-volt')];
  if (heat === undefined || !(heat > 0)) return [];
  const lines: string[] = [];
  if (supply !== undefined && heat < STILL_CHOPPED * supply) {
    const chopped = stabiliserFor(heat, supply);
    lines.push(
      isRefused(chopped)
        ? saidRefusal(chopped, printed)
        : `The stabiliser heats the gauge like ${heat.toFixed(2)} V. A DC meter would show about ${chopped.averageVolt.toFixed(1)} V, and that is no fault. Stuck closed it would heat ${figures(chopped.stuckClosedHeatRatio)} times as much.`,
    );
  } else if (supply !== undefined)
    lines.push(`The gauge is heated by ${heat.toFixed(2)} V, all of the supply: nothing is chopped.`);
  const gaugeOhm = newest(facts, 'gauge-ohm');
  if (at === undefined || gaugeOhm === undefined || !isSeries(gauge)) return lines;
  const surroundings = { supplyRatio: (heat + 0.1) / heat, riseKelvin: 0 };
  const seen = equivalentOhm(gauge.mechanism, at.ohm, surroundings, { gaugeOhm, isStabilised: false });
  const size = worth(facts, seen);
  return size === undefined ? lines : [...lines, `0.1 V at the gauge is ${size.words}.`];
};

/** A reading, or where the needle then stands off its scale. */
const shownAt = ({ marks, unit }: Gauge, reading: number): string => {
  const off = offScale(marks, reading);
  return off === undefined ? printed.short(reading, unit) : offScaleWords(off, unit, printed);
};

/** The sender without unplugging it: from the volts at the gauge's sender terminal. */
const inCircuitLines = (facts: Facts): string[] => {
  const { gauge, law } = facts;
  const [stud, gaugeOhm, supply] = [
    newest(facts, 'sender-stud-volt'),
    newest(facts, 'gauge-ohm'),
    newest(facts, 'supply-volt'),
  ];
  if (stud === undefined || gaugeOhm === undefined || supply === undefined || !isSeries(gauge)) return [];
  const heat = newest(facts, 'effective-volt');
  if (heat !== undefined && heat < STILL_CHOPPED * supply) {
    return [
      'The sender in circuit cannot be told: the supply is chopped, and both volts would have to be read at one instant.',
    ];
  }
  const sender = inCircuitSenderOhm(stud, supply, gaugeOhm);
  if (isRefused(sender)) return [saidRefusal(sender, printed)];
  const shows =
    law === undefined
      ? ''
      : `; this gauge should then show ${shownAt(gauge, law.reading(sender.ohm))} (${law.from})`;
  return [`The sender in circuit has ${printed.ohm(Number(figures(sender.ohm, 3)))}${shows}.`];
};

export type CheckFacts = Pick<JobState, 'gauge' | 'measurements' | 'asFound'>;

/**
 * What the measurements of the check are worth in dial units, by the gauge's curve where there is one.
 * Source: the circuit laws of host/core/circuit; each line names what it rests on.
 */
export const checkFinding = (
  { gauge, measurements, asFound }: CheckFacts,
  curve: DialLaw | undefined,
): CheckFinding => {
  const law = curve ?? familyLaw(gauge);
  const facts: Facts = { gauge, measurements, law, at: placeOf(gauge, asFound, law) };
  const body = bodyWorth(facts);
  return {
    groundWorth: groundWorth(facts),
    ...(body === undefined ? {} : { bodyWorth: body }),
    lines: [...heatLines(facts), ...inCircuitLines(facts)],
  };
};
