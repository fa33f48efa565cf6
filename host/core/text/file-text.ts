import { refuse, type Refused } from '../result';

export type FileText = { readonly kind: 'text'; readonly text: string; readonly encoding: string };

/** The standard's `TextDecoder`, given by page or program: the numbers of this folder know no platform. */
export type TextDecoderClass = new (
  label: string,
  options?: { readonly fatal?: boolean },
) => { decode(bytes: Uint8Array): string };

/** What a page takes: a table of 10,000 rows is a tenth of it. */
export const MOST_TABLE_BYTES = 4 * 1024 * 1024;

const startsWith = (bytes: Uint8Array, start: readonly number[]): boolean =>
  start.every((byte, index) => bytes[index] === byte);

/** Text in two-byte characters without a mark at its start has a zero in nearly every second place. */
const zerosAt = (bytes: Uint8Array, parity: 0 | 1): boolean => {
  const seen = bytes.slice(0, 200).filter((_, index) => index % 2 === parity);
  return seen.length > 1 && seen.filter((byte) => byte === 0).length > seen.length / 2;
};

const encodingOf = (bytes: Uint8Array, Decoder: TextDecoderClass): string => {
  if (startsWith(bytes, [0xff, 0xfe]) || zerosAt(bytes, 1)) return 'utf-16le';
  if (startsWith(bytes, [0xfe, 0xff]) || zerosAt(bytes, 0)) return 'utf-16be';
  try {
    new Decoder('utf-8', { fatal: true }).decode(bytes);
    return 'utf-8';
  } catch {
    // What old spreadsheets write; a degree sign there is one byte that is not UTF-8.
    return 'windows-1252';
  }
};

/**
 * The text of a file, whatever wrote it: UTF-8 with or without its mark, UTF-16 either way round, Windows or Latin-1.
 * Refuses: FILE_NOT_TEXT (a workbook, a PDF, a picture), FILE_TOO_LARGE (over `mostBytes`), FILE_EMPTY.
 */
export function textOfFile(
  bytes: Uint8Array,
  Decoder: TextDecoderClass,
  mostBytes = Infinity,
): FileText | Refused {
  if (bytes.length === 0) return refuse('FILE_EMPTY', 'the file is empty');
  if (bytes.length > mostBytes)
    return refuse(
      'FILE_TOO_LARGE',
      'the file has more than 4 megabytes; a table of a gauge or a sender is far smaller',
    );
  const isWorkbook = startsWith(bytes, [0x50, 0x4b]) || startsWith(bytes, [0xd0, 0xcf, 0x11, 0xe0]);
  if (isWorkbook)
    return refuse(
      'FILE_NOT_TEXT',
      'this is a workbook or an archive; save the sheet as CSV, or copy its columns and paste them',
    );
  const encoding = encodingOf(bytes, Decoder);
  const text = new Decoder(encoding).decode(bytes);
  if (startsWith(bytes, [0x25, 0x50, 0x44, 0x46]) || text.includes('\u0000'))
    return refuse('FILE_NOT_TEXT', 'this is not a text file; copy the table out of it and paste it');
  return { kind: 'text', text, encoding };
}
