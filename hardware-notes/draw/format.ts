/** How values are written in drawings and tables. */

const significant = (value: number): string => {
  const digits = value >= 100 ? 0 : value >= 10 ? 1 : 2;
  return value.toFixed(digits);
};

/** A resistance for a drawing: 1.87 Ω, 40.2 Ω, 464 Ω, 1.58 kΩ. */
export function ohmText(milliohm: number): string {
  const ohm = milliohm / 1000;
  if (ohm >= 1000) return `${significant(ohm / 1000)} kΩ`;
  return `${significant(ohm)} Ω`;
}

/** A part's value as it is ordered: 1 kΩ, 8.06 kΩ, 90.9 kΩ, 10 MΩ. */
export function partOhmText(ohm: number): string {
  if (ohm >= 1e6) return `${ohm / 1e6} MΩ`;
  return ohm >= 1000 ? `${ohm / 1000} kΩ` : `${ohm} Ω`;
}

/** A power for a drawing: 0.6 W, 3 W. */
export function wattText(milliwatt: number): string {
  const watt = milliwatt / 1000;
  return `${Number.isInteger(watt) ? String(watt) : watt.toFixed(1)} W`;
}

/** A figure for a table with the given number of decimals. */
export const fixed = (value: number, decimals: number): string => value.toFixed(decimals);

export type Row = readonly (string | number)[];

/** A Markdown table. */
export function table(header: Row, rows: readonly Row[]): string {
  const line = (cells: Row): string => `| ${cells.join(' | ')} |`;
  return [line(header), line(header.map(() => '---')), ...rows.map(line)].join('\n');
}
