/** Edits (insert, delete, replace, swap neighbours) that turn one word into the other. */
function editDistance(a: string, b: string): number {
  const rows = [Array.from({ length: b.length + 1 }, (_, index) => index)];
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const isSame = a[i - 1] === b[j - 1];
      let best = Math.min(rows[i - 1]![j]! + 1, row[j - 1]! + 1, rows[i - 1]![j - 1]! + (isSame ? 0 : 1));
      const isSwap = i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1];
      if (isSwap) best = Math.min(best, rows[i - 2]![j - 2]! + 1);
      row.push(best);
    }
    rows.push(row);
  }
  return rows[a.length]![b.length]!;
}

/** The candidate a person most likely meant, or undefined when none is near (more than a third of the letters differ). */
export function nearest(word: string, candidates: readonly string[]): string | undefined {
  const ranked = candidates
    .map((candidate) => ({ candidate, distance: editDistance(word.toLowerCase(), candidate.toLowerCase()) }))
    .sort((a, b) => a.distance - b.distance);
  const best = ranked[0];
  return best !== undefined && best.distance <= Math.max(1, Math.floor(word.length / 3))
    ? best.candidate
    : undefined;
}
