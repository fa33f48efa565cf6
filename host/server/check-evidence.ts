import {
  equivalentOhm,
  inCircuitSenderOhm,
  stabiliserFor,
  twoCoilOffsetOhm,
  twoTerminalOffsetOhm,
} from '../core/circuit';
import { isRefused } from '../core/result';
import type { CheckFinding } from '../job/findings';
import type { Gauge } from '../job/gauge';
import { scaleOf } from '../job/scale';
import type { JobState, Measurement } from '../job/state';

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
/** Differences of Celsius are written in kelvin, as the trade writes them. */
const differenceUnit = (unit: string): string => (unit === 'degC' ? 'K' : unit);

/**
 * Before any sweep: straight in ln R between the ends of the family the gauge is thought to belong to. A stand-in good
 * enough to tell 1 K from 10 K; every line that uses it says so. Common practice, no source.
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

/** "worth 4.1 K at 90 degC (by the gauge's curve)". */
const worth = ({ gauge, law, at }: Facts, seenOhm: number | undefined): string | undefined => {
  if (law === undefined || at === undefined || seenOhm === undefined) return undefined;
  const size = Math.abs(law.reading(seenOhm) - law.reading(at.ohm));
  if (!Number.isFinite(size)) return undefined;
  if (size < UNSEEN_FRACTION * scaleOf(gauge.marks).span) return 'too little to be seen on the needle';
  return `worth ${figures(size)} ${differenceUnit(gauge.unit)} at ${figures(at.reading, 3)} ${gauge.unit} (${law.from})`;
};

/** Volts that feed the gauge: what heats it where that was measured, else the supply. */
const feedVolt = (facts: Facts): number | undefined =>
  newest(facts, 'effective-volt') ?? newest(facts, 'supply-volt');

const isSeries = ({ mechanism }: Gauge): boolean => mechanism === 'thermal' || mechanism === 'moving-coil';
const isRatio = ({ mechanism }: Gauge): boolean => mechanism === 'two-coil' || mechanism === 'cross-coil';

/** The resistance the gauge takes the sender for while one ground lies `offsetVolt` above the other. */
const offsetOhm = (facts: Facts, offsetVolt: number): number | undefined => {
  const { gauge, at } = facts;
  const [gaugeOhm, supplyVolt] = [newest(facts, 'gauge-ohm'), feedVolt(facts)];
  if (gaugeOhm === undefined || supplyVolt === undefined || at === undefined) return undefined;
  if (isSeries(gauge)) {
    const extra = twoTerminalOffsetOhm(Math.abs(offsetVolt), { supplyVolt, gaugeOhm, senderOhm: at.ohm });
    return isRefused(extra) ? undefined : at.ohm + extra.ohm;
  }
  if (!isRatio(gauge)) return undefined;
  const seen = twoCoilOffsetOhm(Math.abs(offsetVolt), {
    supplyVolt,
    limitingOhm: gaugeOhm,
    operatingOhm: gaugeOhm,
    senderOhm: at.ohm,
  });
  return isRefused(seen) ? undefined : seen.ohm;
};

const groundWorth = (facts: Facts): CheckFinding['groundWorth'] => {
  const { gauge } = facts;
  const told = (loads: 'off' | 'lights'): string | undefined => {
    const volt = newest(facts, 'ground-offset-volt', loads);
    const words = volt === undefined ? undefined : worth(facts, offsetOhm(facts, volt));
    if (words === undefined) return undefined;
    return isRatio(gauge) ? `${words}, its coils taken as equal` : words;
  };
  const [off, lights] = [told('off'), told('lights')];
  return { ...(off === undefined ? {} : { off }), ...(lights === undefined ? {} : { lights }) };
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
        ? chopped.message
        : `the feed heats like ${heat.toFixed(2)} V; a DC meter would show about ${chopped.averageVolt.toFixed(1)} V, and that is no fault; stuck closed it would heat ${figures(chopped.stuckClosedHeatRatio)} times as much`,
    );
  } else if (supply !== undefined)
    lines.push(`the feed heats like ${heat.toFixed(2)} V, all of the supply: nothing is chopped`);
  const gaugeOhm = newest(facts, 'gauge-ohm');
  if (at === undefined || gaugeOhm === undefined || !isSeries(gauge)) return lines;
  const surroundings = { supplyRatio: (heat + 0.1) / heat, riseKelvin: 0 };
  const seen = equivalentOhm(gauge.mechanism, at.ohm, surroundings, { gaugeOhm, isStabilised: false });
  const words = worth(facts, seen);
  return words === undefined ? lines : [...lines, `0.1 V of heat at the feed is ${words}`];
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
      'the sender in circuit is not told: the feed is chopped, and both volts would have to be read at one instant',
    ];
  }
  const sender = inCircuitSenderOhm(stud, supply, gaugeOhm);
  if (isRefused(sender)) return [sender.message];
  const shows =
    law === undefined
      ? ''
      : `, at which this gauge should show ${figures(law.reading(sender.ohm), 3)} ${gauge.unit} (${law.from})`;
  return [`the sender in circuit has ${figures(sender.ohm, 3)} ohm${shows}`];
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
  return { groundWorth: groundWorth(facts), lines: [...heatLines(facts), ...inCircuitLines(facts)] };
};
