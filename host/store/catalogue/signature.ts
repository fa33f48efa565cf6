import {
  createPrivateKey,
  createPublicKey,
  generateKeyPairSync,
  sign,
  verify,
  type KeyObject,
} from 'node:crypto';
import {
  closeSync,
  existsSync,
  fsyncSync,
  linkSync,
  openSync,
  readFileSync,
  unlinkSync,
  writeSync,
} from 'node:fs';
import { refuse } from '../../refusals';
import { fileTrouble, hasCode } from '../file-trouble';
import { CatalogueTrouble } from './sqlite';

/** Who signed a text, as 64 hex digits, and the signature, as 128. Source: Ed25519, RFC 8032. */
export type Signature = { readonly signer: string; readonly signature: string };

/** A shop's key: it says who, never how good. */
export type ShopKey = { readonly signer: string; readonly sign: (text: string) => Signature };

/** Why a document is not taken. */
export const BROKEN_SIGNATURE = 'its signature is not of this text';

const OWNER_ONLY = 0o600;

/**
 * The key of a file, made there where there is none. Throws CatalogueTrouble (CATALOGUE_KEY) for a file that holds no such
 * key or cannot be written: another key would be another shop.
 */
export function shopKey(path: string): ShopKey {
  try {
    if (!existsSync(path)) writeKey(path);
    return keyOf(createPrivateKey(readFileSync(path)));
  } catch (error) {
    if (error instanceof CatalogueTrouble) throw error;
    throw new CatalogueTrouble(refuse('CATALOGUE_KEY', { path, why: fileTrouble(error).cause }), error);
  }
}

/** Whole or not there: of two programs that make one at once the first counts. */
function writeKey(path: string): void {
  const { privateKey } = generateKeyPairSync('ed25519');
  const fresh = `${path}.${process.pid}`;
  const file = openSync(fresh, 'w', OWNER_ONLY);
  writeSync(file, privateKey.export({ format: 'pem', type: 'pkcs8' }).toString());
  fsyncSync(file);
  closeSync(file);
  try {
    linkSync(fresh, path);
  } catch (error) {
    if (!hasCode(error, 'EEXIST')) throw error;
  } finally {
    unlinkSync(fresh);
  }
}

/** A private key as it signs. Throws RangeError for one of another kind. */
function keyOf(privateKey: KeyObject): ShopKey {
  if (privateKey.asymmetricKeyType !== 'ed25519') throw new RangeError('it is no Ed25519 key');
  const { x = '' } = createPublicKey(privateKey).export({ format: 'jwk' });
  const signer = Buffer.from(x, 'base64url').toString('hex');
  return {
    signer,
    sign: (text) => ({ signer, signature: sign(null, Buffer.from(text), privateKey).toString('hex') }),
  };
}

/** Whether a signature is of this text by this key. Anything that is no signature at all is not. */
export function isSignedBy(text: string, { signer, signature }: Signature): boolean {
  if (!/^[0-9a-f]{64}$/.test(signer) || !/^[0-9a-f]{128}$/.test(signature)) return false;
  const x = Buffer.from(signer, 'hex').toString('base64url');
  const key = createPublicKey({ key: { kty: 'OKP', crv: 'Ed25519', x }, format: 'jwk' });
  return verify(null, Buffer.from(text), key, Buffer.from(signature, 'hex'));
}
