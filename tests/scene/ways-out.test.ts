import { describe, expect, it } from 'vitest';
import { fitCurve } from '../../host/core/curve';
import { foldJob } from '../../host/job';
import { waysOut } from '../../host/scene/refused';
import { newFiguresWay } from '../../host/words/trim-answer';
import { opened, stamped } from '../job/sample';
import { answered } from '../support/answer';

/** The needle of a heater of 58 ohm: theta = c / (Rg + r)^2; invented dial, 320 ohm at 50, 22 ohm at 120 degC. */
const heat = (ohm: number): number => 1 / (58 + ohm) ** 2;
const shows = (ohm: number): number => 50 + (70 * (heat(ohm) - heat(320))) / (heat(22) - heat(320));
const readings = [320, 220, 150, 100, 68, 47, 33, 22].flatMap((resistanceOhm) =>
  (['up', 'down'] as const).map((leg) => ({ resistanceOhm, reading: shows(resistanceOhm), leg })),
);
const folded = foldJob(stamped([opened]));
if (folded === undefined) throw new Error('no job was opened');
const state = folded;
const curve = answered(fitCurve(readings, { unit: 'degC', marks: [50, 90, 120] }));
const ways = (ohms: readonly number[]) =>
  waysOut(
    state,
    'SHAPE',
    curve,
    [50, 90, 120].map((value, index) => ({ value, ohm: ohms[index] ?? 0 })),
  );

describe('new figures for the dial', () => {
  it('are offered for a sender that moves the needle, whichever way', () => {
    expect(ways([250, 90, 30])).toContainEqual(newFiguresWay);
    expect(ways([30, 90, 250])).toContainEqual(newFiguresWay);
  });

  it('are not where two of them would lie on each other', () => {
    // 900, 700 and 30 ohm: at the two most ohms this needle has hardly left its rest.
    expect(Math.abs(shows(900) - shows(700))).toBeLessThan(1);
    expect(ways([900, 700, 30])).not.toContainEqual(newFiguresWay);
  });
});
