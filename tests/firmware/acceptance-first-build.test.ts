import { describe, expect, it, vi } from 'vitest';
import { eightElements } from '../../firmware-ts/board/first-build/eight';
import type * as Design from '../../firmware-ts/board/reference-design';
import { Bench } from '../engine/bench';
import { allowedOhm, limitOf, markedRows } from '../hardware/acceptance-sheet';
import { acceptanceSteps } from '../hardware/acceptance-steps';

// Firmware, simulated board and steps all see the board of eight elements.
vi.mock('../../firmware-ts/board/reference-design', async (original) => {
  const full = await original<typeof Design>();
  return { ...full, ...eightElements(full) };
});

/** Rows of the sheet, and in their place those that the first build's page prints. */
const own = markedRows('first-build.md');
const rows = [
  ...markedRows('acceptance.md').filter(
    ({ row }) => row !== 'C10' && (!row.startsWith('D') || Number(row.slice(1)) < 5),
  ),
  ...own,
];
const asked = rows
  .filter(({ row }) => row.startsWith('D'))
  .map(({ row, check }) => [row, Number(check.split(' ')[0])] as const);
const steps = acceptanceSteps('first-build.net', { heldOhm: 150, seriesOhm: 0.01 }, asked);

describe('the acceptance sheet on the first build', () => {
  it('has a step for each of its rows, three of them its own', () => {
    expect(own.map(({ row }) => row)).toEqual(['C10', 'D5', 'D6']);
    expect(rows.map(({ row }) => row).sort()).toEqual(Object.keys(steps).sort());
  });

  it.each(rows.filter(({ row }) => !row.startsWith('D')))('$row $check: $limit', ({ row, limit }) => {
    const [from, to] = limitOf(limit);
    for (const values of [steps[row]?.reckoned() ?? [NaN], steps[row]?.simulated() ?? [NaN]])
      for (const value of values) {
        expect(value).toBeGreaterThanOrEqual(from);
        expect(value).toBeLessThanOrEqual(to);
      }
  });

  it.each(asked)('%s: %i Ω can be made, and the box knows what it made', (row, ohm) => {
    for (const value of steps[row]?.reckoned() ?? [NaN])
      expect(Math.abs(value)).toBeLessThanOrEqual(1.1 + 0.01 * ohm);
    for (const value of steps[row]?.simulated() ?? [NaN])
      expect(Math.abs(value)).toBeLessThanOrEqual(allowedOhm(ohm));
  });

  it('cannot do what the other rows ask: 180 ohm and more is above where its settings end', () => {
    expect(new Bench().hello().resistanceMaxOhm).toBeLessThan(180);
  });
});
