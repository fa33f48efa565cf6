import type { Car } from './car';
import { hasOwnGround, type GaugeFamily } from './family';
import { pull, restingPlace, type Scale } from './needle';

/** What hangs on the plug at the end of the sender wire: ohms to a place that may lie above battery negative. */
export type Load = { readonly ohm: number; readonly liftVolt: number };

export type State = {
  readonly place: number;
  /** The needle before its own mechanics, for a second approach. */
  readonly pulledPlace: number;
  readonly plugVolt: number;
  readonly senderAmp: number;
  readonly feedVolt: number;
  readonly caseVolt: number;
};

const OPEN_OHM = 1e7;
/** A battery gives way to lamps by so much an ampere. Common practice, no source. */
const BATTERY_OHM = 0.02;
/** Below this an electronic gauge does not start. Common practice, no source. */
const LEAST_ELECTRONIC_VOLT = 7;

/** The gauge as seen from its sender terminal: volts behind ohms; the gauge's own, and all that feed the wire. */
type Source = { readonly volt: number; readonly ohm: number };

const parallel = (one: number, other: number): number => (one * other) / (one + other);

/** Battery behind the feed's ohms, everything else on that feed beside it. Source: Thevenin's theorem. */
function behindFeed({ batteryVolt, lampAmp, feedOhm, othersOhm }: Car, isLit: boolean): Source {
  const volt = batteryVolt - (isLit ? BATTERY_OHM * lampAmp : 0);
  return { volt: (volt * othersOhm) / (othersOhm + feedOhm), ohm: parallel(feedOhm, othersOhm) };
}

/** How far the gauge's ground lies above battery negative before its own current. */
const groundLift = (car: Car, isLit: boolean): number =>
  car.sharedGroundOhm * (car.quietAmp + (isLit ? car.lampAmp : 0));

/** What the plug's load and the wire look like from the gauge. */
function outside(car: Car, load: Load): Source {
  const share = car.leakOhm / (car.leakOhm + load.ohm);
  return { volt: load.liftVolt * share, ohm: car.wireOhm + parallel(car.leakOhm, load.ohm) };
}

/** The source of a gauge in series with its sender: the stabiliser's, or the bare feed's where that gives less current. */
function seriesSource(car: Car, family: GaugeFamily, isLit: boolean, out: Source): Source {
  const feed = behindFeed(car, isLit);
  const bare = { volt: feed.volt, ohm: car.gaugeFactor * family.gaugeOhm + feed.ohm };
  if (!family.isStabilised || car.stabiliser === 'closed') return bare;
  if (car.stabiliser === 'open') return { volt: 0, ohm: OPEN_OHM };
  const held = { volt: family.feedVolt * car.stabiliserFactor, ohm: car.gaugeFactor * family.gaugeOhm };
  const amp = ({ volt, ohm }: Source): number => volt / (ohm + out.ohm);
  return amp(held) < amp(bare) ? held : bare;
}

/** A kind of gauge with its scale. */
export type Made = { readonly family: GaugeFamily; readonly scale: Scale };

/** Everything at rest with a load on the plug. Source: Thevenin's theorem, once from the gauge, once from the wire. */
export function solve(car: Car, { family, scale }: Made, load: Load, isLit = false): State {
  const out = outside(car, load);
  const lift = hasOwnGround(family) ? groundLift(car, isLit) : 0;
  const many = car.hasSecondGauge ? 2 : 1;
  const bus = behindFeed(car, isLit);
  const own = ownSource(car, family, { isLit, out, lift });
  const terminalVolt = ((many * own.volt) / own.ohm + out.volt / out.ohm) / (many / own.ohm + 1 / out.ohm);
  const wireAmp = (terminalVolt - out.volt) / out.ohm;
  const drive = driveOf(car, family, { own, terminalVolt, lift, bus });
  const isAsleep = family.kind === 'electronic' && bus.volt < LEAST_ELECTRONIC_VOLT;
  const turns = { gauge: car.gaugeTurns, operating: car.operatingTurns };
  const pulledPlace = isAsleep ? -1 : scale.place(pull(family, drive, turns), car.endsFactor);
  const plugVolt = terminalVolt - wireAmp * car.wireOhm;
  return {
    place: restingPlace(pulledPlace, car),
    pulledPlace,
    plugVolt,
    senderAmp: load.ohm >= OPEN_OHM ? 0 : (plugVolt - load.liftVolt) / load.ohm,
    feedVolt: Math.max(0, bus.volt - bus.ohm * feedAmp(car, family, drive.gaugeAmp)),
    caseVolt: lift + car.caseOhm * drive.operatingAmp,
  };
}

/** A pulsing stabiliser draws its average through the feed: the heating current squared over the peak. */
const feedAmp = (car: Car, { isStabilised, feedVolt }: GaugeFamily, amp: number): number =>
  isStabilised && car.stabiliser === 'works' ? (amp * feedVolt) / car.batteryVolt : Math.max(0, amp);

type Around = { readonly isLit: boolean; readonly out: Source; readonly lift: number };

function ownSource(car: Car, family: GaugeFamily, { isLit, out, lift }: Around): Source {
  if (family.kind === 'electronic')
    return { volt: car.isMute ? 0 : family.feedVolt + lift, ohm: car.gaugeFactor * family.gaugeOhm };
  if (family.operatingOhm === 0) return seriesSource(car, family, isLit, out);
  const bare = behindFeed(car, isLit);
  const feed = { volt: bare.volt, ohm: bare.ohm + car.gaugeFactor * family.gaugeOhm };
  const groundOhm = car.operatingFactor * family.operatingOhm + car.caseOhm;
  const ohm = parallel(feed.ohm, groundOhm);
  return { volt: ohm * (feed.volt / feed.ohm + lift / groundOhm), ohm };
}

type Terminal = {
  readonly own: Source;
  readonly terminalVolt: number;
  readonly lift: number;
  readonly bus: Source;
};

function driveOf(car: Car, family: GaugeFamily, { own, terminalVolt, lift, bus }: Terminal) {
  if (family.kind === 'electronic')
    return { gaugeAmp: 0, operatingAmp: 0, part: (terminalVolt - lift) / family.feedVolt };
  if (family.operatingOhm === 0)
    return { gaugeAmp: (own.volt - terminalVolt) / own.ohm, operatingAmp: 0, part: 0 };
  return {
    gaugeAmp: (bus.volt - terminalVolt) / (bus.ohm + car.gaugeFactor * family.gaugeOhm),
    operatingAmp: (terminalVolt - lift) / (car.operatingFactor * family.operatingOhm + car.caseOhm),
    part: 0,
  };
}

/** Nothing on the plug. */
export const OPEN_LOAD: Load = { ohm: OPEN_OHM, liftVolt: 0 };

/** The sender's own ohms where a good one has `goodOhm`; with the other one beside it where two share the wire. */
export function senderOhm(car: Car, family: GaugeFamily, goodOhm: number): number {
  const { sender } = car;
  const middle = Math.log(Math.max(0.5, family.lowEndOhm) * Math.max(0.5, family.highEndOhm)) / 2;
  const from = (Math.log(goodOhm) - middle) * (sender.isReversed ? -1 : 1);
  const alone = sender.fixedOhm ?? sender.factor * Math.exp(middle + sender.slope * from);
  return car.hasSecondSender ? parallel(alone, car.secondFactor * goodOhm) : alone;
}

/** The sender with its way to battery negative as the load. */
export function senderLoad(car: Car, ownOhm: number, isLoaded: boolean): Load {
  const strapAmp = isLoaded ? car.strapAmpOn : car.strapAmpOff;
  return { ohm: ownOhm + car.hexOhm + car.strapOhm, liftVolt: strapAmp * car.strapOhm };
}
