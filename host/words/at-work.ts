import type { FactorBasis, InPlace } from '../core/at-work';
import type { Advice, HeatReport, MissingOfCircuit } from '../core/network';
import type { Substitution } from '../job/proof/substitution';
import type { Notation } from './notation';

const MILLI = 1e3;

/** Where a dissipation factor comes from, after its figure. */
const basisWords: Readonly<Record<FactorBasis, string>> = {
  flowing: 'measured in its place, coolant flowing',
  'two-currents': 'measured with two currents in a stirred bath',
  typed: 'as typed',
  still: 'measured in still coolant, which is the least it sheds',
  kind: 'nobody measured it: the range of its kind',
};

/** What settles how much a sender heats itself. */
const MEASURE_HEAT =
  'Six volts on the sender lead with the engine idling settle it: lead off a minute and on a minute, three times. Type them at the Sender station, or give them to sender --working-current.';

/** What a circuit usually makes of it: 0.4 W at 30 to 50 mW/K. Common practice, no source. */
const usualHeat = (say: Notation): string => say.range(8, 13, 'degC');

/** What to give so that the heat is counted. */
const missingWords: Readonly<Record<MissingOfCircuit, string>> = {
  both: 'Give the feed and the gauge\u2019s resistance, or the volts on the sender lead.',
  feed: 'Give the volts that feed the gauge, or the volts on the sender lead.',
  'gauge-ohm': 'Give the gauge\u2019s resistance, or the volts on the sender lead.',
  lead: 'Give the volts on the sender lead: behind a gauge of three terminals only they tell.',
};

/** What a computation took for the sender's own heat, in one or two sentences. */
export function heatWords(report: HeatReport, unit: string, say: Notation): string {
  if (report.kind === 'not-counted')
    return report.because === 'circuit-not-known'
      ? `The sender\u2019s own heat is not counted, for the circuit is not known: at 0.4 W a temperature sender is ${usualHeat(say)} hotter than what it measures. ${missingWords[report.missing]}`
      : 'The sender\u2019s own heat is taken as nothing: a slider or a wire-wound sender warms too little to count.';
  const { rise, leastRise, mostRise, at, watt, source, factor } = report;
  const shed = `${say.number(MILLI * factor.wattPerKelvin)} mW/K, ${basisWords[factor.basis]}`;
  const between = `between ${say.of(short(leastRise), unit)} and ${mostRise === Infinity ? 'no end' : say.of(short(mostRise), unit)}`;
  return `At working current this sender reads ${say.of(short(rise), unit)} hot at ${say.of(short(at), unit)} (${between}): ${say.number(short(watt))} W from ${say.number(short(source.volt))} V behind ${say.ohm(short(source.ohm))}; it sheds ${shed}.`;
}

/** Two figures: nobody knows a third. */
const short = (value: number): number => Number(value.toPrecision(2));

const heatLeftOut = (say: Notation): string =>
  `The sender\u2019s own heat is left out of this; it may be ${usualHeat(say)}, and the volts on the sender lead tell.`;

/** What to do, in one to three sentences. */
export function adviceWords(advice: Advice, unit: string, say: Notation): string {
  const limit = `the limit of this job (${say.spread(advice.limit, unit)})`;
  switch (advice.kind) {
    case 'fits-as-is':
      return fitsWords(advice, { limit, say });
    case 'network':
      return networkWords(advice, { limit, unit, say });
    case 'measure-heat':
      return `Fit no resistor yet: how much the sender heats itself decides whether the gauge is within ${limit}. ${MEASURE_HEAT}`;
    case 'no-resistor-helps':
      return `No resistor helps enough: none brings the gauge within ${limit} or takes away a third of the worst error.`;
  }
}

type OfKind<Kind extends Advice['kind']> = Extract<Advice, { readonly kind: Kind }>;

function fitsWords(
  { isCertain, isHeatLeftOut }: OfKind<'fits-as-is'>,
  { limit, say }: Pick<Said, 'limit' | 'say'>,
): string {
  if (isCertain) return `Fits as it is: within ${limit}, with everything that is uncertain. Fit no resistor.`;
  const because = isHeatLeftOut ? heatLeftOut(say) : 'What is uncertain reaches beyond.';
  return `Fits as it is, as far as can be told: its error is within ${limit}. ${because} Fit no resistor.`;
}

type Said = { readonly limit: string; readonly unit: string; readonly say: Notation };

function networkWords(
  { brings, isHeatLeftOut, reach }: OfKind<'network'>,
  { limit, unit, say }: Said,
): string {
  const heat = isHeatLeftOut ? ` ${heatLeftOut(say)}` : '';
  const at = `at ${say.of(short3(reach.at), unit)}`;
  const error = say.of(short(Math.abs(reach.error)), unit);
  const uncertainty = say.spread(short(reach.expandedUncertainty), unit);
  switch (brings) {
    case 'inside-the-limit':
      return `Fit the network: it brings the gauge within ${limit}.`;
    case 'inside-without-heat':
      return `Fit the network: with the sender cold it brings the gauge within ${limit}.${heat}`;
    case 'cannot-be-told':
      return `Fit the network: its errors are within ${limit}. Whether the gauge is, cannot be told: ${at} the error of ${error} is uncertain by ${uncertainty}.${heat}`;
    case 'a-third-less':
      return `Fit the network: it takes away a third of the worst error or more. It is not everywhere within ${limit}: ${at} it errs by ${error}.${heat}`;
  }
}

/** What the ohms that stand in a sender's place are good for; undefined for a sender that warms too little to count. */
export function substituteHeatWords(
  { hotBy, isHeatLeftOut }: Pick<Substitution, 'hotBy' | 'isHeatLeftOut'>,
  unit: string,
  say: Notation,
): string | undefined {
  if (hotBy !== undefined)
    return `These are its ohms at work: its own current makes it ${say.of(short(hotBy), unit)} hotter than what it measures.`;
  return isHeatLeftOut
    ? `These are its ohms by an ohmmeter. At work it is hotter, by ${usualHeat(say)} at 0.4 W, and the needle stands higher than this proves. The volts on the sender lead tell: at the Sender station.`
    : undefined;
}

/** What a measurement in its place found of one sender, in two sentences: for page and record. */
export function inPlaceWords(found: InPlace, unit: string, say: Notation): string {
  const { rise, value, coldOhm, warmOhm, factor, method } = found;
  const least = say.number(short(MILLI * factor.lowestWattPerKelvin));
  const most = say.number(short(MILLI * factor.highestWattPerKelvin));
  const sheds =
    method === 'still' ? `It sheds ${least} mW/K or more.` : `It sheds ${least} to ${most} mW/K (95 %).`;
  return `At working current this sender reads ${say.of(short(rise), unit)} hot at ${say.of(Math.round(value), unit)}: ${say.ohm(short3(coldOhm))} falls to ${say.ohm(short3(warmOhm))}. ${sheds}`;
}

const short3 = (value: number): number => Number(value.toPrecision(3));
