import type { Car } from './car';
import type { GaugeFamily } from './family';

/** What moves a needle: ampere through the gauge and through its operating coil, and the part of its reference that an electronic one sees. */
export type Drive = { readonly gaugeAmp: number; readonly operatingAmp: number; readonly part: number };

/** Turns of the high and of the bucking coil of a crossed gauge, over those of the low coil. Common practice, no source. */
const HIGH_TURNS = 1.1;
const BUCKING_TURNS = 0.35;

/**
 * What the mechanism makes of its drive, in its own measure: heat, torque, angle, part of the reference.
 * Source: P = I^2 R; linear torque balance; resultant field of crossed coils; voltage divider.
 */
export function pull(
  { kind }: GaugeFamily,
  { gaugeAmp, operatingAmp, part }: Drive,
  turns: { readonly gauge: number; readonly operating: number },
): number {
  const first = turns.gauge * gaugeAmp;
  const second = turns.operating * operatingAmp;
  switch (kind) {
    case 'thermal':
      return turns.gauge * gaugeAmp * gaugeAmp;
    case 'moving-coil':
      return first;
    case 'two-coil':
      return Math.atan2(second, first);
    case 'cross-coil':
      return Math.atan2(HIGH_TURNS * second, first - BUCKING_TURNS * second);
    case 'electronic':
      return part;
  }
}

/** The drive of the family's circuit with nothing wrong and this much on the wire, ohm. */
function usualDrive(family: GaugeFamily, ohm: number): Drive {
  const { gaugeOhm, operatingOhm, feedVolt } = family;
  if (operatingOhm === 0) {
    const gaugeAmp = feedVolt / (gaugeOhm + ohm);
    return { gaugeAmp, operatingAmp: 0, part: ohm / (gaugeOhm + ohm) };
  }
  const beside = (ohm * operatingOhm) / (ohm + operatingOhm);
  const gaugeAmp = feedVolt / (gaugeOhm + beside);
  return { gaugeAmp, operatingAmp: (gaugeAmp * beside) / operatingOhm, part: 0 };
}

const WHOLE = { gauge: 1, operating: 1 } as const;
const LOW_STOP = -0.05;
const HIGH_STOP = 1.05;

export type Scale = {
  /** Part of the scale for a pull; not held by the stops. */
  readonly place: (pull: number, endsFactor: number) => number;
  /** Ohms of a good sender for a place on the scale. */
  readonly ohmAt: (place: number) => number;
};

/** The scale of a family: linear in what its mechanism makes, from the sender's ohms at one end to those at the other. */
export function scaleOf(family: GaugeFamily): Scale {
  const { lowEndOhm, highEndOhm } = family;
  const at = (ohm: number): number => pull(family, usualDrive(family, ohm), WHOLE);
  const kept = new Map<number, readonly [number, number]>();
  const ends = (factor: number): readonly [number, number] => {
    const known = kept.get(factor);
    if (known !== undefined) return known;
    const fresh = [at(lowEndOhm * factor), at(highEndOhm * factor)] as const;
    if (factor === 1) kept.set(factor, fresh);
    return fresh;
  };
  const place = (pulled: number, factor: number): number => {
    const [low, high] = ends(factor);
    return (pulled - low) / (high - low);
  };
  return { place, ohmAt: (wanted) => ohmBySearch((ohm) => place(at(ohm), 1), wanted, family) };
}

const HALVINGS = 40;

/** By halving in ln ohm: the place runs one way with the ohms. */
function ohmBySearch(placeAt: (ohm: number) => number, wanted: number, family: GaugeFamily): number {
  const rises = family.highEndOhm > family.lowEndOhm;
  let low = Math.log(0.05);
  let high = Math.log(1e5);
  for (let index = 0; index < HALVINGS; index += 1) {
    const middle = (low + high) / 2;
    if (placeAt(Math.exp(middle)) < wanted === rises) low = middle;
    else high = middle;
  }
  return Math.exp((low + high) / 2);
}

/** Where the needle comes to rest, part of the scale, by what its own mechanics add. */
export function restingPlace(place: number, car: Car, side = car.approach): number {
  const held = car.flat !== undefined && place > car.flat.from && place < car.flat.to ? car.flat.from : place;
  const seen = held * car.stretch + car.shift + car.lag * side;
  return Math.min(HIGH_STOP, Math.max(LOW_STOP, car.isDead ? LOW_STOP : seen));
}
