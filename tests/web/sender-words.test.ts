import { describe, expect, it } from 'vitest';
import { senderWords } from '../../host/web/stations/sender/sender-words';
import { sampleGauge } from '../e2e/sample-job';

const wordsOf = (
  quantity: 'temperature' | 'fuel' | 'pressure' | 'other',
  unit: string,
  place: 'car' | 'bench',
) => Object.values(senderWords({ gauge: { ...sampleGauge, quantity, unit }, place }, unit)).join(' ');

describe('what is asked beside a sender\u2019s ohms', () => {
  it.each(['fuel', 'pressure', 'other'] as const)(
    'has no bath and no thermometer in it for %s',
    (quantity) => {
      for (const unit of ['%', 'L', 'bar', 'US gal'])
        for (const place of ['car', 'bench'] as const)
          expect(wordsOf(quantity, unit, place)).not.toMatch(/stir|thermometer|bath|boil|cool/i);
    },
  );

  it('is a level of a float, litres of a tank, a pump\u2019s pressure, a bath\u2019s temperature', () => {
    expect(wordsOf('fuel', '%', 'bench')).toMatch(/Lift the float to/);
    expect(wordsOf('fuel', '%', 'bench')).not.toMatch(/litres|petrol/);
    expect(wordsOf('fuel', 'L', 'car')).toMatch(/Put known litres in/);
    expect(wordsOf('pressure', 'bar', 'bench')).toMatch(/Pump .* master gauge/);
    expect(wordsOf('temperature', 'degC', 'bench')).toMatch(/Stir, .* thermometer/);
  });

  it('never lifts the float of a tank that stays closed', () => {
    expect(wordsOf('fuel', '%', 'car')).not.toMatch(/float/);
  });
});
