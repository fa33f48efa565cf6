import { describe, expect, it } from 'vitest';
import { withWayOut } from '../../host/bench/sweep/way-out';
import { refusalSentence, refusals } from '../../protocol';
import { opening } from './setup';

const tooMuch = {
  code: 'PREDICTED_CURRENT',
  message: refusalSentence(refusals.PREDICTED_CURRENT.number, 803),
} as const;
const coolant = { ...opening.gauge, quantity: 'temperature', mechanism: 'thermal' } as const;
const fuel = { ...coolant, quantity: 'fuel' } as const;

describe('a setting that would carry too much', () => {
  it('says the current, what to switch off, and which end of a thermal dial has to wait', () => {
    for (const [gauge, sweep] of [
      [coolant, {}],
      [fuel, { originalLeastOhm: 8 }],
    ] as const) {
      const told = withWayOut(tooMuch, sweep, gauge);
      expect(told).toContain('803 mA');
      expect(told).toContain('engine and charger off');
      expect(told).toContain('low-ohm end of this dial');
    }
  });

  it('asks for the own sender of a tank whose sender nobody has named', () => {
    const told = withWayOut(tooMuch, {}, fuel);
    expect(told).toContain('own sender');
    expect(told).not.toContain('low-ohm end');
  });

  it('adds nothing where no pulses are, nor to another refusal', () => {
    expect(withWayOut(tooMuch, {}, { ...coolant, mechanism: 'moving-coil' })).toBe(tooMuch.message);
    const other = { code: 'RAMP', message: 'in steps' } as const;
    expect(withWayOut(other, {}, coolant)).toBe('in steps');
  });
});
