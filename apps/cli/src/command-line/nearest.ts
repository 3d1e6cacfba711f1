/**
 * The known names closest to one that was mistyped, closest first, at most three.
 *
 * Distance counts inserted, dropped, changed and swapped letters, case ignored; a name that starts with what was typed
 * also counts as close. Nothing is suggested when more than a third of the letters would have to change: a far-fetched
 * suggestion sends people the wrong way.
 */
export function nearest(typed: string, known: readonly string[]): readonly string[] {
  const wanted = typed.toLowerCase();
  const allowed = Math.max(1, Math.floor(wanted.length / 3));
  return known
    .map((name) => ({ name, distance: closeness(wanted, name.toLowerCase()) }))
    .filter(({ distance }) => distance <= allowed)
    .sort((a, b) => a.distance - b.distance || a.name.localeCompare(b.name, "en"))
    .slice(0, 3)
    .map(({ name }) => name);
}

function closeness(wanted: string, name: string): number {
  if (wanted.length >= 2 && name.startsWith(wanted)) return 0;
  return editDistance(wanted, name);
}

/** Optimal string alignment distance: the fewest single-letter edits or swaps of neighbours from one word to the other. */
export function editDistance(from: string, to: string): number {
  let twoBack: number[] = [];
  let previous = Array.from({ length: to.length + 1 }, (_, column) => column);
  for (let row = 1; row <= from.length; row++) {
    const current = [row];
    for (let column = 1; column <= to.length; column++) {
      const change = from[row - 1] === to[column - 1] ? 0 : 1;
      let best = Math.min(previous[column]! + 1, current[column - 1]! + 1, previous[column - 1]! + change);
      const swapped =
        row > 1 && column > 1 && from[row - 1] === to[column - 2] && from[row - 2] === to[column - 1];
      if (swapped) best = Math.min(best, twoBack[column - 2]! + 1);
      current.push(best);
    }
    twoBack = previous;
    previous = current;
  }
  return previous[to.length]!;
}
