import { describe, expect, it } from 'vitest';
import { allowedOhm, limitOf, markedRows } from './acceptance-sheet';
import { acceptanceSteps } from './acceptance-steps';

/** The acceptance sheet worked through on the whole box. Nobody has soldered one yet: rows without a mark are not known. */

const rows = markedRows('acceptance.md');
const asked = rows
  .filter(({ row }) => row.startsWith('D'))
  .map(({ row, check }) => [row, Number(check.split(' ')[0])] as const);
const steps = acceptanceSteps('box.net', { heldOhm: 6000, seriesOhm: 100 }, asked);

/** Half of the largest step between settings, and a percent of what the parts may be. */
const reachOhm = (ohm: number): number => 1.1 + 0.01 * ohm;

describe('the acceptance sheet on the whole box', () => {
  it('marks the rows that are worked through here, and no others', () => {
    expect(rows.map(({ row }) => row).sort()).toEqual(Object.keys(steps).sort());
    expect(rows.length).toBeGreaterThan(25);
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
      expect(Math.abs(value)).toBeLessThanOrEqual(reachOhm(ohm));
    for (const value of steps[row]?.simulated() ?? [NaN])
      expect(Math.abs(value)).toBeLessThanOrEqual(allowedOhm(ohm));
  });

  it('reads a limit as a person does, and refuses words it does not know', () => {
    expect(limitOf('at once; 0.20 to 0.35 s')).toEqual([0.2, 0.35]);
    expect(limitOf('opens at 16.0 to 16.2 V')).toEqual([16, 16.2]);
    expect(limitOf('± 0.5 %')).toEqual([-0.005, 0.005]);
    expect(() => limitOf('looks good')).toThrow(/no limit/);
  });
});
