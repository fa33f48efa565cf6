import type { Box } from './label-place';
import { wordsWidth } from './text-width';

/** How a plot is laid out for its width: letters are never scaled, a narrow plot is drawn anew. Pixels. */
export type PlotSpace = {
  readonly width: number;
  readonly height: number;
  /** Where curves are drawn: over the strip, beside the figures of the upright axis. */
  readonly plot: Box;
  readonly stripPixel: number;
  readonly textPixel: number;
  readonly figurePixel: number;
  readonly isNarrow: boolean;
};

/** Narrower than this, in pixels of ordinary type, a plot is drawn as for a phone. */
const NARROW_PIXEL = 560;
const WIDE = { text: 15, figure: 19, strip: 44, height: 356 };
const NARROW = { text: 13, figure: 17, strip: 40, height: 320 };
/** Upright ticks nearer than this are hard to tell apart. */
const TICK_PIXEL = 38;
const BESIDE_PIXEL = 18;
const OVER_PIXEL = 28;

export type PlotWish = {
  readonly width: number;
  /** 1 with type as it is, 2 where somebody has set it twice as large. */
  readonly typeFactor: number;
  /** Lower than usual: a glance beside other work. */
  readonly heightPixel?: number | undefined;
};

const lettersFor = ({ width, typeFactor, heightPixel }: PlotWish) => {
  const isNarrow = width < NARROW_PIXEL * typeFactor;
  const sizes = isNarrow ? NARROW : WIDE;
  const height = heightPixel ?? sizes.height;
  return { isNarrow, sizes, height: height + (typeFactor - 1) * 60 };
};

/** How many ticks the upright axis has room for. */
export const mostTicks = (wish: PlotWish): number => {
  const { sizes, height } = lettersFor(wish);
  return Math.max(2, Math.floor((height - sizes.strip * wish.typeFactor) / (TICK_PIXEL * wish.typeFactor)));
};

/** The layout, once the texts beside the upright axis are known. */
export function plotSpace(wish: PlotWish, tickTexts: readonly string[]): PlotSpace {
  const { isNarrow, sizes, height } = lettersFor(wish);
  const textPixel = sizes.text * wish.typeFactor;
  const stripPixel = sizes.strip * wish.typeFactor;
  const beside = Math.max(0, ...tickTexts.map((text) => wordsWidth(text, textPixel))) + BESIDE_PIXEL;
  return {
    width: wish.width,
    height,
    plot: {
      left: Math.round(beside),
      right: wish.width - 2,
      top: Math.round(OVER_PIXEL * wish.typeFactor),
      bottom: height - stripPixel,
    },
    stripPixel,
    textPixel,
    figurePixel: sizes.figure * wish.typeFactor,
    isNarrow,
  };
}
