import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { commandLine, type Files } from '../support/command-line';

const schemaOf = async (name: string) =>
  z.fromJSONSchema(z.looseObject({}).parse((await commandLine(['schema', name])).json()));

const steps = [
  'level_l,reading_percent,leg',
  ...[2, 6, 10, 15, 20, 30, 40, 48].map((l) => `${l},${2 * l},up`),
];
const files: Files = {
  'steps.csv': [...steps, ...[40, 30, 20, 10, 6].map((l) => `${l},${2 * l + 2},down`)].join('\n'),
  'marks.csv': 'label,arc_fraction\nE,0\n1/2,0.42\nF,1',
};

describe('strapping a tank as a command', () => {
  const ran = (...options: readonly string[]) => commandLine(['strap', 'steps.csv', ...options], files);

  it('gives the table both ways and an honest empty', async () => {
    const { code, out } = await ran('--unusable-l', '3');
    expect(code).toBe(0);
    expect(out).toMatch(/^E is honest at a needle of \d/);
    expect(out).toContain('97.5 %');
    expect(out).toContain('Down by driving:');
  });

  it('answers as its schema says', async () => {
    const { json } = await ran('--unusable-l', '3', '--json');
    expect((await schemaOf('strap')).safeParse(json())).toMatchObject({ success: true });
  });

  it('asks for the fuel that no pump reaches, and names row and column of what it cannot read', async () => {
    expect(await ran()).toMatchObject({ code: 2 });
    for (const [text, place] of [
      ['level_l,reading\n2,x', 'row 2, column reading'],
      ['level_l,reading,leg\n2,3,left', 'row 2, column leg'],
      ['level_l,reading,made\n2,3,broken', 'row 2, column made'],
      ['level_l,reading\n-2,3', 'row 2, column level_l'],
      ['level_percent,reading\n2,3', 'is no volume'],
    ] as const) {
      const { code, err } = await commandLine(['strap', 'x.csv', '--unusable-l', '3'], { 'x.csv': text });
      expect(code, text).toBe(2);
      expect(err).toContain(place);
    }
    expect(
      (await commandLine(['strap', 'x.csv', '--unusable-l', '3'], { 'x.csv': 'level_l,reading\n1,2\n2,3' }))
        .code,
    ).toBe(3);
    expect((await ran('--unusable-l', '3', '--reserve-l', '60')).code).toBe(3);
  });

  it('tells what can hurt before anything else is done', async () => {
    expect((await commandLine(['strap', '--help'])).out).toMatch(/Petrol vapour ignites/);
  });
});

describe('a face to print as a command', () => {
  const size = ['--radius-mm', '40', '--start', '-50', '--sweep', '100'];
  const ran = (...options: readonly string[]) =>
    commandLine(['overlay', 'marks.csv', ...size, ...options], files);

  it('is one SVG page in millimetres and nothing else', async () => {
    const { code, out, err } = await ran('--title', 'Tern <fuel>');
    expect(code).toBe(0);
    expect(out).toMatch(/^<svg [^>]*width="210mm" height="297mm" viewBox="0 0 210 297">/);
    expect(out).toContain('Tern &lt;fuel&gt;');
    expect(err).toContain('radium');
  });

  it('answers as its schema says, and is made true by its bars', async () => {
    const { json } = await ran('--bars', '99,100', '--paper', 'Letter', '--json');
    expect((await schemaOf('overlay')).safeParse(json())).toMatchObject({ success: true });
    expect(json()).toMatchObject({ scale_across: 100 / 99, width_mm: 215.9 });
  });

  it('is refused over 2 %, and with its place where a mark is none', async () => {
    expect((await ran('--bars', '97,100')).code).toBe(3);
    expect((await ran('--bars', '97')).code).toBe(2);
    expect((await commandLine(['overlay', 'marks.csv', '--radius-mm', '40'], files)).code).toBe(2);
    const bad = await commandLine(['overlay', 'x.csv', ...size], {
      'x.csv': 'label,arc_fraction\nE,0\nF,1O',
    });
    expect(bad.code).toBe(2);
    expect(bad.err).toContain('x.csv, row 3, column arc_fraction');
  });
});
