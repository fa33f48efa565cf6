import { describe, expect, it } from 'vitest';
import { normalName, toCore, unitFromText, unitNames } from '../../host/cli/units';
import { knownUnits, quantityOfUnit, unitChange } from '../../host/core/sender';

const FAMILIES = { temperature: 'temperature', pressure: 'pressure', level: 'fuel' } as const;

describe('units in column names and options', () => {
  it.each(knownUnits)('the unit %s of the computations is understood, and as itself', (unit) => {
    const found = unitFromText(unit);
    expect(found).toBeDefined();
    const change = unitChange(found?.coreUnit ?? '', unit);
    expect(change).toMatchObject({ factor: 1, offset: 0 });
    expect(toCore(found!, 7)).toBe(7);
  });

  it.each(Object.entries(FAMILIES))(
    'every %s a column may be in is a unit the computations know',
    (family, quantity) => {
      for (const name of unitNames(family === 'temperature' || family === 'pressure' ? family : 'level'))
        expect(quantityOfUnit(unitFromText(name)?.coreUnit ?? '')).toBe(quantity);
    },
  );

  it.each([
    ['K', 373.15, 100],
    ['kohm', 1.2, 1200],
    ['fraction', 0.25, 25],
  ])('%s is brought to what the computations use', (name, value, inCore) => {
    expect(toCore(unitFromText(name)!, value)).toBeCloseTo(inCore, 9);
  });

  it.each(['°C', '[degC]', 'deg C', '(Celsius)', 'C'])('%s is degrees Celsius', (text) => {
    expect(unitFromText(text)?.coreUnit).toBe('degC');
    expect(normalName(text)).toMatch(/^[a-z_]+$/);
  });
});
