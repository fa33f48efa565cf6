/** Everything on paper is measured in parts of 1/96 inch from the upper left corner, as the page's plots are. */
export const PX_PER_MM = 96 / 25.4;

/** `text`, `strong`: what is said. `engraved`: headings, values, what stands on the dial. */
export type Font = 'text' | 'strong' | 'engraved';
export type Anchor = 'start' | 'middle' | 'end';

export type TextItem = {
  readonly kind: 'text';
  readonly x: number;
  /** The line on which the letters stand. */
  readonly y: number;
  readonly text: string;
  readonly font: Font;
  readonly size: number;
  readonly colour: string;
  readonly anchor: Anchor;
};

/** Drawn and left out, in turn. */
export type Dash = readonly [on: number, off: number];

export type PathItem = {
  readonly kind: 'path';
  /** SVG path data, absolute or relative. */
  readonly d: string;
  readonly fill?: string;
  readonly stroke?: string;
  readonly width?: number;
  readonly dash?: Dash;
  readonly opacity?: number;
};

export type Bounds = {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
};

export type GroupItem = {
  readonly kind: 'group';
  readonly x: number;
  readonly y: number;
  /** Everything within is drawn so much smaller; left out: as it is. */
  readonly scale?: number;
  readonly clip?: Bounds;
  readonly items: readonly Item[];
};

/** A photograph as it is kept: its bytes are those of a JPEG or a PNG. */
export type Picture = {
  readonly photographId: string;
  readonly kind: 'jpeg' | 'png';
  readonly bytes: Uint8Array;
  readonly widthPixel: number;
  readonly heightPixel: number;
};

export type PictureItem = Bounds & { readonly kind: 'picture'; readonly picture: Picture };

export type Item = TextItem | PathItem | GroupItem | PictureItem;

/** A sheet, a label or a plot, ready for any file. */
export type Drawing = {
  readonly title: string;
  readonly width: number;
  readonly height: number;
  readonly items: readonly Item[];
};

/** The page's colours by day; `simulated` is the amber of the panel. */
export const INK = {
  ink: '#15201b',
  soft: '#4a5850',
  rule: '#cbd5cc',
  grid: '#dfe7df',
  pen: '#1f3fa8',
  penwash: '#e5eaf8',
  hatch: '#b3c0b5',
  plate: '#17211c',
  onPlate: '#f4f2e2',
  good: '#17653a',
  doubt: '#7a4e00',
  bad: '#b01e0e',
  paper: '#ffffff',
} as const;

type Writing = {
  readonly font?: Font;
  readonly size: number;
  readonly colour?: string;
  readonly anchor?: Anchor;
};

export const textAt = (x: number, y: number, text: string, how: Writing): TextItem => ({
  kind: 'text',
  x,
  y,
  text,
  font: how.font ?? 'text',
  size: how.size,
  colour: how.colour ?? INK.ink,
  anchor: how.anchor ?? 'start',
});

const fine = (value: number): string => String(Number(value.toFixed(2)));

export const line = (
  from: readonly [number, number],
  to: readonly [number, number],
  width = 1,
  colour: string = INK.ink,
): PathItem => ({
  kind: 'path',
  d: `M${fine(from[0])} ${fine(from[1])}L${fine(to[0])} ${fine(to[1])}`,
  stroke: colour,
  width,
});

/** A line across the paper. */
export const rule = (
  [x, y]: readonly [number, number],
  length: number,
  width = 1,
  colour: string = INK.ink,
): PathItem => line([x, y], [x + length, y], width, colour);

export const boxPath = ({ x, y, width, height }: Bounds): string =>
  `M${fine(x)} ${fine(y)}h${fine(width)}v${fine(height)}h${fine(-width)}Z`;

/** Two half circles. Source: SVG 2, elliptical arcs of path data. */
export const circlePath = (x: number, y: number, r: number): string =>
  `M${fine(x - r)} ${fine(y)}a${fine(r)} ${fine(r)} 0 1 0 ${fine(2 * r)} 0a${fine(r)} ${fine(r)} 0 1 0 ${fine(-2 * r)} 0Z`;

export const moved = (x: number, y: number, items: readonly Item[]): GroupItem => ({
  kind: 'group',
  x,
  y,
  items,
});
