import { it } from 'vitest';
import { randomSource } from '../../host/core/numeric/random';
import { catalogueSurvivesKills } from '../store/catalogue-kills';
import { soakSeed } from './seed';

it.each([
  ['card by card', 1],
  ['as an import', 50],
])('loses no acknowledged document for a kill at any moment: %s', async (_, batch) => {
  await catalogueSurvivesKills(batch, 100, randomSource(soakSeed()).uniform);
});
