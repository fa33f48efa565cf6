/** One reading made ready for fitting. */
export type Row = {
  /** Place in the caller's list. */
  readonly index: number;
  readonly ohm: number;
  /** Place of the needle: a part of the arc where the dial is known, the reading where it is not. */
  readonly reading: number;
  /** The needle lags: on the way up it reads low (-1), on the way down high (+1); 0 when the leg is not known. */
  readonly legSign: -1 | 0 | 1;
  /** A reading at a stop only bounds the curve. */
  readonly bound: 'none' | 'at most' | 'at least';
  /** Standard uncertainty relative to the typical one. */
  readonly relativeScatter: number;
  /** Rows of one number were taken at one setting of the box. */
  readonly setting: number;
};
