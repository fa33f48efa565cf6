import { createPrivateKey, generateKeyPairSync } from 'node:crypto';
import { readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { documentText, type Card } from '../../host/catalogue';
import {
  Catalogue,
  CatalogueTrouble,
  exportOf,
  nameShop,
  readArchive,
  signedBy,
} from '../../host/store/catalogue';
import { takeIn, verify } from '../../host/store/catalogue';
import { hashOf } from '../../host/store/catalogue/keeper';
import { isSignedBy, shopKey } from '../../host/store/catalogue/signature';
import { openSqlite } from '../../host/store/catalogue/sqlite';
import { unzip, zipOf } from '../../host/store/catalogue/zip';
import { scratchFolder } from './scratch';

const AT = '2030-01-01T00:00:00.000Z';

const card = (ohm: number): Card => ({
  ...{ schema: 'needlewright/card/1', kind: 'gauge', quantity: 'fuel', unit: '%', licence: 'CC0' },
  points: [10, 40, 160].map((at) => ({ resistance_ohm: at, reading: (100 * at) / (at + ohm) })),
  simulated: false,
});

/** A key file with this private key, or a fresh one. */
async function keyFile(privateKey = generateKeyPairSync('ed25519').privateKey): Promise<string> {
  const path = join(await scratchFolder(), 'catalogue-key.pem');
  writeFileSync(path, privateKey.export({ format: 'pem', type: 'pkcs8' }));
  return path;
}

describe('a signature', () => {
  it('is the one of RFC 8032, section 7.1, test 1', async () => {
    // RFC 8410, section 7: an Ed25519 private key as PKCS 8 is this and its 32 bytes.
    const seed = '9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60';
    const der = Buffer.from(`302e020100300506032b657004220420${seed}`, 'hex');
    const key = shopKey(await keyFile(createPrivateKey({ key: der, format: 'der', type: 'pkcs8' })));
    expect(key.signer).toBe('d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a');
    expect(key.sign('').signature).toBe(
      'e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b',
    );
  });

  it.each([
    ['another text', 'b', {}],
    ['another signer', 'a', { signer: '00'.repeat(32) }],
    ['half a signature', 'a', { signature: 'ab' }],
    ['no hex', 'a', { signature: 'zz'.repeat(64) }],
  ])('is of no %s', async (_, text, change) => {
    const signature = shopKey(await keyFile()).sign('a');
    expect(isSignedBy('a', signature)).toBe(true);
    expect(isSignedBy(text, { ...signature, ...change })).toBe(false);
  });
});

describe('the key of a shop', () => {
  it('is made once, for its owner’s eyes, and refused when it is none: CATALOGUE_KEY', async () => {
    const path = join(await scratchFolder(), 'catalogue-key.pem');
    const { signer } = shopKey(path);
    expect(shopKey(path).signer).toBe(signer);
    expect(statSync(path).mode & 0o777).toBe(0o600);
    writeFileSync(path, readFileSync(path, 'utf8').slice(0, 60));
    expect(() => shopKey(path)).toThrow(CatalogueTrouble);
    const { privateKey } = generateKeyPairSync('rsa', { modulusLength: 2048 });
    const other = await keyFile(privateKey);
    expect(() => shopKey(other)).toThrow(/not the shop's key, it is no Ed25519 key/);
  });
});

describe('what a shop passes on', () => {
  const files = ['documents.ndjson', 'hashes.txt', 'signatures.txt'];
  const textsOf = (bytes: Uint8Array): Map<string, string> => {
    const found = unzip(bytes, files, 2 ** 20);
    if (found.kind !== 'unzipped') throw new Error(found.kind);
    return new Map([...found.files].map(([name, content]) => [name, new TextDecoder().decode(content)]));
  };
  async function exported(): Promise<{ folder: string; bytes: Uint8Array; hashes: string[] }> {
    const folder = await scratchFolder();
    const shop = await Catalogue.open(folder, '1');
    const hashes = shop.add([card(20), card(30)], AT).map(({ hash }) => hash);
    shop.signOwn();
    const { bytes } = exportOf(shop, shop.entries());
    shop.close();
    return { folder, bytes, hashes };
  }

  it('is signed, and another shop sees by whom', async () => {
    const { folder, bytes, hashes } = await exported();
    const [first = ''] = hashes;
    const other = await Catalogue.open(await scratchFolder(), '1');
    const read = readArchive(bytes);
    if (read.kind !== 'archive') throw new Error(read.why);
    expect(read.leftOut).toEqual([]);
    takeIn(other, read, AT);
    const { signer } = shopKey(join(folder, 'catalogue-key.pem'));
    expect(signedBy(other, first)).toEqual({ kind: 'unknown', signer });
    nameShop(other, signer, 'Harbour Motors');
    expect(signedBy(other, first)).toEqual({ kind: 'known', signer, name: 'Harbour Motors' });
    // What others made is not signed here as one's own.
    const [mine = { hash: '' }] = other.add([card(50)], AT);
    other.signOwn();
    expect(signedBy(other, mine.hash)).toMatchObject({ kind: 'own' });
    expect(signedBy(other, first)).toMatchObject({ kind: 'known' });
    // It goes on with the signature it came with.
    expect(textsOf(exportOf(other, other.entries()).bytes).get('signatures.txt')).toContain(signer);
    other.close();
    const own = await Catalogue.open(folder, '1');
    expect(signedBy(own, first)).toEqual({ kind: 'own', signer });
    own.close();
  });

  it('is refused line by line where a signature is not of its text, and the rest is taken', async () => {
    const texts = textsOf((await exported()).bytes);
    const [one = '', two = ''] = (texts.get('signatures.txt') ?? '').split('\n');
    const foreign = shopKey(await keyFile()).sign('another text');
    const bytes = zipOf({
      ...Object.fromEntries(texts),
      'signatures.txt': `${one}\n${foreign.signer} ${foreign.signature}\n`,
    });
    expect(readArchive(bytes)).toMatchObject({
      documents: [{ signer: one.split(' ')[0] }],
      leftOut: [{ row: 2, why: 'its signature is not of this text' }],
    });
    expect(two).not.toBe('');
    const unsigned = zipOf({ 'documents.ndjson': texts.get('documents.ndjson') ?? '' });
    expect(readArchive(unsigned)).toMatchObject({ documents: [{ kind: 'card' }, { kind: 'card' }] });
  });

  it('keeps a signature that comes after its document', async () => {
    const { bytes, hashes } = await exported();
    const other = await Catalogue.open(await scratchFolder(), '1');
    other.keeper.add(
      [20, 30].map((ohm) => ({ kind: 'card', ...named(documentText(card(ohm))) })),
      AT,
    );
    expect(signedBy(other, hashes[0] ?? '')).toEqual({ kind: 'unsigned' });
    const read = readArchive(bytes);
    expect(read.kind === 'archive' && takeIn(other, read, AT)).toBe(0);
    expect(signedBy(other, hashes[0] ?? '')).toMatchObject({ kind: 'unknown' });
    other.close();
  });

  it('is found broken when somebody changed it in the file', async () => {
    const { folder, hashes } = await exported();
    const db = await openSqlite(join(folder, 'catalogue.sqlite'));
    db.run(
      "update document set signature = replace(signature, substr(signature, 1, 8), '00000000') where hash = ?",
      [hashes[0] ?? ''],
    );
    db.close();
    const shop = await Catalogue.open(folder, '1');
    expect(signedBy(shop, hashes[0] ?? '')).toMatchObject({ kind: 'broken' });
    expect(verify(shop).faults).toEqual([expect.stringMatching(/its signature is not of this text/)]);
    shop.close();
  });
});

const named = (body: string): { hash: string; body: string } => ({ hash: hashOf(body), body });
