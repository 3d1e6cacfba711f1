/** Entries by key, in the order in which the keys first appear. */
export function groupBy<Entry>(
  entries: readonly Entry[],
  keyOf: (entry: Entry) => string,
): ReadonlyMap<string, readonly Entry[]> {
  const groups = new Map<string, Entry[]>();
  for (const entry of entries) {
    const key = keyOf(entry);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [entry]);
    else group.push(entry);
  }
  return groups;
}
