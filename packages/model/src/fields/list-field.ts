import * as z from "zod";

/** Faults of one list that are worth collecting; a hostile file could have millions, a kilobyte each. */
const ENOUGH_ISSUES = 2000;

const itemOfList = new WeakMap<z.core.$ZodType, z.ZodType>();

/** The schema of a list's items, for the JSON Schema; the list itself hides it inside a transform. */
export function itemSchema(list: z.core.$ZodType): z.ZodType | undefined {
  return itemOfList.get(list);
}

/**
 * A list of least to most items. Its items are checked one by one, so that checking can stop when the list has enough faults;
 * a list of the wrong length is not looked into.
 */
export function list<Item extends z.ZodType>(item: Item, least: number, most: number) {
  const allowed = least === most ? `a list of ${least} entries` : `a list of ${least} to ${most} entries`;
  const array = z
    .array(z.unknown(), { error: allowed })
    .min(least, { error: allowed })
    .max(most, { error: allowed });
  itemOfList.set(array, item);
  return array.transform((entries, context): z.output<Item>[] => {
    const read: z.output<Item>[] = [];
    for (const [at, entry] of entries.entries()) {
      const result = item.safeParse(entry);
      if (result.success) read.push(result.data);
      else
        for (const issue of result.error.issues)
          context.issues.push({ ...issue, path: [at, ...issue.path] } as never);
      if (context.issues.length > ENOUGH_ISSUES) break;
    }
    return read;
  });
}
