import type { ReadingDoubt } from '../job/state/reading-doubt';
import type { Notation } from './notation';

/** What speaks against a reading that is about to be taken: what the needle did at the settings beside it. */
export function doubtWords(doubt: ReadingDoubt | undefined, say: Notation, unit: string): string | undefined {
  if (doubt === undefined) return undefined;
  const read = ({ resistanceOhm, reading }: { resistanceOhm: number; reading: number }): string =>
    `${say.ohm(Number(resistanceOhm.toPrecision(3)))} read ${say.of(Number(reading.toPrecision(3)), unit)}`;
  switch (doubt.kind) {
    case 'not-as-before':
      return `The last time ${read(doubt.at)}. Look again; confirm it if the needle stands there.`;
    case 'not-between':
      return `${doubt.at.map(read).join(', ')}; this should lie between. Look again; confirm it if the needle stands there.`;
    case 'wrong-way':
      return `${doubt.at.map(read).join(', ')}: so far the needle went the other way. Look again; confirm it if the needle stands there.`;
  }
}
