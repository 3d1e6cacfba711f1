import type { JobResult } from "@earthbell/papers";

/** One paper to be made: the number of the papers it belongs to, and how it is made. */
export interface Ordered {
  /** Two of the same key wait for each other: they are revisions of one paper. */
  readonly key: string;
  readonly make: () => Promise<JobResult>;
}

/**
 * Makes papers, several at once, and tells of each in the order given.
 *
 * @param orders  read one after the other, only as far ahead as papers are made
 * @param atOnce  papers under way or read ahead
 */
export async function makeInOrder(
  orders: AsyncIterable<Ordered>,
  atOnce: number,
  tell: (result: JobResult) => Promise<void>,
): Promise<void> {
  const underWay = new Map<string, Promise<unknown>>();
  const telling: Promise<void>[] = [];
  let before: Promise<unknown> = Promise.resolve();
  for await (const { key, make } of orders) {
    const earlier = underWay.get(key) ?? Promise.resolve();
    const result = earlier.then(make);
    underWay.set(key, settled(result));
    const told = Promise.all([result, before]).then(([said]) => tell(said));
    before = settled(told);
    telling.push(told);
    if (telling.length >= atOnce) await telling.shift();
  }
  await Promise.all(telling);
}

function settled(work: Promise<unknown>): Promise<void> {
  return work.then(
    () => undefined,
    () => undefined,
  );
}
