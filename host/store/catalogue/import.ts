import { readDocument } from '../../catalogue';
import type { Catalogue } from './catalogue';
import { EXPORT_FILES } from './export';
import { hashOf, type Document } from './keeper';
import { BROKEN_SIGNATURE, isSignedBy } from './signature';
import { unzip } from './zip';

/** What an import takes. An archive of 100,000 cards has about 200 MB of text. */
const IMPORT_LIMITS = {
  mostFileBytes: 256 * 2 ** 20,
  mostTextBytes: 400 * 2 ** 20,
  mostLineBytes: 2 ** 20,
};

export type ReadArchive = {
  readonly kind: 'archive';
  readonly documents: readonly Document[];
  /** Lines that were left out, counted from 1, and why. */
  readonly leftOut: readonly { readonly row: number; readonly why: string }[];
};
export type NoArchive = { readonly kind: 'no-archive'; readonly why: string };

const megabytes = (bytes: number): string => `${Math.round(bytes / 2 ** 20)} MB`;

/** The documents of an archive. A line that is no document stops no other. */
export function readArchive(bytes: Uint8Array): ReadArchive | NoArchive {
  if (bytes.length > IMPORT_LIMITS.mostFileBytes)
    return noArchive(
      `it has ${megabytes(bytes.length)}; the limit is ${megabytes(IMPORT_LIMITS.mostFileBytes)}`,
    );
  const found = unzip(
    bytes,
    [EXPORT_FILES.documents, EXPORT_FILES.hashes, EXPORT_FILES.signatures],
    IMPORT_LIMITS.mostTextBytes,
  );
  if (found.kind === 'too-large')
    return noArchive(`${found.name} unpacks to more than ${megabytes(IMPORT_LIMITS.mostTextBytes)}`);
  if (found.kind === 'damaged') return noArchive(`it is a damaged zip (${found.why})`);
  const text = found.files.get(EXPORT_FILES.documents);
  if (text === undefined) return noArchive(`there is no ${EXPORT_FILES.documents} in it`);
  const beside = (file: string): readonly string[] => namesIn(found.files.get(file) ?? new Uint8Array());
  return readLines(text, beside(EXPORT_FILES.hashes), beside(EXPORT_FILES.signatures));
}

const noArchive = (why: string): NoArchive => ({ kind: 'no-archive', why });
const namesIn = (bytes: Uint8Array): readonly string[] => new TextDecoder().decode(bytes).split('\n');

/** The documents of a text, one a line. `hashes`: the names they ought to have; `signatures`: who signed them, where known. */
export function readLines(
  bytes: Uint8Array,
  hashes: readonly string[] = [],
  signatures: readonly string[] = [],
): ReadArchive {
  const documents: Document[] = [];
  const leftOut: { row: number; why: string }[] = [];
  let row = 0;
  for (const { line, isWhole } of linesIn(bytes)) {
    row += 1;
    if (line.length === 0) continue;
    const read = readLine(line, { named: hashes[row - 1], signed: signatures[row - 1] });
    if ('why' in read) leftOut.push({ row, why: isWhole ? read.why : `the line is cut off (${read.why})` });
    else documents.push(read);
  }
  return { kind: 'archive', documents, leftOut };
}

type Beside = { readonly named: string | undefined; readonly signed: string | undefined };

function readLine(line: Uint8Array, { named, signed }: Beside): Document | { readonly why: string } {
  if (line.length > IMPORT_LIMITS.mostLineBytes)
    return { why: `it has more than ${megabytes(IMPORT_LIMITS.mostLineBytes)}` };
  let body: string;
  try {
    body = new TextDecoder('utf-8', { fatal: true }).decode(line);
  } catch {
    return { why: 'it is not UTF-8' };
  }
  const hash = hashOf(body);
  if (named !== undefined && named !== '' && named !== hash)
    return { why: 'its text is not the one its name was made of' };
  const read = readDocument(body);
  if (read.kind === 'bad') return { why: read.why };
  const [signer, signature] = (signed ?? '').split(' ');
  const document = { hash, kind: read.kind, body };
  if (signer === undefined || signer === '') return document;
  const given = { signer, signature: signature ?? '' };
  return isSignedBy(body, given) ? { ...document, ...given } : { why: BROKEN_SIGNATURE };
}

function* linesIn(bytes: Uint8Array): Generator<{ readonly line: Uint8Array; readonly isWhole: boolean }> {
  const END = 0x0a;
  let from = 0;
  while (from < bytes.length) {
    const end = bytes.indexOf(END, from);
    const to = end < 0 ? bytes.length : end;
    yield { line: bytes.subarray(from, to), isWhole: end >= 0 };
    from = to + 1;
  }
}

/** Keeps what is new of an archive, all of it at once. Answers how many documents were. */
export const takeIn = (
  catalogue: Catalogue,
  { documents }: Pick<ReadArchive, 'documents'>,
  at: string,
): number => catalogue.keeper.add(documents, at).length;
