import { dialFromMarks } from '../../../host/core/dial';
import { fitCurve, gaugeResponse } from '../../../host/core/curve';
import { randomSource, type RandomSource } from '../../../host/core/numeric/random';
import type { GaugeResponse, SenderResponse } from '../../../host/core/response';
import { fitSender, senderResponse } from '../../../host/core/sender';
import { answered } from '../../support/answer';
import { beadOhm } from '../at-work/world';

/**
 * A car as it is, by conductances and node voltages, its sender by an activation energy: no formula of host/core. What a
 * gauge shows is where its coil's heat (or the angle of its two coils) stands on a dial that was printed for one sender.
 */
export type Fault = {
  readonly seriesOhm?: number;
  readonly leakOhm?: number;
  readonly voltPart?: number;
  readonly groundVolt?: number;
  readonly senderPart?: number;
  readonly pointer?: number;
};

export type Kind = 'thermal' | 'coils';

const VOLT = 10;
const HEATER_OHM = 58;
const COIL_OHM = 90;
const OHM_AT_100 = 40;
const ELECTRONVOLT = 0.325;

/** The sender that the dial was printed for. */
const bookOhm = (celsius: number): number =>
  beadOhm(
    { ohmAt100: OHM_AT_100, electronvolt: ELECTRONVOLT, wattPerKelvin: 1, secondsToFollow: 1 },
    celsius,
  );

/** Volts of the node at the sender terminal, by conductances; the sender hangs on a ground that may be lifted. */
const nodeVolt = (
  kind: Kind,
  senderOhm: number,
  fault: Fault,
): { readonly node: number; readonly feed: number } => {
  const feed = VOLT * (1 + (fault.voltPart ?? 0));
  const branch = 1 / (senderOhm + (fault.seriesOhm ?? 0));
  const leak = fault.leakOhm === undefined ? 0 : 1 / fault.leakOhm;
  const up = 1 / (kind === 'thermal' ? HEATER_OHM : COIL_OHM);
  const down = kind === 'thermal' ? 0 : 1 / COIL_OHM;
  const lifted = fault.groundVolt ?? 0;
  return { feed, node: (feed * up + lifted * branch) / (up + down + branch + leak) };
};

/** What moves the needle: heat of the one coil, or the angle that the two coils' fields make. */
const drive = (kind: Kind, senderOhm: number, fault: Fault): number => {
  const { node, feed } = nodeVolt(kind, senderOhm, fault);
  if (kind === 'thermal') return (feed - node) ** 2 / HEATER_OHM;
  return Math.atan2(node / COIL_OHM, (feed - node) / COIL_OHM);
};

/** The printed dial: at which temperature the book sender gives this drive, by bisection. */
const printed = (kind: Kind, moved: number): number => {
  let [low, high] = [20, 140];
  for (let step = 0; step < 40; step += 1) {
    const middle = (low + high) / 2;
    const isHotter =
      kind === 'thermal'
        ? drive(kind, bookOhm(middle), {}) < moved
        : drive(kind, bookOhm(middle), {}) > moved;
    if (isHotter) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
};

/** What the needle shows with this sender's ohms in the car, degC. */
const needle = (kind: Kind, senderOhm: number, fault: Fault = {}): number =>
  printed(kind, drive(kind, senderOhm, fault)) + (fault.pointer ?? 0);

export type Car = {
  readonly shows: (celsius: number, fault?: Fault) => number;
  readonly ohm: (celsius: number) => number;
};

/** What stands in the vehicle's wire, whoever put it there. */
export const needleWith = needle;

/** A car whose sender has so many times the ohms of the book, and so many times its steepness about 80 degC. */
export const carOf = (kind: Kind, part = 1, steepness = 1): Car => {
  const ohm = (celsius: number): number => part * bookOhm(80) * (bookOhm(celsius) / bookOhm(80)) ** steepness;
  return {
    ohm,
    shows: (celsius, fault = {}) => needle(kind, ohm(celsius) * (1 + (fault.senderPart ?? 0)), fault),
  };
};

/** The printed face: where each temperature stands on the arc. A needle of heat turns by heat, one of coils by their angle. */
export const marksOf = (kind: Kind) => {
  const marks = [40, 60, 80, 100, 120];
  const drives = marks.map((celsius) => drive(kind, bookOhm(celsius), {}));
  const [first, last] = [drives[0]!, drives.at(-1)!];
  const fractions = drives.map((each) => (each - first) / (last - first));
  return marks.map((reading, i) => ({ label: `${reading}`, reading, angleFraction: fractions[i]! }));
};

const faceOf = (kind: Kind) => answered(dialFromMarks(marksOf(kind)));

export type Noise = { readonly random: RandomSource; readonly needle: number };

/** The gauge as a shop measures it on the bench: known ohms, the needle read by eye. */
export const measuredGauge = (kind: Kind, { random, needle: spread }: Noise): GaugeResponse => {
  const ohms = Array.from(
    { length: 14 },
    (_, step) => bookOhm(118) * (bookOhm(41) / bookOhm(118)) ** (step / 13),
  );
  const readings = ohms.flatMap((resistanceOhm) =>
    (['up', 'down'] as const).map((leg) => ({
      resistanceOhm,
      leg,
      reading: needle(kind, resistanceOhm) + spread * random.normal(),
    })),
  );
  const curve = answered(
    fitCurve(readings, {
      unit: 'degC',
      dial: faceOf(kind),
      quantity: 'temperature',
      mechanism: kind === 'thermal' ? 'thermal' : 'two-coil',
    }),
  );
  return gaugeResponse(curve);
};

/** The sender as it was measured in a bath: ohms known to so many parts at each temperature. */
export const measuredSender = (car: Car, random: RandomSource, part: number): SenderResponse => {
  const shared = 1 + part * random.normal();
  const points = [25, 40, 55, 70, 85, 100, 115].map((value) => ({
    value,
    resistanceOhm: car.ohm(value) * shared,
    valueUncertainty: 0.3,
    resistanceUncertaintyOhm: part * car.ohm(value),
  }));
  const response = senderResponse(answered(fitSender(points, { unit: 'degC' })));
  if ('kind' in response) throw new Error('a sender without a curve');
  return response;
};

export const noiseOf = (seed: number, needleSpread: number): Noise => ({
  random: randomSource(seed),
  needle: needleSpread,
});
