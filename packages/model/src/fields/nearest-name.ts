/** The known name that a misspelt one most likely stands for: capitals and hyphens aside, at most a third of its letters wrong. */
export function nearestName(name: string, known: readonly string[]): string | undefined {
  if (name.length > 40) return undefined;
  const folded = name.toLowerCase().replace(/[-_\s]/gu, "");
  let best: { readonly name: string; readonly distance: number } | undefined;
  for (const candidate of known) {
    const distance = editDistance(folded, candidate.toLowerCase().replace(/[-_\s]/gu, ""));
    if (
      distance <= Math.floor(Math.max(folded.length, candidate.length) / 3) &&
      distance < (best?.distance ?? Infinity)
    )
      best = { name: candidate, distance };
  }
  return best?.name;
}

/** Letters to insert, delete, replace or exchange with their neighbour to turn one word into the other. */
export function editDistance(from: string, to: string): number {
  let before: number[] = [];
  let last = Array.from({ length: to.length + 1 }, (_, column) => column);
  for (let row = 1; row <= from.length; row++) {
    const current = [row];
    for (let column = 1; column <= to.length; column++) {
      const differs = from[row - 1] === to[column - 1] ? 0 : 1;
      let least = Math.min(last[column]! + 1, current[column - 1]! + 1, last[column - 1]! + differs);
      const exchanged =
        row > 1 && column > 1 && from[row - 1] === to[column - 2] && from[row - 2] === to[column - 1];
      if (exchanged) least = Math.min(least, before[column - 2]! + 1);
      current.push(least);
    }
    before = last;
    last = current;
  }
  return last[to.length]!;
}
