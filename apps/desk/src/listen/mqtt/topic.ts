/** What a device says on a topic: readings, or whether it is alive. */
export interface Topic {
  readonly site: string;
  readonly device: string;
  readonly about: "readings" | "life";
}

/** `<prefix>/<site>/<device>/readings` and `<prefix>/<site>/<device>/life`; null for any other topic. */
export function readTopic(topic: string, prefix: string): Topic | null {
  if (!topic.startsWith(`${prefix}/`)) return null;
  const [site, device, about, ...more] = topic.slice(prefix.length + 1).split("/");
  if (site === undefined || device === undefined || more.length > 0) return null;
  if (about !== "readings" && about !== "life") return null;
  return site.trim() === "" || device.trim() === "" ? null : { site, device, about };
}

/** What the desk subscribes to; with a share, the broker gives each message to one of its members. */
export function topicFilters(prefix: string, share: string | undefined): readonly string[] {
  const head = share === undefined ? prefix : `$share/${share}/${prefix}`;
  return [`${head}/+/+/readings`, `${head}/+/+/life`];
}
