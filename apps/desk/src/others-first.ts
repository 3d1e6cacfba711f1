/** Lets readings and alarms, which come first, have their turn. */
export function othersFirst(): Promise<void> {
  return new Promise((turn) => setImmediate(turn));
}

/** Does something with every one of a long list, and lets others go first after each so many. */
export async function eachInTurn<One>(
  all: Iterable<One>,
  atOnce: number,
  work: (one: One) => void,
): Promise<void> {
  let done = 0;
  for (const one of all) {
    work(one);
    done += 1;
    if (done % atOnce === 0) await othersFirst();
  }
}
