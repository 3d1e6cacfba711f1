import type { Site } from "@earthbell/engine";

/** A site as people call it. */
export function siteName({ name, id }: Pick<Site, "id" | "name">): string {
  return name ?? id;
}
