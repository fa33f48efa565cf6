import { describe, expect, it } from 'vitest';

import * as dial from '../../../host/core/dial';

// Source: BIPM SI brochure and NIST SP 811 appendix B, factors from memory; all follow from exact definitions.
const rows = [
  ['water boils at 212 degF', dial.degCFromDegF(212), 100],
  ['-40 is the same on both scales', dial.degCFromDegF(-40), -40],
  ['one psi in kPa', dial.kPaFromPsi(1), 6.894757293168],
  ['a bar is 14.5 psi', dial.kPaFromPsi(14.503773773), 100],
  ['one bar in kPa', dial.kPaFromBar(1), 100],
  ['one United States gallon in litres', dial.litreFromGallonUs(1), 3.785411784],
  ['one imperial gallon in litres', dial.litreFromGallonImperial(1), 4.54609],
  ['an imperial gallon is 1.2 of the United States', dial.litreFromGallonUs(1.2009499255), 4.54609],
] as const;

describe('dial units', () => {
  it.each(rows)('%s', (_, value, expected) => expect(value).toBeCloseTo(expected, 8));
});
