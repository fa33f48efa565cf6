export type TextColumn = { readonly title: string; readonly align?: 'left' | 'right' };

/** Lines of a table with aligned columns: a header, a rule, the rows. Numbers come already rounded. */
export function textTable(columns: readonly TextColumn[], rows: readonly (readonly string[])[]): string[] {
  const widths = columns.map(({ title }, index) =>
    Math.max(title.length, ...rows.map((row) => (row[index] ?? '').length)),
  );
  const line = (cells: readonly string[]): string =>
    cells
      .map((cell, index) => {
        const width = widths[index] ?? 0;
        return columns[index]?.align === 'left' ? cell.padEnd(width) : cell.padStart(width);
      })
      .join('  ')
      .trimEnd();
  const titles = columns.map(({ title }) => title);
  return [
    line(titles),
    widths
      .map((width) => '-'.repeat(width))
      .join('  ')
      .trimEnd(),
    ...rows.map(line),
  ];
}

/** A number with so many significant digits, without exponent between 0.001 and a million. */
export function significant(value: number, digits = 4): string {
  if (value === 0) return '0';
  const magnitude = Math.floor(Math.log10(Math.abs(value)));
  if (magnitude >= 6 || magnitude < -3) return value.toExponential(digits - 1);
  return value.toFixed(Math.max(0, digits - 1 - magnitude));
}

/** A resistance for a person: `24 ohm`, `1.2 kohm`. */
export function ohmText(resistanceOhm: number, digits = 4): string {
  if (resistanceOhm >= 1000) return `${trimZeros(significant(resistanceOhm / 1000, digits))} kohm`;
  return `${trimZeros(significant(resistanceOhm, digits))} ohm`;
}

const trimZeros = (text: string): string =>
  text.includes('.') && !text.includes('e') ? text.replace(/\.?0+$/, '') : text;

/** A signed number, so that a reader sees high from low: `+1.3`, `-0.2`, ` 0.0`. */
export function signed(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  if (Number(text) === 0) return (0).toFixed(decimals);
  return value > 0 ? `+${text}` : text;
}
