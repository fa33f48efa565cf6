import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** The acceptance sheet as a person reads it: rows that are worked through, and what each limit means. */

const notes = fileURLToPath(new URL('../../hardware-notes', import.meta.url));

/** Limits of the printed rows: lowest and highest of what may come out, in V, A, Ω, s or parts; 1 is "yes". */
const printedLimits: Readonly<Record<string, (text: string) => readonly [number, number]>> = {
  '> (\\d+) MΩ': (text) => [Number(/\d+/.exec(text)?.[0]) * 1e6, Infinity],
  '([\\d.]+) to ([\\d.]+) (s|ms|mA|A|V)': (text) => {
    const [, from = '', to = '', unit = ''] = /([\d.]+) to ([\d.]+) (s|ms|mA|A|V)/.exec(text) ?? [];
    const scale = unit === 'ms' || unit === 'mA' ? 1e-3 : 1;
    return [Number(from) * scale, Number(to) * scale];
  },
  '≤ ([\\d.]+) s': (text) => [0, Number(/[\d.]+/.exec(text)?.[0])],
  '^(?:0 )?± ([\\d.]+) (%|mA|mV)$': (text) => {
    const [, value = '', unit = ''] = /± ([\d.]+) (%|mA|mV)/.exec(text) ?? [];
    const half = Number(value) * (unit === '%' ? 0.01 : 1e-3);
    return [-half, half];
  },
  '^(refuses to arm|both)$': () => [1, 1],
};

/** The limit of a printed row. Throws for words that no limit is known for. */
export function limitOf(text: string): readonly [number, number] {
  const found = Object.entries(printedLimits).find(([pattern]) => new RegExp(pattern).test(text));
  if (found === undefined) throw new Error(`no limit in ${text}`);
  return found[1](text);
}

export type SheetRow = { readonly row: string; readonly check: string; readonly limit: string };

/** Rows marked ✓ of a page. */
export const markedRows = (page: string): SheetRow[] =>
  [...readFileSync(`${notes}/${page}`, 'utf8').matchAll(/^\| ([A-F]\d+) ✓ \| ([^|]*) \|([^|]*)\|/gm)].map(
    ([, row = '', check = '', limit = '']) => ({ row, check, limit: limit.trim() }),
  );

/** Section D: the difference the sheet allows at an asked resistance, ohm. */
export const allowedOhm = (ohm: number): number => 0.15 + 0.002 * ohm;
