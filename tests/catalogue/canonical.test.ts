import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { canonicalJson, readDocument, type Json } from '../../host/catalogue';
import { isPlainlyCanonical } from '../../host/catalogue/canonical';
import vectors from '../vectors/json-canonicalization.json';

const hexOf = (text: string): string => Buffer.from(text, 'utf8').toString('hex');
const parsed = (text: string): Json => z.json().parse(JSON.parse(text));

describe('canonical JSON', () => {
  it.each(vectors.pairs)('writes the published pair "$name" byte for byte', ({ input, outputHex }) => {
    expect(hexOf(canonicalJson(parsed(input)))).toBe(outputHex);
  });

  it.each(vectors.numbers)('writes the double $ieee754Hex as $text', ({ ieee754Hex, text }) => {
    expect(canonicalJson(Buffer.from(ieee754Hex, 'hex').readDoubleBE())).toBe(text);
  });

  it('has seen all published vectors', () => {
    expect([vectors.pairs.length, vectors.numbers.length]).toEqual([6, 24]);
  });

  it('does not mind the order of keys, and reads back what it wrote', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const text = canonicalJson(parsed(JSON.stringify(value)));
        expect(canonicalJson(parsed(text))).toBe(text);
        expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(value)));
        const turned = JSON.stringify(value, (_, each: unknown) =>
          typeof each === 'object' && each !== null && !Array.isArray(each)
            ? Object.fromEntries(Object.entries(each).reverse())
            : each,
        );
        expect(canonicalJson(parsed(turned))).toBe(text);
      }),
    );
  });

  it('is known at a glance for what it is, and nothing else is taken for it', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const written = JSON.stringify(value);
        const text = canonicalJson(parsed(written));
        if (isPlainlyCanonical(written, JSON.parse(written))) expect(written).toBe(text);
      }),
    );
    for (const text of ['{"a":1,"b":[{"c":"\u00e9"}]}', '[]', '"x"', '1e+21'])
      expect(isPlainlyCanonical(text, JSON.parse(text))).toBe(true);
    for (const text of ['{"b":1,"a":2}', '[{"b":1,"a":2}]', '{"a": 1}', '1e2', '"\\ud800"', '{"a":1,"a":1}'])
      expect(isPlainlyCanonical(text, JSON.parse(text))).toBe(false);
  });

  it.each([NaN, Infinity, '\ud800', 'a\udc00'])('has no form for %j', (value) => {
    expect(() => canonicalJson(value)).toThrow(RangeError);
  });
});

describe('a document', () => {
  const body =
    '{"kind":"sender","licence":"private","points":[{"resistance_ohm":10,"value":0}],"quantity":"fuel","schema":"needlewright/card/1","simulated":false,"unit":"%"}';

  it('is read from its canonical text', () => {
    expect(readDocument(body)).toMatchObject({ kind: 'card', card: { kind: 'sender' } });
  });

  it.each([
    ['white space', body.replace(':', ': '), /canonical/],
    ['other order', body.replace('"kind":"sender",', '').replace('}]', '}],"kind":"sender"'), /canonical/],
    ['a number written otherwise', body.replace('10', '1e1'), /canonical/],
    ['a fit smuggled in', body.replace('{"kind"', '{"fit":1,"kind"'), /unknown field "fit"/],
    ['a negative resistance', body.replace('10', '-10'), /points\[0\].resistance_ohm: must be at least 0/],
    ['no schema', '{"a":1}', /schema/],
    ['a cut line', body.slice(0, 40), /not JSON/],
  ])('is refused with %s', (_, text, why) => {
    const read = readDocument(text);
    expect(read.kind).toBe('bad');
    expect(read.kind === 'bad' && read.why).toMatch(why);
  });

  it('of a newer program is kept without being understood', () => {
    expect(readDocument('{"schema":"needlewright/card/2","what":[]}')).toEqual({
      kind: 'newer',
      schema: 'needlewright/card/2',
    });
  });
});
