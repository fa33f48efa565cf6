import { describe, expect, it } from 'vitest';
import type { LawName } from '../../../host/core/curve';
import { fitCurve, gaugeResponse, lawNames } from '../../../host/core/curve';
import type { Candidate, TrimOptions } from '../../../host/core/network';
import { trim } from '../../../host/core/network';
import type { GaugeResponse, SenderResponse } from '../../../host/core/response';
import { fitSender, senderResponse } from '../../../host/core/sender';
import { electronicTemperature, thermalTemperature, thermistor } from './curves';

const swept = (gauge: GaugeResponse, law?: LawName): GaugeResponse => {
  const readings = [32, 36, 42, 50, 60, 72, 88, 105, 125, 150, 190, 240, 310, 400].flatMap((resistanceOhm) =>
    (['up', 'down'] as const).map((leg) => ({
      resistanceOhm,
      leg,
      reading: gauge.reading(resistanceOhm) + (leg === 'up' ? -0.2 : 0.2),
    })),
  );
  const curve = fitCurve(readings, { quantity: 'temperature', unit: 'degC', ...(law ? { law } : {}) });
  if (curve.kind === 'refused') throw new Error(`${curve.code}: ${curve.code}`);
  return gaugeResponse(curve);
};

const bathed = (truth: SenderResponse): SenderResponse => {
  const points = [40, 60, 80, 100, 115].map((value) => ({ value, resistanceOhm: truth.ohm(value) }));
  const fitted = fitSender(points, { unit: 'degC' });
  if (fitted.kind === 'refused') throw new Error(fitted.code);
  const response = senderResponse(fitted);
  if ('kind' in response) throw new Error(response.code);
  return response;
};

const bestOf = (gauge: GaugeResponse, sender: SenderResponse, options: TrimOptions = {}): Candidate => {
  const answer = trim(gauge, sender, { from: 45, to: 110, maxParts: 2, ...options });
  if (answer.kind === 'refused') throw new Error(`${answer.code}: ${answer.code}`);
  return answer.candidates[0]!;
};

describe('a network designed against measured curves', () => {
  const truth = thermistor(700, 3900);

  it('is nearly as good on the true gauge and sender as the one designed against them', () => {
    const measured = bestOf(swept(thermalTemperature), bathed(truth));
    const ideal = bestOf(thermalTemperature, truth);
    expect(Math.abs(measured.worstError - ideal.worstError)).toBeLessThan(1);
  });

  it.each(lawNames)('can be searched whatever law describes the gauge: %s', (law) => {
    let gauge: GaugeResponse;
    try {
      gauge = swept(thermalTemperature, law);
    } catch (error) {
      // A law that the readings contradict may be refused by name; it must not be refused for another reason.
      expect(String(error)).toMatch(/CURVE/);
      return;
    }
    const answer = trim(gauge, bathed(truth), { from: 45, to: 110, maxParts: 2, acceptableError: 1000 });
    expect(answer.kind).toBe('trimmed');
  });

  it('is searched with the flat zone that the sweep found', () => {
    const gauge = swept(electronicTemperature);
    expect(gauge.plateaus.length).toBeGreaterThan(0);
    const found = bestOf(gauge, bathed(thermistor(760, 3800)), { acceptableError: 1000 });
    expect(found.worstError).toBeGreaterThan(0);
  });

  it('carries the uncertainty of both curves', () => {
    for (const row of bestOf(swept(thermalTemperature), bathed(truth)).errorTable)
      expect(row.expandedUncertainty).toBeGreaterThan(0.1);
  });
});
