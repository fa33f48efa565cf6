import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { commandLine } from '../support/command-line';

const job = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const PROVED = job('../record/fixtures/schema-1');

describe('plot', () => {
  it.each([
    ['curve', 'what the gauge wants'],
    ['errors', 'limit of this job'],
    ['circuit', 'behind the dash'],
  ])('draws %s as one SVG document with its letters within', async (of, says) => {
    const { code, out } = await commandLine(['plot', PROVED, '--of', of, '--width-px', '500']);
    expect(code).toBe(0);
    expect(out.trim()).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg" width="500" [\s\S]*<\/svg>$/);
    expect(out).toContain(says);
    expect(out).toContain('@font-face');
    expect(out).not.toMatch(/href=|url\(http/);
    expect(out).not.toContain('NaN');
  });

  it('draws every reading: as many dots as were given', async () => {
    const { out } = await commandLine(['plot', PROVED]);
    // Eleven readings: six rising and filled, five falling and open.
    const circles = (fill: string): number =>
      out.match(new RegExp(`<path d="M[^"]*a3\\.2 3\\.2[^"]*" fill="${fill}"`, 'g'))?.length ?? 0;
    expect([circles('#15201b'), circles('#ffffff')]).toEqual([6, 5]);
  });

  it('says SIMULATED in the picture of a simulated job', async () => {
    const { code, out } = await commandLine(['plot', job('../../demo-sessions/tern-1100-fuel')]);
    expect(code).toBe(0);
    expect(out).toContain('>SIMULATED</text>');
    expect((await commandLine(['plot', PROVED])).out).not.toContain('SIMULATED');
  });

  it('refuses a folder without a job', async () => {
    expect((await commandLine(['plot', job('../../demo-sessions/ntc-table-sender')])).code).toBe(2);
  });
});
