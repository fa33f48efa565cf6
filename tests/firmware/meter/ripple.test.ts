import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { converter } from '../../../firmware-ts/board/reference-design';
import { Random } from '../../../firmware-ts/board/simulated/random';
import { RippleWindow } from '../../../firmware-ts/meter/ripple';
import type { Ripple } from '../../../firmware-ts/meter/ripple';

/** A turn of the main loop; its timer may fire a millisecond early. */
const TURN_MS = 8;
const EARLY_MS = 1;
const ENOUGH_SAMPLES = 64;
/** Turns after which another pair is due, and after which it is taken whatever the feed does. */
const [DUE_TURNS, PATIENCE_TURNS] = [4, 20] as const;

/** A voltage over time: its exact integral from 0 to an instant, volt millisecond. */
type Feed = { readonly voltMs: (atMs: number) => number };

const steady = (volt: number): Feed => ({ voltMs: (atMs) => volt * atMs });

type Square = { readonly volt: number; readonly duty: number; readonly periodMs: number };

/** A stabiliser that feeds the battery for a part of each period. Integrated by hand, not by samples. */
function square({ volt, duty, periodMs }: Square, phaseMs = 0): Feed {
  const onMs = duty * periodMs;
  const until = (atMs: number): number => {
    const periods = Math.floor(atMs / periodMs);
    return volt * (periods * onMs + Math.min(onMs, atMs - periods * periodMs));
  };
  return { voltMs: (atMs) => until(atMs + phaseMs) };
}

type Look = { readonly fromMs?: number; readonly forMs?: number; readonly noiseVolt?: number };

/**
 * What the window shows after a while of a feed, sampled as the meter does it: a conversion is a mean over its six
 * milliseconds and is read a turn later; now and then another pair takes its place.
 */
function seen(feed: Feed, { fromMs = 0, forMs = 10_000, noiseVolt = 0 }: Look = {}): Ripple {
  const window = new RippleWindow();
  watch(window, feed, { fromMs, forMs, noiseVolt });
  return { ...window.evaluate() };
}

function watch(window: RippleWindow, feed: Feed, { fromMs = 0, forMs = 10_000, noiseVolt = 0 }: Look): void {
  const random = new Random(5);
  let begunMs = -1;
  let isOther = false;
  let count = 0;
  for (let atMs = fromMs; atMs < fromMs + forMs;) {
    const doneMs = begunMs + converter.conversionMs;
    const wasOther = isOther;
    isOther = count >= DUE_TURNS && (count >= PATIENCE_TURNS || window.isCalm(Math.floor(atMs)));
    count = isOther ? 0 : count + 1;
    if (begunMs >= fromMs && !wasOther) {
      const mean = (feed.voltMs(doneMs) - feed.voltMs(begunMs)) / converter.conversionMs;
      window.push((mean + noiseVolt * random.normal()) * 1e6, Math.floor(atMs));
    }
    begunMs = atMs + 0.6;
    atMs += TURN_MS - random.between(0, EARLY_MS);
  }
}

/** One sample a turn, as they are. */
function pushed(values: readonly number[]): RippleWindow {
  const window = new RippleWindow();
  values.forEach((volt, index) => window.push(volt * 1e6, index * TURN_MS));
  return window;
}

const heatVolt = ({ heatMicrovolt }: Ripple): number => heatMicrovolt / 1e6;

describe('a steady supply', () => {
  it('is what it is: not pulsing, always on, heat and extremes alike', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.5, max: 16, noNaN: true }), (volt) => {
        const { isKnown, isPulsing, dutyPermille, pulsePeriodMs, ...volts } = seen(steady(volt));
        expect({ isKnown, isPulsing, dutyPermille, pulsePeriodMs }).toEqual({
          isKnown: true,
          isPulsing: false,
          dutyPermille: 1000,
          pulsePeriodMs: 0,
        });
        for (const microvolt of Object.values(volts))
          expect(Math.abs(Number(microvolt) / 1e6 / volt - 1)).toBeLessThan(1e-6);
      }),
      { seed: 1, numRuns: 40 },
    );
  });

  it('is not known before there are enough samples, whatever it does', () => {
    const wave = Array.from({ length: ENOUGH_SAMPLES }, (_, index) => (index % 20 < 10 ? 12 : 0));
    expect(pushed(wave.slice(1)).evaluate()).toMatchObject({ isKnown: false, isPulsing: false });
    expect(pushed(wave).evaluate()).toMatchObject({ isKnown: true, isPulsing: true });
  });

  it('is nothing at all, and no number that is none, before the first sample', () => {
    expect(pushed([]).evaluate()).toEqual({
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
    const noisy = seen(steady(5), { noiseVolt: 0.01 });
    expect(noisy).toMatchObject({ isKnown: true, isPulsing: false, dutyPermille: 1000, pulsePeriodMs: 0 });
    expect(heatVolt(noisy)).toBeCloseTo(5, 2);
  });

  it('of nothing but noise is not called pulsing', () => {
    const noise = seen(steady(0), { noiseVolt: 0.005 });
    expect(noise).toMatchObject({ isPulsing: false, dutyPermille: 1000, pulsePeriodMs: 0 });
    expect(noise.heatMicrovolt).toBeLessThan(10_000);
  });
});

describe('what is called pulsing', () => {
  const swing = (low: number, high: number): boolean =>
    pushed(Array.from({ length: 200 }, (_, index) => (index % 40 < 20 ? high : low))).evaluate().isPulsing;

  it('swings by more than a fifth of a volt', () => {
    expect(swing(0.81, 1)).toBe(false);
    expect(swing(0.79, 1)).toBe(true);
  });

  it('swings by more than a twentieth of its high as well', () => {
    expect(swing(13.35, 14)).toBe(false);
    expect(swing(13.25, 14)).toBe(true);
  });
});

/** From one pulse in two seconds to ten a second; 0.137 is 5 V heat-equivalent from 13.5 V. */
const HERTZ = [0.5, 0.7, 1, 1.3, 2, 3.1, 4.7, 5, 6.25, 8.3, 10];
const DUTIES = [0.137, 0.25, 0.5, 0.549, 0.8];
const PHASES = [0, 0.21, 0.5, 0.83];

describe('a pulsing stabiliser', () => {
  it.each(HERTZ)(
    'of %d Hz shows its duty within a hundredth, its heat volts within 1 %%, its period',
    (hertz) => {
      for (const duty of DUTIES)
        for (const phase of PHASES) {
          const wave = { volt: 13.5, duty, periodMs: 1000 / hertz };
          const ripple = seen(square(wave, phase * wave.periodMs));
          const what = `duty ${duty}, phase ${phase}`;
          expect(ripple.isPulsing, what).toBe(true);
          expect(Math.abs(ripple.dutyPermille / 1000 - duty), `duty: ${what}`).toBeLessThan(0.01);
          // Source: the mean square of a rectangle is its height squared times its duty.
          const wanted = wave.volt * Math.sqrt(duty);
          expect(Math.abs(heatVolt(ripple) / wanted - 1), `heat: ${what}`).toBeLessThan(0.01);
          expect(Math.abs(ripple.pulsePeriodMs / wave.periodMs - 1), `period: ${what}`).toBeLessThan(0.01);
          expect(ripple.highMicrovolt / 1e6).toBeCloseTo(wave.volt, 5);
          expect(ripple.lowMicrovolt).toBe(0);
        }
    },
  );

  it('keeps to that whenever one happens to look, from the second whole period on', () => {
    const window = new RippleWindow();
    const wave = { volt: 13.5, duty: 0.3, periodMs: 700 };
    for (let fromMs = 0; fromMs < 20_000; fromMs += 370) {
      watch(window, square(wave), { fromMs, forMs: 370 });
      if (fromMs < 2 * wave.periodMs + 1000) continue;
      expect(Math.abs(window.evaluate().dutyPermille / 1000 - wave.duty), `after ${fromMs} ms`).toBeLessThan(
        0.02,
      );
    }
  });

  // 10 V heat-equivalent from 13.5 V needs a duty of (10/13.5)^2 = 0.549; its mean is 7.41 V.
  it('of 13.5 V for 549 ms in each second heats like 10 V, not like its mean of 7.4 V', () => {
    expect(heatVolt(seen(square({ volt: 13.5, duty: 0.549, periodMs: 1000 })))).toBeCloseTo(10, 1);
  });

  it('between two voltages heats like their mean square', () => {
    const low = steady(4);
    const pulses = square({ volt: 8, duty: 0.4, periodMs: 800 });
    const both = seen({ voltMs: (atMs) => low.voltMs(atMs) + pulses.voltMs(atMs) });
    // 12 V for 0.4 of the time, 4 V for the rest.
    expect(Math.abs(heatVolt(both) / Math.sqrt(0.4 * 144 + 0.6 * 16) - 1)).toBeLessThan(0.01);
    expect(both.dutyPermille).toBeGreaterThan(390);
    expect(both.dutyPermille).toBeLessThan(410);
  });

  it('has the same period whenever the clock stands, also far beyond 32 bits', () => {
    const wave = square({ volt: 12, duty: 0.5, periodMs: 900 });
    for (const fromMs of [0, 900 * 71, 900 * 4_000_000, 900 * 5_000_000_000])
      expect(Math.abs(seen(wave, { fromMs }).pulsePeriodMs - 900), `from ${fromMs} ms`).toBeLessThanOrEqual(
        4,
      );
  });

  it('slower than one in three seconds is a share of the window, without a period', () => {
    const wave: Square = { volt: 12, duty: 0.5, periodMs: 16_000 };
    const across = seen(square(wave), { fromMs: 5_500, forMs: 5_000 });
    expect(across).toMatchObject({ isPulsing: true, pulsePeriodMs: 0 });
    expect(Math.abs(across.dutyPermille - 500)).toBeLessThan(20);
    expect(heatVolt(across)).toBeCloseTo(12 * Math.sqrt(across.dutyPermille / 1000), 1);
  });

  it('slower than the window is a steady supply while it is on', () => {
    const wave = square({ volt: 12, duty: 0.5, periodMs: 30_000 });
    expect(seen(wave)).toMatchObject({ isPulsing: false, dutyPermille: 1000, pulsePeriodMs: 0 });
  });
});

describe('the window', () => {
  /** 12 V for a second, then 5 V for so long. */
  const stepped = (forMs: number): Ripple => {
    const window = new RippleWindow();
    watch(window, steady(12), { forMs: 1000 });
    watch(window, steady(5), { fromMs: 1000, forMs });
    return { ...window.evaluate() };
  };

  it('forgets what is older than some seconds', () => {
    const [early, late] = [stepped(3000), stepped(7000)];
    expect([early.isPulsing, late.isPulsing]).toEqual([true, false]);
    expect([early.highMicrovolt / 1e6, late.highMicrovolt / 1e6].map(Math.round)).toEqual([12, 5]);
  });

  it('forgets pulses when they have ceased', () => {
    const window = new RippleWindow();
    watch(window, square({ volt: 12, duty: 0.5, periodMs: 500 }), { forMs: 5000 });
    watch(window, steady(12), { fromMs: 5000, forMs: 9000 });
    expect(window.evaluate()).toMatchObject({ isPulsing: false, dutyPermille: 1000 });
    expect(window.evaluate().lowMicrovolt / 1e6).toBeCloseTo(12, 6);
  });

  it('forgets everything when the resistance changes', () => {
    const window = pushed(Array.from({ length: 200 }, () => 12));
    window.restart();
    for (let index = 0; index < ENOUGH_SAMPLES; index += 1) window.push(5e6, 2000 + index * TURN_MS);
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
