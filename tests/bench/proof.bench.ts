import { expect, it } from 'vitest';
import { falselyAccepted, proofCars, reTrimCars } from '../support/proof-cars';
import { addRow } from './table';

const CARS = 400;
const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;

it('knows the sender from pairs in the vehicle as well as it says', () => {
  const runs = ([1, 2, 3, 4] as const).map((places) => proofCars(CARS, places, 700_000 + places));
  addRow({
    part: 'proof',
    what: `95 % region of ohms, steepness and probe holds the truth, ${CARS} cars each with 1 to 4 places`,
    measured: runs.map(({ region }) => percent(region)).join(' / '),
    goal: '96 % (93 to 98)',
  });
  addRow({
    part: 'proof',
    what: 'reading at 105 degC: standard uncertainty by 1 to 4 places; truths within 1.96 of it',
    measured: `${runs.map(({ uncertaintyAt105 }) => uncertaintyAt105.toFixed(1)).join(' / ')} K; ${runs.map(({ heldAt105 }) => percent(heldAt105)).join(' / ')}`,
    goal: '2.3 / 2.0 / 1.7 / 1.5 K',
  });
  for (const { region } of runs) expect(region).toBeGreaterThan(0.92);
});

it('offers other resistors only where they are worth it', () => {
  const { offered, worse, medianBefore, medianAfter } = reTrimCars(CARS, 710_000);
  addRow({
    part: 'proof',
    what: `other resistors by 4 pairs, ${CARS} cars: offered; worse of those; worst error before and after (median)`,
    measured: `${percent(offered)}; ${percent(worse)}; ${medianBefore.toFixed(1)} to ${medianAfter.toFixed(1)} K`,
    goal: '30 %; 3 %; 5.5 to 4.7 K',
  });
  expect(worse).toBeLessThan(0.1);
});

it('passes few needles that are outside', () => {
  const rules = ['simple', 'probability', 'guard'] as const;
  const shares = rules.map((rule) => falselyAccepted(rule, 400_000, 720_000));
  addRow({
    part: 'proof',
    what: `of what ${rules.join(' / ')} passes at a limit of 4 with U 3, outside`,
    measured: shares.map(percent).join(' / '),
    goal: '15 / - / 1.2 %',
  });
  expect(shares[2]).toBeLessThan(0.02);
});
