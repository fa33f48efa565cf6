import { it } from 'vitest';
import { randomSource } from '../../host/core/numeric/random';
import { catalogueSurvivesKills } from './catalogue-kills';

it.each([
  ['card by card', 1],
  ['as an import', 50],
])('loses no acknowledged document for a kill, nor half an import: %s', async (_, batch) => {
  await catalogueSurvivesKills(batch, 4, randomSource(18).uniform);
});
