/**
 * A sender in its gauge's circuit, as nature does it: node voltages by elimination, the sender's body as a heat store
 * that is followed in time, its resistance from an activation energy. Shares no formula with host/core: no Thevenin
 * source, no series and parallel rule, no fixed point.
 */

/** Boltzmann's constant in electronvolt per kelvin. Source: SI, 1.380649e-23 J/K over 1.602176634e-19 C, both exact. */
const BOLTZMANN_EV = 1.380649e-23 / 1.602176634e-19;
const ZERO_CELSIUS = 273.15;

/** A thermistor bead in a brass body: ohms at 100 degC, activation energy, what its body sheds, how fast it follows. */
export type Body = {
  readonly ohmAt100: number;
  readonly electronvolt: number;
  readonly wattPerKelvin: number;
  readonly secondsToFollow: number;
};

/** Resistance of the bead at its own temperature. Source: Arrhenius conduction in a semiconductor, R ~ exp(E / kT). */
export const beadOhm = ({ ohmAt100, electronvolt }: Body, celsius: number): number =>
  ohmAt100 *
  Math.exp((electronvolt / BOLTZMANN_EV) * (1 / (celsius + ZERO_CELSIUS) - 1 / (100 + ZERO_CELSIUS)));

/** Volts between feed and ground over time: `volt` for `onSecond`, nothing for `offSecond`. */
export type Feed = { readonly volt: number; readonly onSecond: number; readonly offSecond: number };

/** Coils between feed and sender terminal, and from there to ground (three terminals), ohm. */
export type Gauge = { readonly feedOhm: number; readonly groundOhm?: number };

/** What is soldered between gauge and sender; a part that is not there is left out. */
export type Soldered = {
  readonly gaugeSideOhm?: number;
  readonly shuntOhm?: number;
  readonly senderSideOhm?: number;
  readonly acrossGaugeOhm?: number;
};

export type World = {
  readonly feed: Feed;
  readonly gauge: Gauge;
  readonly body: Body;
  /** How the needle takes the two coils' currents: heat of the one, or the ratio of the two. */
  readonly feels: 'heat' | 'ratio';
};

/** A wire: far below anything that matters, and the equations stay regular. */
const WIRE_SIEMENS = 1e4;
const siemensOf = (ohm: number | undefined, otherwise: number): number =>
  ohm === undefined ? otherwise : Math.min(WIRE_SIEMENS, 1 / ohm);

/** Volts at gauge terminal, joint and sender by elimination of the conductance matrix (Kirchhoff's current law). */
const nodes = (
  { gauge }: World,
  parts: Soldered,
  volt: number,
  senderOhm: number,
): readonly [terminal: number, joint: number, sender: number] => {
  const fromFeed = 1 / gauge.feedOhm + siemensOf(parts.acrossGaugeOhm, 0);
  const near = siemensOf(parts.gaugeSideOhm, WIRE_SIEMENS);
  const far = siemensOf(parts.senderSideOhm, WIRE_SIEMENS);
  const rows = [
    [fromFeed + siemensOf(gauge.groundOhm, 0) + near, -near, 0, fromFeed * volt],
    [-near, near + far + siemensOf(parts.shuntOhm, 0), -far, 0],
    [0, -far, far + 1 / senderOhm, 0],
  ];
  for (let pivot = 0; pivot < 3; pivot += 1)
    for (let row = pivot + 1; row < 3; row += 1) {
      const factor = rows[row]![pivot]! / rows[pivot]![pivot]!;
      for (let column = pivot; column < 4; column += 1) rows[row]![column]! -= factor * rows[pivot]![column]!;
    }
  const sender = rows[2]![3]! / rows[2]![2]!;
  const joint = (rows[1]![3]! - rows[1]![2]! * sender) / rows[1]![1]!;
  const terminal = (rows[0]![3]! - rows[0]![1]! * joint) / rows[0]![0]!;
  return [terminal, joint, sender];
};

/** What moves the needle while the feed is on. */
const felt = (world: World, volt: number, terminalVolt: number): number => {
  const amp = (volt - terminalVolt) / world.gauge.feedOhm;
  if (world.feels === 'heat') return amp * amp * world.gauge.feedOhm;
  return terminalVolt / (world.gauge.groundOhm ?? world.gauge.feedOhm) / amp;
};

export type Settled = {
  /** Temperature, ohms and mean power of the sender's body once nothing changes any more but the pulses. */
  readonly celsius: number;
  readonly ohm: number;
  readonly watt: number;
  /** What moves the needle, averaged over whole pulses. */
  readonly felt: number;
};

const STEP_SECOND = 0.2;

/** The circuit followed from a cold start until the body has settled, then averaged over whole pulses. */
export const settled = (world: World, coolantCelsius: number, parts: Soldered = {}): Settled => {
  const { body, feed } = world;
  const heatCapacity = body.wattPerKelvin * body.secondsToFollow;
  const period = feed.onSecond + feed.offSecond;
  const settling = Math.ceil((12 * body.secondsToFollow) / period) * period;
  const averaged = Math.ceil(10 / period) * period;
  const steps = Math.round((settling + averaged) / STEP_SECOND);
  const sums = { celsius: 0, ohm: 0, watt: 0, felt: 0, count: 0, on: 0 };
  let celsius = coolantCelsius;
  for (let step = 0; step < steps; step += 1) {
    const second = step * STEP_SECOND;
    const isOn = (second + STEP_SECOND / 2) % period < feed.onSecond;
    const volt = isOn ? feed.volt : 0;
    const ohm = beadOhm(body, celsius);
    const [terminal, , sender] = nodes(world, parts, volt, ohm);
    const watt = (sender * sender) / ohm;
    if (second >= settling - STEP_SECOND / 2) {
      sums.celsius += celsius;
      sums.ohm += ohm;
      sums.watt += watt;
      sums.count += 1;
      sums.on += isOn ? 1 : 0;
      if (isOn) sums.felt += felt(world, volt, terminal);
    }
    celsius += ((watt - body.wattPerKelvin * (celsius - coolantCelsius)) / heatCapacity) * STEP_SECOND;
  }
  return {
    celsius: sums.celsius / sums.count,
    ohm: sums.ohm / sums.count,
    watt: sums.watt / sums.count,
    // Heat is averaged over all of the time, a ratio over the time it exists.
    felt: sums.felt / (world.feels === 'heat' ? sums.count : sums.on),
  };
};

/** Volts at the gauge's sender terminal with `ohm` from there to ground, feed on: one node, three branches. */
export const terminalVolt = ({ feed, gauge }: World, ohm: number): number =>
  feed.volt / gauge.feedOhm / (1 / gauge.feedOhm + siemensOf(gauge.groundOhm, 0) + 1 / ohm);

/** What moves the needle with a fixed resistor in the sender's place: a sweep with a box. */
export const feltWith = (world: World, ohm: number): number => {
  const { volt, onSecond, offSecond } = world.feed;
  const terminal = terminalVolt(world, ohm);
  const share = world.feels === 'heat' ? onSecond / (onSecond + offSecond) : 1;
  return felt(world, volt, terminal) * share;
};

/** One moment at which a person reads a meter: is the lead on, the volts on the sender, the feed's volts. */
export type Watched = { readonly second: number; readonly senderVolt: number; readonly celsius: number };

/**
 * The circuit followed while somebody clips the lead on and off and the coolant drifts; a ground of `groundOhm` is in the
 * sender's return. The meter reads from the lead to the engine block, at the seconds asked, averaged over a second.
 */
export const watched = (
  world: World,
  course: {
    readonly coolant: (second: number) => number;
    readonly isOn: (second: number) => boolean;
    readonly groundOhm?: number;
    readonly at: readonly number[];
  },
): readonly Watched[] => {
  const { body, feed } = world;
  const step = 0.02;
  const heatCapacity = body.wattPerKelvin * body.secondsToFollow;
  const seen: Watched[] = [];
  let celsius = course.coolant(0);
  let next = 0;
  for (let second = 0; next < course.at.length; second += step) {
    const beadNow = beadOhm(body, celsius);
    const loop = beadNow + (course.groundOhm ?? 0);
    const [terminal] = course.isOn(second) ? nodes(world, {}, feed.volt, loop) : [0];
    const amp = terminal / loop;
    if (second >= course.at[next]! - step / 2) {
      seen.push({ second: course.at[next]!, senderVolt: terminal, celsius });
      next += 1;
    }
    const shed = body.wattPerKelvin * (celsius - course.coolant(second));
    celsius += ((amp * amp * beadNow - shed) / heatCapacity) * step;
  }
  return seen;
};
