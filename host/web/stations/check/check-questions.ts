import { preferredValues } from '../../../core/preferred';
import { question } from '../../../job/check/not-asked';
import { scaleOf } from '../../../job/schema/scale';
import type { Gauge } from '../../../job/schema/gauge';
import type { JobState } from '../../../job/state/state';
import { shownPart, shownReading } from '../../parts/words';

/** A question with a few answers, in words a person uses; the evidence it gives is in `suggestFinding`. */
export type CheckQuestion = {
  readonly id: string;
  readonly asks: string;
  readonly why: string;
  readonly answers: readonly { readonly value: string; readonly words: string }[];
};

export type Job = Pick<JobState, 'place' | 'gauge'>;

const YES_NO = [
  { value: 'yes', words: 'Yes' },
  { value: 'no', words: 'No' },
  { value: 'not-known', words: 'Cannot tell' },
] as const;

/** A tank's wire is parted at the dash end only; any other where it meets its sender. */
export const wireOff = ({ place, gauge }: Job): string =>
  place === 'car' && gauge.quantity === 'fuel'
    ? 'the sender wire off at the dash end'
    : 'the wire off the sender';

/** A bench has a supply; only a vehicle has an ignition. */
export const powerOf = ({ place }: Job) =>
  place === 'car' ? { on: 'ignition on', off: 'ignition off' } : { on: 'supply on', off: 'supply off' };

export const otherGauges: CheckQuestion = {
  id: question.otherGauges,
  asks: 'Are other gauges in this dash wrong the same way?',
  why: 'Gauges that share a stabiliser or a ground go wrong together.',
  answers: YES_NO,
};
export const lightsStep: CheckQuestion = {
  id: question.lights,
  asks: 'Switch the headlights on: does the needle step?',
  why: 'With the needle off its stops. A step with the lights is proof of a bad ground, not of a bad curve.',
  answers: [
    { value: 'yes', words: 'Yes' },
    { value: 'no', words: 'No' },
    { value: 'on-its-stop', words: 'It lies on its stop' },
    { value: 'not-known', words: 'Cannot tell' },
  ],
};
export const rocking: CheckQuestion = {
  id: question.rocking,
  asks: 'Rock the vehicle: does the needle jump?',
  why: 'A worn track in the tank loses contact for a moment. A slow swing with the fuel is no jump.',
  answers: YES_NO,
};

export const unplugged = (job: Job): CheckQuestion => {
  const { on, off } = powerOf(job);
  return {
    id: question.senderOff,
    asks: `${capital(off)}, pull ${wireOff(job)}, ${on}: where does the needle go?`,
    why: 'With the sender wire open the needle belongs at one end.',
    answers: [
      { value: 'low-end', words: 'Low end' },
      { value: 'high-end', words: 'High end' },
      { value: 'stays', words: 'Stays where it was' },
      { value: 'not-known', words: 'Cannot tell' },
    ],
  };
};

export const capital = (words: string): string => `${words.charAt(0).toUpperCase()}${words.slice(1)}`;

/** Where no range is known: within every family in circulation. Common practice, no source. */
const USUAL_OHM = 100;

const ROUGH_PARTS = 20;

/** A resistor of the middle of the usual range, as parts are sold, and about what a gauge of that family shows with it. */
export const knownLoad = ({
  gauge,
}: {
  readonly gauge: Pick<Gauge, 'family' | 'marks'>;
}): { readonly ohm: number; readonly shows?: number } => {
  const { family, marks } = gauge;
  if (family === undefined || !(family.lowEndOhm > 0 && family.highEndOhm > 0)) return { ohm: USUAL_OHM };
  const ohm = nearestPart(Math.sqrt(family.lowEndOhm * family.highEndOhm));
  const { lowest, span } = scaleOf(marks);
  const share = Math.log(ohm / family.lowEndOhm) / Math.log(family.highEndOhm / family.lowEndOhm);
  // A usual range tells no more than about so much.
  return Number.isFinite(share)
    ? { ohm, shows: lowest + (span * Math.round(ROUGH_PARTS * share)) / ROUGH_PARTS }
    : { ohm };
};

const nearestPart = (ohm: number): number => {
  const distance = (value: number): number => Math.abs(Math.log(value / ohm));
  const [nearest] = preferredValues('E12', ohm / 2, 2 * ohm).sort((a, b) => distance(a) - distance(b));
  return nearest ?? ohm;
};

export function onKnownLoad(job: Job): CheckQuestion {
  const { on, off } = powerOf(job);
  const { ohm, shows } = knownLoad(job);
  const where = shows === undefined ? undefined : shownReading(shows, job.gauge);
  const first =
    job.gauge.mechanism === 'unknown'
      ? 'Nobody knows what this gauge can take: try ten times as much first. '
      : '';
  return {
    id: question.knownLoad,
    asks: `A resistor of about ${shownPart(ohm)} in the sender\u2019s place: where does the needle go?`,
    why: `${capital(off)}, ${wireOff(job)}, the resistor from that wire to ground, ${on}, wait a minute. ${first}5 W or more, lying on nothing that melts: it gets warm. It tells a wrong gauge from a wrong sender.`,
    answers:
      where === undefined
        ? [
            { value: 'there', words: 'It moves off its stop' },
            { value: 'still', words: 'It does not move' },
            { value: 'not-known', words: 'Cannot tell' },
          ]
        : [
            { value: 'there', words: `To about ${where}` },
            { value: 'elsewhere', words: 'It moves, but elsewhere' },
            { value: 'still', words: 'It does not move' },
            { value: 'not-known', words: 'Cannot tell' },
          ],
  };
}

export const bothWays = (job: Job): CheckQuestion => ({
  id: question.bothWays,
  asks: `The same ${shownPart(knownLoad(job).ohm)} from the other side: does the needle come back to one place?`,
  why: 'Let it settle from below, then from above: half the resistance first, or twice. A needle that sticks stops short on each side.',
  answers: [
    { value: 'yes', words: 'Yes, the same place' },
    { value: 'no', words: 'No, it stops short' },
    { value: 'not-known', words: 'Cannot tell' },
  ],
});
