import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RippleWindow } from '../../../firmware-ts/meter/ripple';
import type { Ripple } from '../../../firmware-ts/meter/ripple';
import { Random } from '../../../firmware-ts/board/simulated/random';

/** The meter reads the output four times in five, one conversion every other turn of 7 ms: about one in 9 ms. */
const EVERY_MS = 9;
const WINDOW_SAMPLES = 512;
const WINDOW_MS = WINDOW_SAMPLES * EVERY_MS;
const ENOUGH_SAMPLES = 64;

type Wave = (atMs: number) => number;

/** What a window shows after so many samples of a voltage, volt. */
function seen(wave: Wave, { samples = WINDOW_SAMPLES, fromMs = 0 } = {}): Ripple {
  const window = new RippleWindow();
  for (let index = 0; index < samples; index += 1) {
    const atMs = fromMs + index * EVERY_MS;
    window.push(wave(atMs) * 1e6, atMs);
  }
  return { ...window.evaluate() };
}

type Square = { readonly volt: number; readonly duty: number; readonly periodMs: number };

/** A stabiliser that feeds the battery for a part of each period. */
const square =
  ({ volt, duty, periodMs }: Square, phaseMs = 0): Wave =>
  (atMs) =>
    (atMs + phaseMs) % periodMs < duty * periodMs ? volt : 0;

/** Three whole periods in the window, edges not so near to each other that a pulse falls between two samples. */
const anySquare = fc.record({
  volt: fc.double({ min: 6, max: 16, noNaN: true }),
  duty: fc.double({ min: 0.15, max: 0.9, noNaN: true }),
  periodMs: fc.integer({ min: 150, max: WINDOW_MS / 4 }),
});
const anyPhase = fc.nat({ max: 10_000 });

/** An edge is known to one sample, so each period's share is known to one sample in the period. */
const dutyErrorOf = ({ periodMs }: Square): number => EVERY_MS / periodMs;

describe('a steady supply', () => {
  it('is what it is: not pulsing, always on, heat and extremes alike', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.5, max: 16, noNaN: true }), (volt) => {
        const { isKnown, isPulsing, dutyPermille, pulsePeriodMs, ...volts } = seen(() => volt);
        expect({ isKnown, isPulsing, dutyPermille, pulsePeriodMs }).toEqual({
          isKnown: true,
          isPulsing: false,
          dutyPermille: 1000,
          pulsePeriodMs: 0,
        });
        for (const microvolt of Object.values(volts))
          expect(Math.abs(Number(microvolt) / 1e6 / volt - 1)).toBeLessThan(1e-6);
      }),
    );
  });

  it('is not known before there are enough samples, whatever it does', () => {
    const wave = square({ volt: 12, duty: 0.5, periodMs: 200 });
    expect(seen(wave, { samples: ENOUGH_SAMPLES - 1 })).toMatchObject({ isKnown: false, isPulsing: false });
    expect(seen(wave, { samples: ENOUGH_SAMPLES })).toMatchObject({ isKnown: true, isPulsing: true });
  });

  it('is nothing at all, and no number that is none, before the first sample', () => {
    expect(seen(() => 5, { samples: 0 })).toEqual({
      isKnown: false,
      isPulsing: false,
      heatMicrovolt: 0,
      highMicrovolt: 0,
      lowMicrovolt: 0,
      dutyPermille: 1000,
      pulsePeriodMs: 0,
    });
  });

  it('with noise on it is not called pulsing, and the noise does not move its heat', () => {
    const random = new Random(3);
    const noisy = seen(() => 5 + 0.01 * random.normal());
    expect(noisy).toMatchObject({ isKnown: true, isPulsing: false, dutyPermille: 1000, pulsePeriodMs: 0 });
    expect(noisy.heatMicrovolt / 1e6).toBeCloseTo(5, 2);
  });

  it('of nothing but noise is not called pulsing', () => {
    const random = new Random(4);
    const noise = seen(() => 0.005 * random.normal());
    expect(noise).toMatchObject({ isPulsing: false, dutyPermille: 1000, pulsePeriodMs: 0 });
    expect(noise.heatMicrovolt).toBeLessThan(10_000);
  });
});

describe('what is called pulsing', () => {
  const swing = (low: number, high: number): boolean =>
    seen((atMs) => (atMs % 400 < 200 ? high : low)).isPulsing;

  it('swings by more than a fifth of a volt', () => {
    expect(swing(0.81, 1)).toBe(false);
    expect(swing(0.79, 1)).toBe(true);
  });

  it('swings by more than a twentieth of its high as well', () => {
    expect(swing(13.35, 14)).toBe(false);
    expect(swing(13.25, 14)).toBe(true);
  });
});

describe('a pulsing stabiliser', () => {
  it('is seen with its duty and period to a sample, and its high exactly', () => {
    fc.assert(
      fc.property(anySquare, anyPhase, (wave, phaseMs) => {
        const ripple = seen(square(wave, phaseMs));
        expect(ripple.isPulsing).toBe(true);
        expect(Math.abs(ripple.dutyPermille / 1000 - wave.duty)).toBeLessThan(dutyErrorOf(wave) + 0.0005);
        expect(Math.abs(ripple.pulsePeriodMs - wave.periodMs)).toBeLessThanOrEqual(EVERY_MS / 2 + 1);
        expect(ripple.highMicrovolt / 1e6).toBeCloseTo(wave.volt, 5);
        expect(ripple.lowMicrovolt).toBe(0);
      }),
    );
  });

  it('heats like its high times the root of its duty', () => {
    fc.assert(
      fc.property(anySquare, anyPhase, (wave, phaseMs) => {
        const { heatMicrovolt } = seen(square(wave, phaseMs));
        const heatDuty = (heatMicrovolt / 1e6 / wave.volt) ** 2;
        expect(Math.abs(heatDuty - wave.duty)).toBeLessThan(dutyErrorOf(wave) + 0.0005);
      }),
    );
  });

  // 10 V heat-equivalent from 13.5 V needs a duty of (10/13.5)^2 = 0.549; its mean is 7.41 V.
  it('of 13.5 V for 549 ms in each second heats like 10 V, not like its mean of 7.4 V', () => {
    const ripple = seen(square({ volt: 13.5, duty: 0.549, periodMs: 1000 }));
    expect(ripple.heatMicrovolt / 1e6).toBeCloseTo(10, 1);
    expect(ripple.dutyPermille).toBeGreaterThan(540);
    expect(ripple.dutyPermille).toBeLessThan(558);
  });

  it('looks the same whenever the window happens to begin', () => {
    fc.assert(
      fc.property(anySquare, anyPhase, anyPhase, (wave, onePhaseMs, otherPhaseMs) => {
        const [one, other] = [seen(square(wave, onePhaseMs)), seen(square(wave, otherPhaseMs))];
        const allowed = 2 * dutyErrorOf(wave) + 0.001;
        expect(Math.abs(one.dutyPermille - other.dutyPermille) / 1000).toBeLessThan(allowed);
        const heatDuty = ({ heatMicrovolt }: Ripple): number => (heatMicrovolt / 1e6 / wave.volt) ** 2;
        expect(Math.abs(heatDuty(one) - heatDuty(other))).toBeLessThan(allowed);
        expect(Math.abs(one.pulsePeriodMs - other.pulsePeriodMs)).toBeLessThanOrEqual(EVERY_MS + 2);
      }),
    );
  });

  it('has the same period whenever the clock stands, also where its low sixteen bits begin anew', () => {
    const wave = square({ volt: 12, duty: 0.5, periodMs: 900 });
    const early = seen(wave);
    for (const fromMs of [900 * 71, 900 * 72, 900 * 145, 900 * 4_000_000])
      expect(seen(wave, { fromMs }), `from ${fromMs} ms`).toEqual(early);
  });

  it('slower than the window is a share of the window, without a period', () => {
    const wave: Square = { volt: 12, duty: 0.5, periodMs: 4 * WINDOW_MS };
    const across = seen(square(wave, wave.periodMs / 2 - WINDOW_MS / 4));
    expect(across).toMatchObject({ isPulsing: true, pulsePeriodMs: 0 });
    expect(across.dutyPermille).toBeGreaterThan(245);
    expect(across.dutyPermille).toBeLessThan(255);
    expect(across.heatMicrovolt / 1e6).toBeCloseTo(12 * Math.sqrt(0.25), 1);
  });

  it('slower than the window is a steady supply while it is on', () => {
    const wave: Square = { volt: 12, duty: 0.5, periodMs: 4 * WINDOW_MS };
    expect(seen(square(wave))).toMatchObject({ isPulsing: false, dutyPermille: 1000, pulsePeriodMs: 0 });
  });
});

describe('the window', () => {
  it('forgets what is older than it is long', () => {
    const changed = seen((atMs) => (atMs < 50 * EVERY_MS ? 12 : 5), { samples: WINDOW_SAMPLES + 50 });
    expect(changed).toMatchObject({ isPulsing: false, highMicrovolt: 5e6, lowMicrovolt: 5e6 });
    const notYet = seen((atMs) => (atMs < 50 * EVERY_MS ? 12 : 5), { samples: WINDOW_SAMPLES + 49 });
    expect(notYet).toMatchObject({ isPulsing: true, highMicrovolt: 12e6 });
  });

  it('forgets everything when the resistance changes', () => {
    const window = new RippleWindow();
    for (let index = 0; index < 200; index += 1) window.push(12e6, index * EVERY_MS);
    window.restart();
    for (let index = 0; index < ENOUGH_SAMPLES; index += 1) window.push(5e6, 2000 + index * EVERY_MS);
    expect(window.evaluate()).toMatchObject({ isKnown: true, isPulsing: false, heatMicrovolt: 5e6 });
  });

  it('takes no number that is none', () => {
    const window = new RippleWindow();
    for (const broken of [NaN, Infinity, -Infinity]) window.push(broken, 0);
    expect(window.evaluate()).toMatchObject({ isKnown: false, heatMicrovolt: 0 });
    window.push(5e6, 9);
    expect(window.evaluate()).toMatchObject({ highMicrovolt: 5e6, lowMicrovolt: 5e6, heatMicrovolt: 5e6 });
  });
});
