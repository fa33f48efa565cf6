import type { SenderWatchLive } from '../../../job/wire/job-messages';

/** A thermistor's resistance moves by about this part a kelvin: B = 3,900 K near 75 degC. Common practice, no source. */
const PART_PER_KELVIN = 0.032;
/** A brass-bodied sender follows its bath this late. Common practice, no source: 5 to 30 s. */
const LAG_MINUTE = 20 / 60;

export type Motion = {
  readonly ohmPerMinute: number;
  /** About how fast the bath changes, and how far a sender lags behind it: thermistors only. */
  readonly kelvinPerMinute: number;
  readonly lagKelvin: number;
};

/**
 * What the drift of a thermistor says of its bath: rate = (dR/dt) / (R alpha), lag = rate times time constant.
 * Source: alpha = -B / T^2; first-order lag behind a ramp.
 */
export const motionOf = (watch: SenderWatchLive): Motion | undefined => {
  const { driftOhmPerMinute: ohmPerMinute, resistanceOhm } = watch;
  if (ohmPerMinute === undefined || resistanceOhm === undefined || !(resistanceOhm > 0)) return undefined;
  const kelvinPerMinute = Math.abs(ohmPerMinute / resistanceOhm) / PART_PER_KELVIN;
  return { ohmPerMinute, kelvinPerMinute, lagKelvin: kelvinPerMinute * LAG_MINUTE };
};
