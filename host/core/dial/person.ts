/**
 * What a person can do who reads a needle, as parts of the arc (1 = from the low end of the scale to the high end).
 * One place for both sides: the curve's budget allows for it, the simulated person errs by it.
 * Common practice, no source. The parallax is geometry: a needle 1.2 mm above the face, an eye off the normal by 3
 * degrees (one standard deviation) and an arc of 31 mm, as a 52 mm instrument has, make 1.2 tan 3 deg / 31 = 0.002.
 */
export const person = {
  /** Eye off the normal, standard deviation: one shift for a whole sweep, so repeats do not average it away. */
  parallaxPart: 0.002,
  /** Each look anew, standard deviation. */
  lookPart: 0.003,
  /**
   * "On the mark" is said while the needle seems nearer to it than this. A search that starts where earlier marks say the
   * mark is ends at the first "on": then the marks share this error.
   */
  onMarkPart: 0.004,
} as const;

/** Standard deviation of a needle walked onto a mark: one look, and anywhere within "on it". Source: rectangular half width. */
export const soughtPart = Math.hypot(person.lookPart, person.onMarkPart / Math.sqrt(3));
