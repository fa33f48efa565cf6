import { describe, expect, it } from 'vitest';
import {
  keptUnit,
  knownUnits,
  normalName,
  quantityOfUnit,
  unitChange,
  unitFromText,
  unitNames,
  valueKeptAs,
} from '../../host/core/units';

const FAMILIES = [
  ['temperature', ['temperature']],
  ['pressure', ['pressure']],
  ['fuel', ['part', 'volume']],
] as const;

describe('units in column names and options', () => {
  it.each(knownUnits)('the unit %s of the computations is understood, and as itself', (unit) => {
    const found = unitFromText(unit);
    expect(found).toBeDefined();
    const change = unitChange(found === undefined ? '' : keptUnit(found), unit);
    expect(change).toMatchObject({ factor: 1, offset: 0 });
    expect(valueKeptAs(found!, found!, 7)).toBe(7);
  });

  it.each(FAMILIES)('every %s a column may be in is a unit the computations know', (quantity, families) => {
    for (const name of unitNames(...families))
      expect(quantityOfUnit(keptUnit(unitFromText(name)!))).toBe(quantity);
  });

  it.each([
    ['K', 373.15, 100],
    ['kohm', 1.2, 1200],
    ['fraction', 0.25, 25],
  ])('%s is brought to what the computations use', (name, value, inCore) => {
    const unit = unitFromText(name)!;
    expect(valueKeptAs(unit, unit, value)).toBeCloseTo(inCore, 9);
  });

  it.each(['°C', '[degC]', 'deg C', '(Celsius)', 'C'])('%s is degrees Celsius', (text) => {
    expect(unitFromText(text)?.name).toBe('degC');
    expect(normalName(text)).toMatch(/^[a-z_]+$/);
  });
});
