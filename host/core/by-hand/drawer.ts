/** A resistor as it lies in a drawer: what is printed on it, and how many of it there are. */
export type DrawerPart = {
  readonly resistanceOhm: number;
  /** Left out where nothing is printed. */
  readonly ratingWatt?: number | undefined;
  readonly count: number;
};

/** One piece of what was put together. */
export type Piece = Omit<DrawerPart, 'count'>;

/** A decade box: any multiple of its least step, from resistors of a rated wattage. */
export type DecadeBox = {
  readonly leastOhm: number;
  readonly mostOhm: number;
  readonly ratingWatt?: number | undefined;
};

export type Joint = 'single' | 'series' | 'parallel' | 'decade';

/**
 * A resistance that can be put on. Of a decade box the one piece is a resistor of its largest decade in use: that one
 * carries the whole current and may carry the least.
 */
export type Made = {
  readonly resistanceOhm: number;
  readonly joint: Joint;
  readonly pieces: readonly Piece[];
};

/** More than three in a row or side by side nobody clips together in a car. Common practice, no source. */
const MOST_PIECES = 3;
/** Other values that do as well as the one asked for: 130 to 170 for 150. */
const NEAR_RATIO = 1.15;
/** Nothing better in the drawer: so far off a value still tells something of the same stretch of the dial. */
const FAR_RATIO = 1.6;

const sum = (values: readonly number[]): number => values.reduce((total, each) => total + each, 0);

/** Pieces in the order of their ohms, no more of a part than there are; each choice once. */
function choices(parts: readonly DrawerPart[], most: number): readonly (readonly Piece[])[] {
  const found: Piece[][] = [];
  const add = (chosen: readonly Piece[], from: number, used: number): void => {
    if (chosen.length > 0) found.push([...chosen]);
    if (chosen.length === most) return;
    for (let at = from; at < parts.length; at += 1) {
      const { count, ...piece } = parts[at]!;
      const taken = at === from ? used : 0;
      if (taken < count) add([...chosen, piece], at, taken + 1);
    }
  };
  add([], 0, 0);
  return found;
}

const single = (piece: Piece): Made => ({
  resistanceOhm: piece.resistanceOhm,
  joint: 'single',
  pieces: [piece],
});

/**
 * Everything that parts make singly, in series and in parallel, three at most, in the order of ohms. Source: ohms in
 * series add, siemens side by side add.
 */
export function makeable(parts: readonly DrawerPart[]): readonly Made[] {
  const usable = parts.filter(({ resistanceOhm, count }) => resistanceOhm > 0 && count > 0);
  return choices(usable, MOST_PIECES)
    .flatMap((pieces): Made[] => {
      const [first] = pieces;
      if (pieces.length === 1 && first !== undefined) return [single(first)];
      const ohms = pieces.map(({ resistanceOhm }) => resistanceOhm);
      return [
        { resistanceOhm: sum(ohms), joint: 'series', pieces },
        { resistanceOhm: 1 / sum(ohms.map((ohm) => 1 / ohm)), joint: 'parallel', pieces },
      ];
    })
    .sort((one, other) => one.resistanceOhm - other.resistanceOhm);
}

/** What a decade box makes of a wanted resistance; undefined outside of it. Source: its decades are powers of ten. */
export function onDecade(box: DecadeBox, wantedOhm: number): Made | undefined {
  const resistanceOhm = Math.round(wantedOhm / box.leastOhm) * box.leastOhm;
  if (!(resistanceOhm >= box.leastOhm && resistanceOhm <= box.mostOhm)) return undefined;
  const rounded = Number(resistanceOhm.toPrecision(6));
  const decadeOhm = 10 ** Math.floor(Math.log10(rounded) + 1e-9);
  return {
    resistanceOhm: rounded,
    joint: 'decade',
    pieces: [{ resistanceOhm: decadeOhm, ratingWatt: box.ratingWatt }],
  };
}

/** What may be put on: nothing below a floor, nothing that a part could not bear. */
export type Allowed = {
  readonly leastOhm: number;
  readonly mostOhm?: number;
  readonly isBearable: (made: Made) => boolean;
};

/**
 * The least number of parts near a wanted resistance, of those the nearest; where none is near, the nearest that is not
 * far; undefined where there is none. Source: derived here, see tests/core/by-hand/drawer.test.ts.
 */
export function nearestMade(
  makes: readonly Made[],
  wantedOhm: number,
  { leastOhm, mostOhm = Infinity, isBearable }: Allowed,
): Made | undefined {
  const off = ({ resistanceOhm }: Made): number => Math.abs(Math.log(resistanceOhm / wantedOhm));
  const allowed = makes.filter(
    (made) =>
      made.resistanceOhm >= leastOhm &&
      made.resistanceOhm <= mostOhm &&
      off(made) <= Math.log(FAR_RATIO) &&
      isBearable(made),
  );
  const rank = (made: Made): number =>
    off(made) <= Math.log(NEAR_RATIO) ? made.pieces.length : MOST_PIECES + 1;
  return allowed.reduce<Made | undefined>((best, made) => {
    if (best === undefined || rank(made) < rank(best)) return made;
    return rank(made) === rank(best) && off(made) < off(best) ? made : best;
  }, undefined);
}

/** What will do instead of a resistance that was asked for, never below the floor. */
export const willDo = (
  resistanceOhm: number,
  leastOhm: number,
  mostOhm = Infinity,
): { readonly fromOhm: number; readonly toOhm: number } => ({
  fromOhm: Math.max(leastOhm, resistanceOhm / NEAR_RATIO),
  toOhm: Math.min(mostOhm, resistanceOhm * NEAR_RATIO),
});
