import { describe, expect, it } from 'vitest';
import { randomSource } from '../../host/core/numeric/random';
import { catalogueSurvivesKills, syncSurvivesKills } from '../store/catalogue-kills';
import { catalogueSurvivesPowerLoss } from '../store/catalogue-power-loss';
import { canRecord } from '../store/power-loss';
import { isServerWanted, onPrivateServer } from '../support/private-postgres';
import { soakSeed } from './seed';

it.each(['add', 'import'] as const)(
  'loses no acknowledged document for a kill at any moment: %s',
  async (mode) => {
    await catalogueSurvivesKills(mode, 70, randomSource(soakSeed()).uniform);
  },
);

describe.skipIf(!isServerWanted)('with a PostgreSQL server', () => {
  it('loses no acknowledged document for a kill at any moment: sync', async () => {
    await onPrivateServer((url) => syncSurvivesKills(url, 70, randomSource(soakSeed()).uniform));
  });
});

it.skipIf(process.env.CI !== 'true' && !canRecord)(
  'loses no acknowledged document when the power goes after any write, however the disk mixes them',
  async () => {
    const drawn = randomSource(soakSeed()).uniform;
    const looked = await catalogueSurvivesPowerLoss(
      ({ kind }) => kind !== 'made',
      () => ['lost', 'there', { drawn }],
    );
    expect(looked).toBeGreaterThan(1_000);
  },
);
