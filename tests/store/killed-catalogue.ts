import { writeSync } from 'node:fs';
import { documentText, type Card } from '../../host/catalogue';
import { Catalogue, openPostgres, readArchive, sync, takeIn } from '../../host/store/catalogue';
import { hashOf } from '../../host/store/catalogue/keeper';
import { zipOf } from '../../host/store/catalogue/zip';

/**
 * Keeps cards and says the names of those that are kept, a line a step: `FOLDER FROM MODE [URL]`. Modes that go on until
 * the program is killed: `add`, one by one, working curves out between them; `import`, 50 of an archive at once; `sync`, 40
 * of its own and a whole synchronisation. `life` does some of everything that writes on this machine, and ends.
 */
const [folder = '', from = '0', mode = 'add', url = ''] = process.argv.slice(2);
const AT = '2030-01-01T00:00:00.000Z';
const say = (names: readonly string[]): void => void writeSync(1, `${names.join(' ')}\n`);

/** A divider as every textbook has it, R / (R + n), so that no two cards are the same. */
const card = (n: number): Card => ({
  ...{ schema: 'needlewright/card/1', kind: 'gauge', quantity: 'fuel', unit: '%', licence: 'private' },
  description: `number ${n} of ${folder.slice(-8)}`,
  points: [10, 40, 160].map((ohm) => ({ resistance_ohm: ohm, reading: (100 * ohm) / (ohm + 20 + n) })),
  simulated: false,
});
const cards = (first: number, count: number): Card[] =>
  Array.from({ length: count }, (_, i) => card(first + i));

const catalogue = await Catalogue.open(folder, 'test');
const added = (first: number, count: number): string[] =>
  catalogue.add(cards(first, count), AT).map(({ hash }) => hash);

function addOne(n: number): number {
  say(added(n, 1));
  if (n % 4 === 0) catalogue.workOut(oneOnly());
  return 1;
}

const oneOnly = (): (() => boolean) => {
  let asked = 0;
  return () => (asked += 1) > 1;
};

function importSome(n: number): number {
  const bodies = cards(n, 50).map(documentText);
  const read = readArchive(zipOf({ 'documents.ndjson': bodies.map((body) => `${body}\n`).join('') }));
  if (read.kind !== 'archive') throw new Error(read.why);
  takeIn(catalogue, read, AT);
  say(bodies.map(hashOf));
  return 50;
}

async function synchronise(n: number): Promise<number> {
  const names = added(n, 40);
  const server = await openPostgres(url);
  await sync(catalogue, server, AT);
  await server.close();
  say(names);
  return 40;
}

async function life(): Promise<void> {
  let n = Number(from);
  for (let i = 0; i < 12; i += 1) n += addOne(n);
  const [withdrawn = '', ...others] = added(n, 4);
  catalogue.say([{ says: 'withdrawn', about: [withdrawn], reason: 'read in a moving vehicle', at: AT }]);
  for (const name of others) {
    await catalogue.slips.put(name, { owner: `owner of ${name}` });
    writeSync(1, `slip ${name}\n`);
  }
  for (const name of others.slice(1)) {
    await catalogue.slips.erase(name);
    writeSync(1, `erased ${name}\n`);
  }
  // More than the write-ahead log holds before it goes over into the file.
  for (let i = 0; i < 12; i += 1) n += importSome(n + 100);
  catalogue.close();
}

const STEPS: Readonly<Record<string, (n: number) => number | Promise<number>>> = {
  ...{ add: addOne, import: importSome, sync: synchronise },
};
const step = STEPS[mode];
if (step === undefined) await life();
else for (let n = Number(from); ;) n += await step(n);
