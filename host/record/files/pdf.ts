import PDFDocument from 'pdfkit';
import type { Drawing, Item, PathItem, TextItem } from '../paper/items';
import { FEATURES, type Fonts } from './fonts';

/** Sizes of paper in points. Source: ISO 216 (A4 is 210 mm x 297 mm); ANSI/ASME Y14.1 (Letter is 8.5 in x 11 in). */
const PAPER = { a4: [595.28, 841.89], letter: [612, 792] } as const;
export type Paper = keyof typeof PAPER;

const POINT_PER_PX = 0.75;

export type PdfFacts = {
  readonly title: string;
  readonly author?: string;
  readonly subject: string;
  /** What a program finds the record by. */
  readonly keywords: string;
  /** Of the job and not of the clock: the same job gives the same bytes. */
  readonly at: Date;
  readonly producer: string;
};

/** Sheets, each in the middle of a page; a drawing without paper is its own page. */
export async function pdfOf(
  drawings: readonly Drawing[],
  fonts: Fonts,
  facts: PdfFacts,
  paper: Paper | undefined,
): Promise<Uint8Array> {
  const document = new PDFDocument({
    autoFirstPage: false,
    margin: 0,
    pdfVersion: '1.7',
    // For ten years and more: every letter within, no colours that depend on a screen.
    subset: 'PDF/A-2b',
    lang: 'en',
    displayTitle: true,
    info: {
      Title: facts.title,
      Subject: facts.subject,
      Keywords: facts.keywords,
      Creator: facts.producer,
      Producer: facts.producer,
      CreationDate: facts.at,
      ModDate: facts.at,
      ...(facts.author === undefined ? {} : { Author: facts.author }),
    },
  });
  const chunks: Uint8Array[] = [];
  const whole = new Promise<Uint8Array>((resolve, reject) => {
    document.on('data', (chunk: Uint8Array) => chunks.push(chunk));
    document.on('end', () => resolve(Buffer.concat(chunks)));
    document.on('error', reject);
  });
  const pen = penFor(document, fonts);
  for (const drawing of drawings) {
    const own = [drawing.width * POINT_PER_PX, drawing.height * POINT_PER_PX] as const;
    const [width, height] = paper === undefined ? own : PAPER[paper];
    document.addPage({ size: [width, height], margin: 0 });
    document.save();
    document.translate((width - own[0]) / 2, (height - own[1]) / 2).scale(POINT_PER_PX);
    pen(drawing.items);
    document.restore();
  }
  document.end();
  return whole;
}

type Document = InstanceType<typeof PDFDocument>;

function penFor(document: Document, fonts: Fonts): (items: readonly Item[]) => void {
  const registered = new Set<string>();
  const write = (item: TextItem): void => {
    const width = fonts.widthOf(item.text, item.font, item.size);
    const shift = item.anchor === 'start' ? 0 : item.anchor === 'end' ? width : width / 2;
    let x = item.x - shift;
    for (const { face, text } of fonts.runsOf(item.text, item.font)) {
      if (!registered.has(face.name)) document.registerFont(face.name, face.path);
      registered.add(face.name);
      document
        .font(face.name)
        .fontSize(item.size)
        .fillColor(item.colour)
        .text(text, x, item.y, { lineBreak: false, baseline: 'alphabetic', features: FEATURES });
      x += face.widthOf(text, item.size);
    }
  };
  const draw = (item: Item): void => {
    switch (item.kind) {
      case 'text':
        return write(item);
      case 'picture': {
        const { x, y, width, height, picture } = item;
        document.image(Buffer.from(picture.bytes), x, y, { width, height });
        return;
      }
      case 'path':
        return strike(document, item);
      case 'group': {
        document.save();
        document.translate(item.x, item.y);
        if (item.scale !== undefined) document.scale(item.scale);
        const { clip } = item;
        if (clip !== undefined) document.rect(clip.x, clip.y, clip.width, clip.height).clip();
        item.items.forEach(draw);
        document.restore();
      }
    }
  };
  return (items) => items.forEach(draw);
}

function strike(document: Document, { d, fill, stroke, width, dash, opacity }: PathItem): void {
  document.save();
  if (opacity !== undefined) document.opacity(opacity);
  if (width !== undefined) document.lineWidth(width);
  if (dash !== undefined) document.dash(dash[0], { space: dash[1] });
  document.path(d);
  if (fill !== undefined && stroke !== undefined) document.fillAndStroke(fill, stroke);
  else if (fill !== undefined) document.fill(fill);
  else document.stroke(stroke ?? '#000000');
  document.restore();
}
