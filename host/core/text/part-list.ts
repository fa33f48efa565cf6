import { refuse, type Refused } from '../result';
import { typedNumber } from './number';
import type { DrawerPart } from '../by-hand/drawer';

const MOST_PARTS = 60;
const FORM = 'write one a line, as 150, 2 x 220 1W or 4k7 1/4W';

const wattOf = (text: string): number | undefined => {
  const parts = /^(\d+)\s*\/\s*(\d+)$/.exec(text);
  if (parts !== null) return Number(parts[1]) / Number(parts[2]);
  const read = typedNumber(text);
  return read.kind === 'number' ? read.value : undefined;
};

function partOf(item: string, line: number): DrawerPart | Refused {
  const found = /^(?:(\d{1,3})\s*[x\u00d7]\s*)?(.+?)(?:[\s,]+(\d+\s*\/\s*\d+|[\d.,]+)\s*[wW])?$/.exec(item);
  const wrong = (why: string): Refused =>
    refuse('PARTS_NOT_UNDERSTOOD', `line ${line}: "${item.slice(0, 60)}" ${why}; ${FORM}`);
  if (found === null) return wrong('is no part');
  const [, many, ohms = '', watts] = found;
  const typed = typedNumber(ohms);
  if (typed.kind === 'refused') return wrong('is no resistance');
  if (!(typed.value > 0)) return wrong('is no resistor');
  const count = many === undefined ? 1 : Number(many);
  if (count < 1) return wrong('counts no part');
  if (watts === undefined) return { resistanceOhm: typed.value, count };
  const ratingWatt = wattOf(watts.replace(/\s/g, ''));
  if (ratingWatt === undefined || !(ratingWatt > 0)) return wrong('has watts that are no number');
  return { resistanceOhm: typed.value, ratingWatt, count };
}

/** The same part written twice is there twice. */
const together = (parts: readonly DrawerPart[]): DrawerPart[] =>
  parts.reduce<DrawerPart[]>((list, part) => {
    const at = list.findIndex(
      (each) => each.resistanceOhm === part.resistanceOhm && each.ratingWatt === part.ratingWatt,
    );
    const same = list[at];
    return same === undefined
      ? [...list, part]
      : list.map((each, index) => (index === at ? { ...each, count: each.count + part.count } : each));
  }, []);

/**
 * What lies in a drawer, one part a line or parted by semicolons: how many, ohms, watts ("2 x 220 1W", "4k7 1/4W", "150").
 * Lines that begin with # say nothing. Refuses: PARTS_NOT_UNDERSTOOD with the line, and where nothing is written.
 */
export function partList(
  text: string,
): { readonly kind: 'parts'; readonly parts: readonly DrawerPart[] } | Refused {
  const items = text.split(/\r?\n/).flatMap((line, index) =>
    line.trim().startsWith('#')
      ? []
      : line
          .split(';')
          .map((item) => ({ item: item.trim(), line: index + 1 }))
          .filter(({ item }) => item !== ''),
  );
  const parts: DrawerPart[] = [];
  for (const { item, line } of items) {
    const part = partOf(item, line);
    if ('kind' in part) return part;
    parts.push(part);
  }
  if (parts.length === 0) return refuse('PARTS_NOT_UNDERSTOOD', `no resistor is named; ${FORM}`);
  const list = together(parts);
  return list.length > MOST_PARTS
    ? refuse('PARTS_NOT_UNDERSTOOD', `${list.length} kinds of parts; name the ${MOST_PARTS} most useful`)
    : { kind: 'parts', parts: list };
}
