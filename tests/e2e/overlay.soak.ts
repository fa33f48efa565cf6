import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { overlayOf } from '../../host/core/overlay/overlay';
import { overlaySvg } from '../../host/cli/output/overlay-svg';
import { answered } from '../support/answer';
import { hasBrowser, launchBrowser } from './browser';

const PIXEL_PER_MM = 20;
const DPI = PIXEL_PER_MM * 25.4;

/** True when there is an independent renderer. Its absence skips the test in plain words, and fails it under CI. */
const hasPoppler = (): boolean => {
  try {
    execFileSync('pdftoppm', ['-v'], { stdio: 'ignore' });
    return true;
  } catch {
    if (process.env['CI'] === 'true') throw new Error('no pdftoppm (package poppler-utils)');
    console.log('the overlay is not rasterised: no pdftoppm (package poppler-utils)');
    return false;
  }
};

type Picture = { readonly width: number; readonly isInk: (xMm: number, yMm: number) => boolean };

/** A grey picture as pdftoppm writes it (PGM, P5). */
const pictureOf = (bytes: Buffer): Picture => {
  const [, width = '0', ,] =
    /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.subarray(0, 40).toString('latin1')) ?? [];
  const head = /^P5\s+\d+\s+\d+\s+255\s/.exec(bytes.subarray(0, 40).toString('latin1'))?.[0].length ?? 0;
  const columns = Number(width);
  return {
    width: columns,
    isInk: (xMm, yMm) =>
      bytes[head + Math.round(yMm * PIXEL_PER_MM) * columns + Math.round(xMm * PIXEL_PER_MM)]! < 128,
  };
};

/** First and last place along a stretch where there is ink, mm. */
const inkBetween = (from: number, to: number, isInk: (at: number) => boolean): readonly [number, number] => {
  const found: number[] = [];
  for (let at = from; at <= to; at += 1 / PIXEL_PER_MM) if (isInk(at)) found.push(at);
  return [Math.min(...found), Math.max(...found)];
};

describe.skipIf(!hasBrowser() || !hasPoppler())('an overlay that a browser printed', () => {
  it(
    'is true to size: marks within 0.1 degree, bars within 0.2 %',
    { timeout: 120_000, retry: 2 },
    async () => {
      const fractions = [0, 0.21, 0.5, 0.77, 1];
      const overlay = answered(
        overlayOf({
          ...{ radiusMm: 45, hubMm: 3, startDegrees: -62, sweepDegrees: 115, paper: 'A4' },
          marks: fractions.map((arcFraction, index) => ({ label: String(index), arcFraction })),
        }),
      );
      const folder = mkdtempSync(join(tmpdir(), 'overlay-'));
      try {
        const browser = await launchBrowser();
        const page = await browser.newPage();
        await page.setContent(
          `<style>@page{size:A4;margin:0}body{margin:0}svg{display:block}</style>${overlaySvg(overlay, 'Test')}`,
        );
        writeFileSync(
          join(folder, 'face.pdf'),
          await page.pdf({ preferCSSPageSize: true, printBackground: true, pageRanges: '1' }),
        );
        await browser.close();
        execFileSync('pdftoppm', [
          '-gray',
          '-r',
          String(DPI),
          join(folder, 'face.pdf'),
          join(folder, 'face'),
        ]);
        const name = ['face-1.pgm', 'face-01.pgm'].find((each) => {
          try {
            return readFileSync(join(folder, each)).length > 0;
          } catch {
            return false;
          }
        });
        const picture = pictureOf(readFileSync(join(folder, name ?? 'face-1.pgm')));
        expect(picture.width / PIXEL_PER_MM).toBeCloseTo(210, 0);
        checkBars(picture, overlay.bars);
        checkMarks(picture, overlay);
      } finally {
        rmSync(folder, { recursive: true, force: true });
      }
    },
  );
});

type Face = ReturnType<typeof answered<ReturnType<typeof overlayOf>>>;

const BAR_ROOM_MM = 8;
/** The ends of a bar are lines of 0.1 mm across it: their outer edges stand 0.05 mm beyond. */
const checkBars = ({ isInk }: Picture, bars: Face['bars']): void => {
  for (const { from, to } of bars) {
    const isAcross = from.y === to.y;
    const side = 2;
    const [first, last] = isAcross
      ? inkBetween(from.x - BAR_ROOM_MM, to.x + BAR_ROOM_MM, (x) => isInk(x, from.y - side))
      : inkBetween(to.y - BAR_ROOM_MM, from.y + BAR_ROOM_MM, (y) => isInk(from.x + side, y));
    expect(Math.abs(last - first - 100)).toBeLessThan(0.2);
  }
};

const checkMarks = ({ isInk }: Picture, { hub, lines, radiusMm }: Face): void => {
  for (const { degrees } of lines) {
    const inked: number[] = [];
    // An arc across the mark, in steps finer than the goal.
    for (let at = degrees - 3; at <= degrees + 3; at += 0.01)
      for (const part of [0.9, 0.93, 0.96]) {
        const radians = (at * Math.PI) / 180;
        const radius = part * radiusMm;
        if (isInk(hub.x + radius * Math.sin(radians), hub.y - radius * Math.cos(radians))) inked.push(at);
      }
    expect(inked.length).toBeGreaterThan(50);
    const middle = inked.reduce((sum, each) => sum + each, 0) / inked.length;
    expect(Math.abs(middle - degrees)).toBeLessThan(0.1);
  }
};
