import { watchYaml } from "../yaml/read-yaml.ts";
import type { Path } from "../yaml/reading.ts";

/** A step of a path that somebody wants to find, and where it was found. */
interface Sought {
  readonly steps: Map<string | number, Sought>;
  key?: number;
  value?: number;
}

/**
 * Finds where paths stand in a text that has been read, in one pass over it. Positions are not kept from the first reading:
 * they cost more memory than the data, and most files have nothing to point at.
 *
 * @returns the offset of a path's value, or of its key if that is asked for or no value is written; of the nearest parent that is
 *   written, where the path is not; 0 for the empty path.
 */
export function offsetsOf(
  text: string,
  paths: Iterable<Path>,
): (path: Path, part: "key" | "value") => number {
  const root: Sought = { steps: new Map() };
  for (const path of paths) seek(root, path);
  if (root.steps.size > 0) find(text, root);
  return (path, part) => {
    let found = 0;
    let node: Sought | undefined = root;
    for (const [depth, step] of path.entries()) {
      node = node.steps.get(step);
      if (!node) break;
      const last = depth === path.length - 1;
      found = (last && part === "key" ? (node.key ?? node.value) : (node.value ?? node.key)) ?? found;
    }
    return found;
  };
}

function seek(root: Sought, path: Path): void {
  let node = root;
  for (const step of path) {
    const next = node.steps.get(step) ?? { steps: new Map() };
    node.steps.set(step, next);
    node = next;
  }
}

/** The reader reports each key before its value and before what is inside, so one open node a depth is enough. */
function find(text: string, root: Sought): void {
  const open: (Sought | undefined)[] = [root];
  watchYaml(text, (path, part, offset) => {
    const depth = path.length;
    if (part === "key") open[depth] = open[depth - 1]?.steps.get(path[depth - 1]!);
    const node = open[depth];
    if (node) node[part] = offset;
  });
}
