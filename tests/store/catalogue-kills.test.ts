import { describe, it } from 'vitest';
import { randomSource } from '../../host/core/numeric/random';
import { isServerWanted, onPrivateServer } from '../support/private-postgres';
import { catalogueSurvivesKills, syncSurvivesKills } from './catalogue-kills';

it.each(['add', 'import'] as const)('loses no acknowledged document for a kill: %s', async (mode) => {
  await catalogueSurvivesKills(mode, 3, randomSource(18).uniform);
});

describe.skipIf(!isServerWanted)('with a PostgreSQL server', () => {
  it('loses no acknowledged document for a kill while it synchronises', async () => {
    await onPrivateServer((url) => syncSurvivesKills(url, 3, randomSource(19).uniform));
  });
});
