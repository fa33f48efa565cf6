/** Name under which a table holds a number; `undefined` for a number that it lacks. */
export function nameOf<Table extends Readonly<Record<string, number>>>(
  table: Table,
  number: number,
): Extract<keyof Table, string> | undefined {
  for (const name in table) if (table[name] === number) return name;
  return undefined;
}

/** Name of a catalogue's row by its number; `undefined` for a number of a newer version. */
export function nameOfRow<Catalogue extends Readonly<Record<string, { readonly number: number }>>>(
  catalogue: Catalogue,
  number: number,
): Extract<keyof Catalogue, string> | undefined {
  for (const name in catalogue) if (catalogue[name]?.number === number) return name;
  return undefined;
}
