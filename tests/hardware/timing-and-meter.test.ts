import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { limits as protocolLimits } from '../../protocol';
import {
  breakStepMs,
  converter,
  deadMan,
  hardwareTrip,
  limits,
  makeStepMs,
  meterChannels,
  microvoltFromCode,
  ohmmeter,
  outputBreakMs,
  outputMakeMs,
  outputRelay,
  path,
  quantityFromReading,
  readingFromQuantity,
  relay,
  timerEarlyMs,
  type MeterChannelName,
} from '../../firmware-ts/board/reference-design';
import {
  fuseHeatFraction,
  pulseAt,
  pulsedGauges,
  slowPeakAmp,
  slowTripMs,
} from '../../hardware-notes/calculations/pulses';
import { totalMilliohm } from '../../hardware-notes/calculations/ladder';
import { assumedCoilHenry, coilMillijoule, currentDecayMs } from '../../hardware-notes/calculations/coil';
import {
  allCoilsMilliamp,
  elementNoise,
  inputTimeConstantMs,
  liveNoiseOhm,
} from '../../hardware-notes/calculations/meter';
import { randomSource } from '../../host/core/numeric/random';
import { Bench } from '../engine/bench';
import { oneShotMs } from '../../hardware-notes/calculations/protection';

const names: readonly MeterChannelName[] = [
  'terminal',
  'supply',
  'groundSense',
  'current',
  'groundOffset',
  'reference',
];

describe('the waits of a move', () => {
  it('outlast the slowest relay by more than the timer may fire early', () => {
    expect(breakStepMs - timerEarlyMs).toBeGreaterThanOrEqual(relay.releaseMaxMs);
    expect(makeStepMs - timerEarlyMs).toBeGreaterThanOrEqual(relay.operateMaxMs + relay.bounceMaxMs);
    expect(outputBreakMs - timerEarlyMs).toBeGreaterThanOrEqual(outputRelay.releaseMaxMs);
    expect(outputMakeMs - timerEarlyMs).toBeGreaterThanOrEqual(
      outputRelay.operateMaxMs + outputRelay.bounceMaxMs,
    );
  });
});

describe('the dead-man one-shot', () => {
  it('stays inside its stated limits at every corner of its parts', () => {
    for (const factor of [-0.1, 0.1])
      for (const resistor of [-0.01, 0.01])
        for (const capacitor of [-0.05, 0.05]) {
          const ms = oneShotMs(factor, resistor, capacitor);
          expect(ms).toBeGreaterThan(deadMan.minMs);
          expect(ms).toBeLessThan(deadMan.maxMs);
        }
    expect(oneShotMs(0, 0, 0)).toBeCloseTo(deadMan.nominalMs, 0);
  });

  it('outlasts one missed pulse of a loop that toggles as slowly as it may', () => {
    expect(deadMan.minMs).toBeGreaterThanOrEqual(2 * 2 * deadMan.pulsePeriodMaxMs);
  });

  it('opens the output well before the shortest lease of the host could run out', () => {
    expect(deadMan.maxMs + outputRelay.releaseMaxMs).toBeLessThan(protocolLimits.deadManMs.initial);
  });
});

describe('the hardware trip', () => {
  it('never fires inside the limits, and fires within what the fuse bears for good and the meter can show', () => {
    const { atOnce, slow } = hardwareTrip;
    expect(slow.minMilliamp).toBeGreaterThan(limits.currentMaxMilliamp);
    expect(slow.maxMilliamp).toBeLessThan(path.fuse.ratedMilliamp);
    expect(atOnce.minMilliamp).toBeGreaterThan(limits.pulsePeakMaxMilliamp);
    const fullScaleMilliamp = quantityFromReading('current', converter.fullScaleMicrovolt) / 1000;
    expect(atOnce.maxMilliamp).toBeLessThan(fullScaleMilliamp);
  });

  it('lets the pulses of every stated gauge pass, at every setting down to 8 ohm', () => {
    for (const [name, gauge] of pulsedGauges)
      for (const ohm of [8, 10, 20, 73]) {
        const pulse = pulseAt(gauge, ohm);
        expect(1000 * slowPeakAmp(pulse), `${name}, ${ohm} ohm`).toBeLessThan(hardwareTrip.slow.minMilliamp);
        expect(1000 * pulse.peakAmp).toBeLessThanOrEqual(limits.pulsePeakMaxMilliamp);
        expect(fuseHeatFraction(pulse)).toBeLessThan(0.75);
      }
  });

  it('ends a stabiliser that sticks closed at 14 V and 10 ohm within 2.5 s, with no firmware', () => {
    expect(slowTripMs(14 / (12.22 + 10)) + outputRelay.releaseMaxMs).toBeLessThan(2500);
    expect(slowTripMs(0.44)).toBe(Infinity);
  });
});

describe('the meter channels', () => {
  it('turn a quantity into a reading and back', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...names),
        fc.integer({ min: -28_000_000, max: 28_000_000 }),
        (name, quantity) => {
          expect(quantityFromReading(name, readingFromQuantity(name, quantity))).toBeCloseTo(quantity, 3);
        },
      ),
    );
  });

  it.each([
    ['terminal', -16e6, 28e6],
    ['supply', -16e6, 28e6],
    ['groundSense', -2e6, 2e6],
    ['groundOffset', -2e6, 2e6],
    ['current', -1100e3, 1100e3],
    ['reference', 0, 0.6e6],
  ] as const)('%s spans what it may meet', (name, low, high) => {
    for (const quantity of [low, high]) {
      expect(Math.abs(readingFromQuantity(name, quantity))).toBeLessThanOrEqual(converter.fullScaleMicrovolt);
    }
  });

  // Two 1 ohm in parallel, gain 4.02; 24 bits over +-2.5 V; 6 uV of noise a conversion.
  it('leave a hundredth of a per cent of the 5 mA of an electronic gauge to a step, a tenth to the noise of a conversion', () => {
    const voltPerAmp = 0.5 * 4.02;
    const stepMicroamp = quantityFromReading('current', microvoltFromCode(1));
    expect(stepMicroamp).toBeCloseTo((2 * 2.5e6) / 2 ** 24 / voltPerAmp, 9);
    expect(stepMicroamp / 5000).toBeLessThan(0.0001);
    const noiseMicroamp = quantityFromReading('current', converter.noiseMicrovoltRms);
    expect(noiseMicroamp).toBeCloseTo(6 / voltPerAmp, 9);
    expect(noiseMicroamp / 5000).toBeLessThan(0.001);
  });

  it('show 4.5 mA in the simulated circuit to two microamps, and right to 0.2 %', () => {
    const bench = Bench.driving(100, { gauge: 'electronic-temperature', jobKind: 'electronic' });
    bench.live(1000);
    const seen = Array.from({ length: 40 }, () => bench.live(130).currentMicroamp ?? NaN);
    const mean = seen.reduce((sum, one) => sum + one, 0) / seen.length;
    const scatter = Math.sqrt(seen.reduce((sum, one) => sum + (one - mean) ** 2, 0) / seen.length);
    expect(scatter).toBeGreaterThan(0.2);
    expect(scatter).toBeLessThan(2);
    expect(Math.abs(mean / (5e6 / (1000.15 + bench.box.world.pathOhm)) - 1)).toBeLessThan(0.002);
  });

  it('have one converter input each, against bias on the fourth', () => {
    const places = names.map((name) => `${meterChannels[name].converter}/${meterChannels[name].input}`);
    expect(new Set(places).size).toBe(names.length);
    expect(new Set(converter.addresses).size).toBe(2);
    expect(converter.inputSelect).toHaveLength(3);
  });

  it('read full scale at the ends of the code and nothing at zero', () => {
    expect(microvoltFromCode(0)).toBe(0);
    expect(microvoltFromCode(-(2 ** 23))).toBe(-2_500_000);
    expect(microvoltFromCode(2 ** 23 - 1)).toBeCloseTo(2_500_000, 0);
  });

  it('settle within one conversion', () => {
    expect(Math.exp(-converter.conversionMs / inputTimeConstantMs(10, 1, 1))).toBeLessThan(0.002);
  });
});

describe('the ohmmeter', () => {
  it('has the compliance for the whole ladder and limiter on the low current', () => {
    const milliohm = totalMilliohm * 1.01 + path.limiter.milliohm;
    expect(milliohm).toBeLessThan(ohmmeter.low.maxMilliohm);
    expect((milliohm * ohmmeter.low.microamp) / 1e6).toBeLessThan(ohmmeter.complianceMillivolt);
  });

  it.each(['low', 'high'] as const)('stays inside its compliance at the end of the %s range', (range) => {
    const { microamp, maxMilliohm, referenceMilliohm } = ohmmeter[range];
    expect((maxMilliohm * microamp) / 1e6).toBeLessThanOrEqual(ohmmeter.complianceMillivolt);
    expect((referenceMilliohm * microamp) / 1e6 / 500).toBeCloseTo(1, 1);
  });

  it('resolves every element to 0.1 % or 5 milliohm through its noise', () => {
    expect(
      elementNoise({
        name: 'R1',
        nominalMilliohm: 1000,
        tolerancePercent: 1,
        ratedMilliwatt: 1,
        construction: 'wirewound',
      }).milliohm,
    ).toBeLessThan(5);
    expect(
      elementNoise({
        name: 'R11',
        nominalMilliohm: 464_000,
        tolerancePercent: 1,
        ratedMilliwatt: 1,
        construction: 'metal-film',
      }).milliohm,
    ).toBeLessThan(464);
  });
});

describe('the supply', () => {
  it('feeds every coil at once from the converter, with the electronics', () => {
    expect(allCoilsMilliamp + 100).toBeLessThan(1_200);
  });
});

describe('the coil clamp', () => {
  it('lets the coil current fall several times faster than a plain diode, and inside the stated release time', () => {
    for (const { coilOhm, releaseMaxMs } of [relay, outputRelay]) {
      expect(currentDecayMs(coilOhm, 0.7) / currentDecayMs(coilOhm, 14)).toBeGreaterThan(3);
      expect(currentDecayMs(coilOhm, 14)).toBeLessThan(releaseMaxMs);
    }
  });

  it('agrees with the differential equation taken in small steps', () => {
    const { coilOhm } = relay;
    const stepSecond = 1e-7;
    let amp = 5 / coilOhm;
    let second = 0;
    for (; amp > 1 / coilOhm; second += stepSecond)
      amp -= ((coilOhm * amp + 14) / assumedCoilHenry) * stepSecond;
    expect(1000 * second).toBeCloseTo(currentDecayMs(coilOhm, 14), 3);
  });

  it('has far less energy to take than it bears', () => {
    expect(coilMillijoule()).toBeLessThan(2);
  });
});

describe('the live resistance', () => {
  it('has the noise that a thousand drawn pairs of readings show', () => {
    const random = randomSource(11);
    const { openVolt, sourceOhm } = { openVolt: 5, sourceOhm: 1000 };
    const ohm = 180;
    const amp = openVolt / (sourceOhm + ohm);
    const voltNoise = (converter.noiseMicrovoltRms * meterChannels.terminal.scale) / 1e6;
    const ampNoise = (converter.noiseMicrovoltRms * meterChannels.current.scale) / 1e6;
    let squares = 0;
    for (let draw = 0; draw < 1000; draw += 1) {
      const measured = (amp * ohm + voltNoise * random.normal()) / (amp + ampNoise * random.normal());
      squares += (measured - ohm) ** 2;
    }
    // 1000 draws fix a standard deviation to 2.2 %; four times that is allowed.
    expect(Math.sqrt(squares / 1000) / liveNoiseOhm(openVolt, sourceOhm, ohm)).toBeCloseTo(1, 1);
  });
});
