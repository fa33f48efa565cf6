/** A drawing sheet: a frame with a title block, and the few strokes every symbol is made of. Units: SVG pixels. */

export type Point = readonly [x: number, y: number];

export type TextStyle = {
  readonly size?: number;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly bold?: boolean;
  readonly colour?: string;
  readonly mono?: boolean;
};

export type SheetHead = {
  readonly title: string;
  readonly number: number;
  readonly of: number;
  readonly width: number;
  readonly height: number;
};

/** An end of a part on a sheet. */
export type DrawnEnd = { readonly part: string; readonly terminal: string; readonly at: Point };
/** A net's name beside a conductor. */
export type DrawnName = { readonly net: string; readonly at: Point };

export const ink = '#14181c';
export const wireColour = '#1d4f7c';
export const softInk = '#4b5560';
export const isolationColour = '#a33a1d';

const escapeText = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');

const round = (value: number): string => String(Math.round(value * 100) / 100);

export class Sheet {
  readonly head: SheetHead;
  readonly #strokes: string[] = [];
  /** What the strokes mean, for whoever reads the drawing as a circuit: conductors, joints, ends of parts, names. */
  readonly wires: (readonly Point[])[] = [];
  readonly joints: Point[] = [];
  readonly ends: DrawnEnd[] = [];
  readonly names: DrawnName[] = [];

  constructor(head: SheetHead) {
    this.head = head;
  }

  raw(svg: string): void {
    this.#strokes.push(svg);
  }

  path(data: string, options: { fill?: string; width?: number; colour?: string; dash?: string } = {}): void {
    const { fill = 'none', width = 1.8, colour = ink, dash } = options;
    const dashes = dash === undefined ? '' : ` stroke-dasharray="${dash}"`;
    this.raw(
      `<path d="${data}" fill="${fill}" stroke="${colour}" stroke-width="${width}"${dashes} stroke-linecap="round" stroke-linejoin="round"/>`,
    );
  }

  /** A conductor along the given corners. */
  wire(...points: readonly Point[]): void {
    const data = points.map(([x, y], index) => `${index === 0 ? 'M' : 'L'}${round(x)} ${round(y)}`).join(' ');
    this.path(data, { colour: wireColour, width: 1.8 });
    this.wires.push(points);
  }

  /** A joint of three or more conductors. */
  dot(x: number, y: number): void {
    this.raw(`<circle cx="${round(x)}" cy="${round(y)}" r="3.6" fill="${wireColour}"/>`);
    this.joints.push([x, y]);
  }

  /** A part's terminal lies here. */
  end(part: string, terminal: string, at: Point): void {
    this.ends.push({ part, terminal, at });
  }

  /** The conductor here has this name; the same name elsewhere is the same conductor. */
  net(net: string, at: Point): void {
    this.names.push({ net, at });
  }

  text(x: number, y: number, content: string, style: TextStyle = {}): void {
    const { size = 14, anchor = 'start', bold = false, colour = ink, mono = false } = style;
    const family = mono ? ` font-family="'DejaVu Sans Mono','Liberation Mono',monospace"` : '';
    const weight = bold ? ' font-weight="bold"' : '';
    this.raw(
      `<text x="${round(x)}" y="${round(y)}" font-size="${size}" text-anchor="${anchor}" fill="${colour}"${weight}${family}>${escapeText(content)}</text>`,
    );
  }

  /** Lines of running text, one below the other. */
  note(x: number, y: number, lines: readonly string[], style: TextStyle = {}): void {
    const size = style.size ?? 13.5;
    lines.forEach((line, index) => this.text(x, y + index * size * 1.42, line, { ...style, size }));
  }

  box(
    [x, y]: Point,
    [width, height]: readonly [width: number, height: number],
    options: { fill?: string; dash?: string; colour?: string; radius?: number } = {},
  ): void {
    const { fill = '#ffffff', dash, colour = ink, radius = 0 } = options;
    const dashes = dash === undefined ? '' : ` stroke-dasharray="${dash}"`;
    this.raw(
      `<rect x="${round(x)}" y="${round(y)}" width="${round(width)}" height="${round(height)}" rx="${radius}" fill="${fill}" stroke="${colour}" stroke-width="1.8"${dashes}/>`,
    );
  }

  #frame(): string {
    const { width, height, title, number, of } = this.head;
    const blockWidth = 460;
    const left = width - 20 - blockWidth;
    const top = height - 20 - 64;
    return [
      `<rect x="20" y="20" width="${width - 40}" height="${height - 40}" fill="none" stroke="${ink}" stroke-width="2"/>`,
      `<rect x="${left}" y="${top}" width="${blockWidth}" height="64" fill="#ffffff" stroke="${ink}" stroke-width="2"/>`,
      `<path d="M${left} ${top + 26} h${blockWidth} M${left + blockWidth - 132} ${top + 26} v38" stroke="${ink}" stroke-width="1.2" fill="none"/>`,
      `<text x="${left + 12}" y="${top + 18}" font-size="13" fill="${softInk}">Needlewright, the box: one-channel reference design</text>`,
      `<text x="${left + 12}" y="${top + 51}" font-size="18" font-weight="bold" fill="${ink}">${escapeText(title)}</text>`,
      `<text x="${width - 32}" y="${top + 51}" font-size="14" text-anchor="end" fill="${ink}">sheet ${number} of ${of}</text>`,
    ].join('\n');
  }

  /** The finished drawing; the same strokes always give the same bytes. */
  toSvg(): string {
    const { width, height, title } = this.head;
    return [
      `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" font-family="'DejaVu Sans','Liberation Sans',Arial,sans-serif" role="img" aria-label="${escapeText(title)}">`,
      `<title>${escapeText(title)}</title>`,
      `<rect width="${width}" height="${height}" fill="#ffffff"/>`,
      ...this.#strokes,
      this.#frame(),
      '</svg>',
      '',
    ].join('\n');
  }
}
