import type { JSX } from 'preact';
import type { DialStrip } from '../../scene/dial-strip';
import type { PlotSpace } from '../../scene/plot-space';
import { figureWidth, wordsWidth } from '../../scene/text-width';
import { tileMiddles } from './tile-places';

/** What stands under a mark: ohms, and how well they are known. */
export type Tile = {
  readonly reading: number;
  /** The mark in words, for who cannot see where the tile hangs. */
  readonly at: string;
  readonly value: string;
  readonly sure: string;
};

type TilesProps = {
  readonly tiles: readonly Tile[];
  readonly strip: DialStrip;
  readonly space: PlotSpace;
  readonly typeFactor: number;
};

/** Sizes of a tile's value, the largest first, and the room round it. */
const SIZES = [
  { value: 26, sure: 15, beside: 14 },
  { value: 20, sure: 15, beside: 10 },
  { value: 16, sure: 13, beside: 6 },
];
/** A tile that had to move this far from its mark is joined to it by a thin line. */
const MOVED_PIXEL = 4;
const LEADER_PIXEL = 12;
const HEIGHT_FACTOR = 1.62;
const ORDINARY_TYPE_PIXEL = 16;

const widthOf = (tile: Tile, size: (typeof SIZES)[number], typeFactor: number): number =>
  Math.max(figureWidth(tile.value, size.value * typeFactor), wordsWidth(tile.sure, size.sure * typeFactor)) +
  size.beside;

/** Tiles hang under their marks; where they do not fit side by side they stand in rows, each with its mark. */
export function Tiles({ tiles, strip, space, typeFactor }: TilesProps): JSX.Element {
  const placed = [...tiles]
    .map((tile) => ({ tile, x: strip.xOf(tile.reading) }))
    .sort((one, other) => one.x - other.x);
  const fits = SIZES.flatMap((size) => {
    const middles = tileMiddles(
      placed.map(({ tile, x }) => ({ x, width: widthOf(tile, size, typeFactor) })),
      strip.left,
      strip.right,
    );
    return middles === undefined ? [] : [{ size, middles }];
  })[0];
  if (fits === undefined)
    return (
      <ol class="tiles tiles-rows">
        {placed.map(({ tile }) => (
          <TileText key={tile.reading} tile={tile} isApart />
        ))}
      </ol>
    );
  const { size, middles } = fits;
  const isMoved = middles.some(
    (middle, index) => Math.abs(middle - (placed[index]?.x ?? middle)) > MOVED_PIXEL,
  );
  return (
    <>
      {isMoved ? <Leaders xs={placed.map(({ x }) => x)} middles={middles} width={space.width} /> : null}
      <ol
        class="tiles tiles-hanging"
        style={{
          marginLeft: `${strip.left}px`,
          width: `${strip.right - strip.left}px`,
          height: `${(size.value + size.sure) * HEIGHT_FACTOR * typeFactor}px`,
          '--tile-value': `${size.value / ORDINARY_TYPE_PIXEL}rem`,
          '--tile-sure': `${size.sure / ORDINARY_TYPE_PIXEL}rem`,
        }}
      >
        {placed.map(({ tile }, index) => (
          <TileText key={tile.reading} tile={tile} style={edgesOf(index, middles, strip)} />
        ))}
      </ol>
    </>
  );
}

type TileEdges = Readonly<Record<'left' | 'width' | 'paddingLeft' | 'paddingRight', string>>;

/** A tile reaches half way to its neighbours, its text in its middle. */
function edgesOf(index: number, middles: readonly number[], strip: DialStrip): TileEdges {
  const middle = middles[index] ?? 0;
  const before = middles[index - 1];
  const after = middles[index + 1];
  const from = before === undefined ? strip.left : (before + middle) / 2;
  const to = after === undefined ? strip.right : (middle + after) / 2;
  return {
    left: `${from - strip.left}px`,
    width: `${to - from}px`,
    paddingLeft: `${Math.max(0, 2 * middle - from - to)}px`,
    paddingRight: `${Math.max(0, from + to - 2 * middle)}px`,
  };
}

type TextProps = {
  readonly tile: Tile;
  readonly isApart?: boolean;
  readonly style?: TileEdges;
};

const TileText = ({ tile, isApart, style }: TextProps): JSX.Element => (
  <li {...(style === undefined ? {} : { style })}>
    <span class={isApart === true ? 'at' : 'at unseen'}>{tile.at}</span>
    <b>{tile.value}</b>
    <span>{tile.sure}</span>
  </li>
);

function Leaders(props: {
  readonly xs: readonly number[];
  readonly middles: readonly number[];
  readonly width: number;
}): JSX.Element {
  return (
    <svg class="tile-leaders" width={props.width} height={LEADER_PIXEL} aria-hidden="true">
      {props.middles.map((middle, index) => (
        <path key={middle} d={`M${props.xs[index] ?? middle} 0L${middle} ${LEADER_PIXEL}`} />
      ))}
    </svg>
  );
}
