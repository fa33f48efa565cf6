import { expect, it } from 'vitest';
import { randomSource } from '../../host/core/numeric/random';
import { atBoundaries, catalogueSurvivesPowerLoss } from './catalogue-power-loss';
import { canRecord } from './power-loss';

const isWanted = process.env.CI === 'true' || canRecord;
if (!isWanted) console.log('skipped: what a program writes cannot be recorded here (strace is not found)');

it.skipIf(!isWanted)('loses no acknowledged document when the power goes at any flush', async () => {
  const drawn = randomSource(18).uniform;
  expect(await catalogueSurvivesPowerLoss(atBoundaries, () => ['lost', { drawn }])).toBeGreaterThan(100);
});
