import type { Report, Surroundings } from '../../command';
import type { Arguments } from '../../options';

/** One word behind `catalogue`. `words` come without that word. */
export type Action = {
  readonly name: string;
  /** As the help shows it: what stands behind the word, and what it does. */
  readonly usage: string;
  readonly help: string;
  /** Words it takes: least and most. */
  readonly words: { readonly least: number; readonly most: number };
  readonly run: (words: readonly string[], given: Arguments, surroundings: Surroundings) => Promise<Report>;
};

/** The schema that a JSON answer of an action names. */
export const schemaOf = <const Name extends string>(action: Name): `needlewright/catalogue-${Name}/1` =>
  `needlewright/catalogue-${action}/1`;

/** Now, as documents are dated. */
export const nowIso = (): string => new Date().toISOString();
