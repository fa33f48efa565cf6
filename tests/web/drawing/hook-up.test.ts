import { describe, expect, it } from 'vitest';
import {
  measureHookUp,
  ohmmeterHookUp,
  potentiometerHookUp,
  resistorHookUp,
  senderMeterHookUp,
  standInHookUp,
  switchHookUp,
  wireMeterHookUp,
  wireOffHookUp,
} from '../../../host/job/hook-up';
import { hookUpLayout } from '../../../host/web/drawing/hook-up-layout';
import { wordsWidth } from '../../../host/scene/text-width';
import { sampleGauge } from '../../e2e/sample-job';

const quantities = ['temperature', 'fuel', 'pressure', 'other'] as const;
const jobs = quantities.flatMap((quantity) =>
  (['car', 'bench'] as const).flatMap((place) =>
    ([2, 3] as const).map((terminals) => ({ place, gauge: { ...sampleGauge, quantity, terminals } })),
  ),
);
const pictures: readonly (readonly [string, typeof standInHookUp])[] = [
  ['stand-in', standInHookUp],
  ['ohmmeter', ohmmeterHookUp],
  ['resistor', resistorHookUp],
  ['potentiometer', potentiometerHookUp],
  ['switch', switchHookUp],
  ['measuring what was on', measureHookUp],
  ['wire off', wireOffHookUp],
  ['meter on the wire', wireMeterHookUp],
  ['meter on the sender', senderMeterHookUp],
];

describe('which lead goes where', () => {
  it.each(pictures)('is drawn whole at every width, no row over another: %s', (_, hookUp) => {
    for (const job of jobs) {
      for (const width of [280, 328, 480, 640]) {
        const { rows, textX, height, textPixel, box, endX } = hookUpLayout(hookUp(job), width);
        expect(endX).toBeGreaterThan(box.width + 40);
        let bottom = 0;
        for (const { y, lines } of rows) {
          const half = (lines.length * textPixel * 1.3) / 2;
          expect(y - half).toBeGreaterThanOrEqual(bottom);
          bottom = y + half;
          for (const line of lines) expect(textX + wordsWidth(line, textPixel)).toBeLessThanOrEqual(width);
        }
        expect(bottom).toBeLessThanOrEqual(height);
      }
    }
  });

  it('never sends a clip to a tank, and says so', () => {
    const job = { place: 'car', gauge: { ...sampleGauge, quantity: 'fuel' } } as const;
    for (const [, hookUp] of pictures)
      for (const { to } of hookUp(job).joins) expect(to).not.toMatch(/tank|taken off the sender/);
    expect(standInHookUp(job).notes.join(' ')).toContain('Nothing is clipped, made or broken at the tank');
  });

  it('says of a hot-wire gauge, and of one that nobody knows, that its wire is never held on ground', () => {
    const noteOf = (mechanism: 'thermal' | 'unknown' | 'cross-coil'): string =>
      standInHookUp({ place: 'car', gauge: { ...sampleGauge, mechanism } }).notes.join(' ');
    expect(noteOf('thermal')).toContain('Never hold the sender wire on ground');
    expect(noteOf('unknown')).toContain('Never hold the sender wire on ground');
    expect(noteOf('cross-coil')).not.toContain('Never hold');
  });

  it('leaves the ground of a three-terminal gauge on', () => {
    const job = { place: 'bench', gauge: { ...sampleGauge, terminals: 3 } } as const;
    expect(standInHookUp(job).notes.join(' ')).toContain('its ground, stays on');
  });
});
