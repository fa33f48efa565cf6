import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  constructions,
  elementLimitMilliwatt,
  elementRiseKelvin,
  elements,
  limits,
  path,
  usableRatingFraction,
  worstElementMilliwatt,
} from '../../firmware-ts/board/reference-design';
import {
  currentAmp,
  elementWatt,
  faultyCircuits,
  floorOhm,
  lowestOhm,
  soundCircuits,
  type Circuit,
} from '../../hardware-notes/calculations/circuits';
import {
  clampJoule,
  loadDumps,
  smallElements,
  suddenShort,
  suppressorJoule,
} from '../../hardware-notes/calculations/protection';
import { hardwareOnlyMilliwatt, pulseJoule } from '../../hardware-notes/calculations/pulses';
import derating from '../vectors/resistor-power-rating.json';

const thermal: Circuit = { name: 'thermal', openVolt: 5, sourceOhm: 12.22 };
const guardReactionSecond = limits.guardReactionMs / 1000;

describe('the gauge circuits behind the ratings', () => {
  // Published for a 5 V thermal gauge: 225 mA at 10 ohm, 59 mA at 73 ohm; short circuit 409 mA follows.
  it.each([
    [10, 225],
    [73, 58.7],
    [0, 409],
  ])('give for a thermal gauge at %d ohm %d mA', (ohm, milliamp) => {
    expect(1000 * currentAmp(thermal, ohm)).toBeCloseTo(milliamp, 0);
  });

  // Two-coil gauge, 12.6 V, 90/90 ohm: at a 45 ohm sender 105.0 mA and 35.0 mA in the coils, so 70 mA in the sender.
  it('reduce a two-coil gauge to what its sender terminal shows', () => {
    expect(1000 * currentAmp({ name: 'two-coil', openVolt: 6.3, sourceOhm: 45 }, 45)).toBeCloseTo(70, 9);
  });

  it('never ask a sound circuit for more current than the box allows above its floor and 4 ohm', () => {
    for (const circuit of soundCircuits) {
      expect(lowestOhm(circuit), circuit.name).toBeLessThan(5);
    }
  });

  it('never heat an element over a tenth of a watt per ten per cent of its rating in a sound circuit', () => {
    for (const circuit of soundCircuits)
      for (const element of elements) {
        expect(elementWatt(circuit, element) * 1000, `${element.name} on ${circuit.name}`).toBeLessThan(
          element.ratedMilliwatt / 2,
        );
      }
  });
});

describe('every element', () => {
  it.each(elements.map((element) => [element.name, element] as const))(
    '%s stays inside the usable part of its rating at the worst the guard allows',
    (_, element) => {
      expect(worstElementMilliwatt(element, false)).toBeLessThanOrEqual(elementLimitMilliwatt(element));
      expect(elementLimitMilliwatt(element)).toBe(element.ratedMilliwatt * usableRatingFraction);
    },
  );

  it('stays inside it on every faulty circuit too, in any combination with the others', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 2 ** elements.length - 1 }),
        fc.nat({ max: 2 }),
        (mask, which) => {
          const circuit = faultyCircuits[which]!;
          const inside = elements.filter((_, index) => ((mask >> index) & 1) === 0);
          const ohm = inside.reduce((sum, element) => sum + element.nominalMilliohm, 0) / 1000;
          const amp = Math.min(currentAmp(circuit, ohm), limits.currentMaxMilliamp / 1000);
          for (const element of inside) {
            expect(amp * amp * element.nominalMilliohm).toBeLessThanOrEqual(elementLimitMilliwatt(element));
          }
        },
      ),
    );
  });

  it.each(elements.map((element) => [element.name, element] as const))(
    '%s stays inside its rating with no firmware at all, at what the slow comparator lets through for good',
    (_, element) => {
      expect(hardwareOnlyMilliwatt(element)).toBeLessThanOrEqual(element.ratedMilliwatt);
    },
  );

  it('takes no more than a few joules from the largest pulse of a slow stabiliser, as the notes say', () => {
    expect(pulseJoule(elements[5]!, 250)).toBeCloseTo(3.0, 1);
    expect(pulseJoule(elements[6]!, 250)).toBeCloseTo(1.6, 1);
    for (const element of elements) expect(pulseJoule(element, 250)).toBeLessThan(3.5);
  });

  it('keeps its full rating in the air of a hot box', () => {
    expect(constructions['metal-film'].fullPowerCelsius).toBe(
      derating.metal_film_family.full_rating_up_to_degC,
    );
    expect(constructions['metal-film'].zeroPowerCelsius).toBe(derating.metal_film_family.zero_power_at_degC);
    for (const element of elements) {
      const { fullPowerCelsius, zeroPowerCelsius } = constructions[element.construction];
      const hottestCelsius =
        fullPowerCelsius + elementRiseKelvin(element, worstElementMilliwatt(element, false));
      expect(hottestCelsius, element.name).toBeLessThan(zeroPowerCelsius);
    }
  });
});

describe('the limiter', () => {
  const lowLimiterOhm = (path.limiter.milliohm / 1000) * (1 - path.limiter.tolerancePercent / 100);
  const wattsWithLimiter = (element: (typeof elements)[number], supplyVolt: number): number => {
    const ohm = element.nominalMilliohm / 1000;
    return (supplyVolt / (lowLimiterOhm + ohm)) ** 2 * ohm;
  };

  it('is between 33 and 50 ohm', () => {
    expect(path.limiter.milliohm).toBeGreaterThanOrEqual(33_000);
    expect(path.limiter.milliohm).toBeLessThanOrEqual(50_000);
  });

  it('keeps every element inside its rating for good at the largest supply, with no help from the current limit', () => {
    for (const element of elements) {
      const watt = wattsWithLimiter(element, limits.supplyMaxMillivolt / 1000);
      expect(watt * 1000, element.name).toBeLessThanOrEqual(element.ratedMilliwatt);
    }
  });

  it('keeps every element cooler than at its rating for the time the guard needs, even at a 28 V jump start', () => {
    for (const element of elements) {
      const { timeConstantMs } = constructions[element.construction];
      const steadyKelvin = elementRiseKelvin(element, wattsWithLimiter(element, 28) * 1000);
      const riseKelvin = steadyKelvin * (1 - Math.exp(-limits.guardReactionMs / timeConstantMs));
      expect(riseKelvin, element.name).toBeLessThan(elementRiseKelvin(element, element.ratedMilliwatt));
    }
  });

  it('bears the largest supply itself', () => {
    const volt = limits.supplyMaxMillivolt / 1000;
    expect((volt * volt) / lowLimiterOhm).toBeLessThan(path.limiter.ratedMilliwatt / 1000);
  });
});

describe('a gauge that shorts while the limiter is bypassed', () => {
  it('meets either a fuse that is faster than the output relay or a current the relay may break', () => {
    expect(smallElements).toHaveLength(6);
    for (const element of smallElements) {
      const fault = suddenShort(element);
      const relayCan = fault.amp * 1000 <= 5_000;
      expect(relayCan || fault.fuseMs < fault.openMs, `${element.name}: ${fault.amp} A`).toBe(true);
    }
  });

  it('leaves less than half a joule in any element, and a wirewound one takes it wherever the watts pass 20', () => {
    for (const element of smallElements) {
      const { joule, watt } = suddenShort(element);
      expect(joule).toBeLessThan(0.5);
      if (watt > 20) expect(element.construction).toBe('wirewound');
    }
  });

  it('is over before the firmware would have to act', () => {
    expect(suddenShort(elements[0]!).openMs / 1000).toBeLessThan(guardReactionSecond);
  });
});

describe('the path with every element shorted', () => {
  it('lies below the least setting the box promises, contacts new or worn', () => {
    expect(floorOhm()).toBeLessThan(limits.resistanceMinMilliohm / 1000);
    expect(floorOhm(path.contact.maxMilliohm)).toBeLessThan(limits.resistanceMinMilliohm / 1000);
  });
});

describe('the load dump figures', () => {
  const numeric = (index: number, seriesOhm: number): number => {
    const { peakVolt, sourceOhm, durationMs } = loadDumps[index]!;
    const tau = durationMs / 1000 / Math.LN10;
    const stepSecond = 1e-5;
    let joule = 0;
    for (let second = stepSecond / 2; second < 5 * tau; second += stepSecond) {
      const volt = 13.5 + (peakVolt - 13.5) * Math.exp(-second / tau);
      if (volt > 36) joule += (36 * (volt - 36) * stepSecond) / (sourceOhm + seriesOhm);
    }
    return joule;
  };

  it('agree with a sum over small steps', () => {
    loadDumps.forEach((dump, index) => {
      for (const series of [0, 12, 45]) {
        expect(clampJoule(dump, series) / numeric(index, series)).toBeCloseTo(1, 3);
      }
    });
  });

  it('show that no suppressor of this size survives one on the bare feed, so no such claim is made', () => {
    expect(clampJoule(loadDumps[0]!, 0)).toBeCloseTo(431, 0);
    for (const dump of loadDumps) expect(clampJoule(dump, 0)).toBeGreaterThan(suppressorJoule);
  });
});
