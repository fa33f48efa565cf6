import fc from 'fast-check';
import { describe, expect, it } from 'vitest';

import * as dial from '../../../host/core/dial';

// Source: BIPM SI brochure and NIST SP 811 appendix B, factors from memory; all follow from exact definitions.
const rows = [
  ['water boils at 212 degF', dial.degFFromDegC(100), 212],
  ['-40 is the same on both scales', dial.degCFromDegF(-40), -40],
  ['one psi in kPa', dial.kPaFromPsi(1), 6.894757293168],
  ['one bar in psi', dial.psiFromBar(1), 14.503773773],
  ['one bar in kPa', dial.kPaFromBar(1), 100],
  ['one United States gallon in litres', dial.litreFromGallonUs(1), 3.785411784],
  ['one imperial gallon in litres', dial.litreFromGallonImperial(1), 4.54609],
  ['one imperial gallon in United States gallons', dial.gallonUsFromGallonImperial(1), 1.2009499255],
] as const;

describe('dial units', () => {
  it.each(rows)('%s', (_, value, expected) => expect(value).toBeCloseTo(expected, 8));

  const pairs = [
    [dial.degFFromDegC, dial.degCFromDegF],
    [dial.kPaFromBar, dial.barFromKPa],
    [dial.kPaFromPsi, dial.psiFromKPa],
    [dial.psiFromBar, dial.barFromPsi],
    [dial.litreFromGallonUs, dial.gallonUsFromLitre],
    [dial.litreFromGallonImperial, dial.gallonImperialFromLitre],
    [dial.gallonImperialFromGallonUs, dial.gallonUsFromGallonImperial],
  ] as const;

  it('every conversion is undone by its opposite', () => {
    expect(pairs).toHaveLength(7);
    for (const [there, back] of pairs)
      fc.assert(
        fc.property(fc.double({ min: -1e4, max: 1e4, noNaN: true }), (value) => {
          expect(back(there(value))).toBeCloseTo(value, 8);
        }),
      );
  });
});
