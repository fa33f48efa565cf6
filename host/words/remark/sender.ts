import type { SenderReason, SenderRemarks } from '../../core/sender/remarks';
import type { Notation } from '../notation';
import { capital, listed, type Sentence } from '../sentence';

type Words = { readonly [Code in keyof SenderRemarks]: Sentence<SenderRemarks[Code]> };

/** Remarks on sender curves. */
export const senderRemarks: Words = {
  SENDER_BETA_IMPLAUSIBLE: ({ betaKelvin, lowestKelvin, highestKelvin, between }, say) =>
    `Beta ${between === undefined ? '25/85' : `between ${between[0].toFixed(1)} and ${say.of(Number(between[1].toFixed(1)), 'degC')}`} is ${Math.round(betaKelvin)} K. Senders of this kind have ${lowestKelvin} to ${highestKelvin} K: was the sender warm right through, and the current small?`,
  SENDER_SPAN_SHORT: ({ spanCelsius }, say) =>
    `The points span ${say.of(Number(spanCelsius.toFixed(1)), 'degC')} only. Beta, and everything beyond them, hangs on the reading errors.`,
  SENDER_BETA_EXTRAPOLATED: (_, say) =>
    `Beta 25/85 is a guess: the points do not reach over ${say.range(25, 85, 'degC')}, and Beta grows with temperature.`,
  SENDER_MISFIT: () =>
    'The points lie further off the law than reading errors explain. Look at how far off each one lies.',
  SENDER_UNCERTAINTY_ASSUMED: () =>
    'No uncertainty was given and no point is left over. Usual workshop uncertainties are assumed.',
  SENDER_RISES_WITH_TEMPERATURE: () => 'The resistance rises with temperature: this is no NTC thermistor.',
  SENDER_STRAIGHT_ASSUMED: () =>
    'Two points: the sender is taken as straight between them. Measure one near the middle.',
  SENDER_POINT_QUESTIONED: (slots, say) =>
    `Point ${slots.pointNumber} (${say.ohm(slots.resistanceOhm)} at ${say.of(slots.value, slots.unit)}) lies ${say.of(Number(slots.residual.toPrecision(2)), slots.residualUnit)} off the others. Measure it again.`,
  SENDER_FLAT_STRETCH: ({ resistanceOhm, from, to, unit }, say) =>
    `${say.ohm(resistanceOhm)} stands for more than one value, ${say.range(from, to, unit)}. There the value is only bounded.`,
};

const LAW: Readonly<Record<string, string>> = {
  'steinhart-hart': 'a thermistor law',
  beta: 'a two-point thermistor law',
  exponential: 'an exponential with offset',
  linear: 'a straight line',
  polynomial: 'a smooth curve',
  table: 'a monotone curve through every point',
};

function shown({ shows, temperatureCount }: Exclude<SenderReason, { why: 'asked-for' }>): string {
  if (shows === undefined) return '';
  if (shows === 'two-temperatures') return ': two temperatures fix Beta and no more';
  return shows === 'rises-with-temperature'
    ? ': the resistance rises with temperature'
    : `: the resistance falls with temperature at ${temperatureCount} temperatures`;
}

/** Why the curve of a sender follows this law. */
export function reasonWords(reason: SenderReason, model: string, say: Notation): string {
  if (reason.why === 'asked-for') return 'Asked for by name.';
  const rejected = reason.rejected.map(({ model: other, missesBy }) =>
    missesBy === undefined
      ? `${other} does not fit`
      : `${other} misses the points by up to ${say.number(Number(missesBy.toPrecision(2)))}`,
  );
  const others = rejected.length === 0 ? '' : ` Not taken: ${listed(rejected)}.`;
  return reason.why === 'least-bad'
    ? `The least bad law.${others}`
    : `${capital(LAW[model] ?? model)}${shown(reason)}.${others}`;
}
