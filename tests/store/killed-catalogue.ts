import { writeSync } from 'node:fs';
import { hashOf, Keeper, type Document } from '../../host/store/catalogue/keeper';
import { openSqlite } from '../../host/store/catalogue/sqlite';

/** Keeps document after document, says the names of those that are kept, and waits for its end: `PATH FROM BATCH`. */
const [path = '', from = '0', batch = '1'] = process.argv.slice(2);
const keeper = new Keeper(await openSqlite(path));
for (let n = Number(from); ; n += Number(batch)) {
  const documents = Array.from({ length: Number(batch) }, (_, i): Document => {
    const body = JSON.stringify({ n: n + i, schema: 'needlewright/card/9', text: 'x'.repeat(600) });
    return { hash: hashOf(body), kind: 'newer', body };
  });
  keeper.add(documents, '2030-01-01T00:00:00Z');
  writeSync(1, `${documents.map(({ hash }) => hash).join(' ')}\n`);
}
