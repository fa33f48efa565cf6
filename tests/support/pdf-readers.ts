import { execFileSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const TOOLS = ['pdftotext', 'pdffonts', 'mutool', 'qpdf'] as const;

const isThere = (tool: string): boolean => {
  try {
    execFileSync('sh', ['-c', `command -v ${tool}`], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
};

/** Whether two programs of other people can read what we write. Their absence is printed, and a failure in CI. */
export function hasPdfReaders(): boolean {
  const missing = TOOLS.filter((tool) => !isThere(tool));
  if (missing.length === 0) return true;
  const why = `${missing.join(', ')} of poppler-utils, mupdf-tools and qpdf missing: no PDF file can be checked`;
  if (process.env['CI'] === 'true') throw new Error(why);
  console.warn(`SKIPPED: ${why}`);
  return false;
}

export type Word = {
  readonly text: string;
  readonly page: number;
  readonly xMin: number;
  readonly yMin: number;
  readonly xMax: number;
  readonly yMax: number;
};

/** A PDF file as two readers see it. Lengths in points from the upper left corner of the page. */
export type ReadPdf = {
  readonly complaints: string;
  readonly fonts: readonly {
    readonly name: string;
    readonly embedded: boolean;
    readonly hasUnicode: boolean;
  }[];
  readonly pages: readonly { readonly width: number; readonly height: number; readonly text: string }[];
  readonly words: readonly Word[];
  /** The text of the second reader, page after page. */
  readonly otherPages: readonly string[];
};

const run = (tool: string, ...given: readonly string[]): string =>
  execFileSync(tool, given, { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] });

const unescaped = (text: string): string =>
  text
    .replace(/&lt;/g, '<')
    .replace(/&gt;/g, '>')
    .replace(/&quot;/g, '"')
    .replace(/&apos;|&#39;/g, "'")
    .replace(/&amp;/g, '&');

export function readPdf(bytes: Uint8Array): ReadPdf {
  const file = join(mkdtempSync(join(tmpdir(), 'pdf-')), 'file.pdf');
  writeFileSync(file, bytes);
  const boxes = run('pdftotext', '-bbox', file, '-');
  const sizes = [...boxes.matchAll(/<page width="([\d.]+)" height="([\d.]+)">([\s\S]*?)<\/page>/g)];
  const texts = run('pdftotext', '-layout', file, '-').split('\f');
  const words = sizes.flatMap(([, , , inside], index) =>
    [
      ...(inside ?? '').matchAll(
        /<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">([^<]*)<\/word>/g,
      ),
    ].map(([, xMin, yMin, xMax, yMax, text]) => ({
      text: unescaped(text ?? ''),
      page: index + 1,
      xMin: Number(xMin),
      yMin: Number(yMin),
      xMax: Number(xMax),
      yMax: Number(yMax),
    })),
  );
  const fonts = run('pdffonts', file)
    .split('\n')
    .slice(2)
    .filter((row) => row.trim() !== '')
    .map((row) => {
      const [, name = '', flags = ''] =
        /^(\S+)\s+.*?\s((?:yes|no)\s+(?:yes|no)\s+(?:yes|no))\s/.exec(row) ?? [];
      const [embedded, , unicode] = flags.split(/\s+/);
      return { name, embedded: embedded === 'yes', hasUnicode: unicode === 'yes' };
    });
  return {
    complaints: run('qpdf', '--check', file).includes('No syntax or stream encoding errors found')
      ? ''
      : run('qpdf', '--check', file),
    fonts,
    pages: sizes.map(([, width, height], index) => ({
      width: Number(width),
      height: Number(height),
      text: texts[index] ?? '',
    })),
    words,
    otherPages: run('mutool', 'draw', '-q', '-F', 'txt', file).split('\f'),
  };
}
