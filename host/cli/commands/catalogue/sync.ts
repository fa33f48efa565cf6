import {
  CatalogueTrouble,
  openPostgres,
  sync,
  waitingForServer,
  type Catalogue,
  type Synced,
} from '../../../store/catalogue';
import { withCatalogue } from '../../input/catalogue-place';
import { InputError, RefusedError } from '../../input-error';
import { documentsWait } from '../../../words/catalogue';
import { nowIso, schemaOf, type Action } from './action';

export const syncAction: Action = {
  name: 'sync',
  usage: '',
  help: 'pull what other benches have put on the shop\u2019s PostgreSQL server (DATABASE_URL), push what is here',
  words: { least: 0, most: 0 },
  run: (_, given, surroundings) =>
    withCatalogue(given, surroundings, async (catalogue) => {
      const address = surroundings.environment.DATABASE_URL;
      if (address === undefined || address === '')
        throw new InputError(
          'DATABASE_URL is not set: give the address of the server, postgres://NAME@HOST/DATABASE',
        );
      const { pulled, pushed, leftOut } = await synced(catalogue, address, given.flag('unsigned'));
      return {
        text: [
          `${pulled} documents pulled, ${pushed} pushed${leftOut.length === 0 ? '' : `, ${leftOut.length} left out`}`,
        ],
        json: { schema: schemaOf('sync'), pulled, pushed, left_out: leftOut },
        warnings: leftOut.map((each) => `left out, ${each}`),
      };
    }),
};

/** A server that is gone stops no work here: what waits for it is counted. */
async function synced(catalogue: Catalogue, address: string, isUnsigned: boolean): Promise<Synced> {
  try {
    const server = await openPostgres(address);
    try {
      if (!isUnsigned) catalogue.signOwn();
      return await sync(catalogue, server, nowIso());
    } finally {
      await server.close();
    }
  } catch (error) {
    if (!(error instanceof CatalogueTrouble) || error.refused.code !== 'SYNC_SERVER') throw error;
    const count = waitingForServer(catalogue);
    throw new RefusedError('SYNC_SERVER', `${error.message} ${documentsWait(count)}`, { waiting: count });
  }
}
