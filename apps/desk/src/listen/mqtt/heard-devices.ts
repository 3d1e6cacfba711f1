import type { Topic } from "./topic.ts";

/** Most devices that are told apart; a broker that is open to anybody must not fill the memory. */
const MOST_DEVICES = 200_000;

/** Which devices were heard of, and which of them said by their last will that they are gone. */
export class HeardDevices {
  private readonly alive = new Map<string, boolean>();
  /** What was last set aside of a device: said again only when it changes. */
  private readonly problems = new Map<string, string>();

  /** @param alive  null where the message says nothing of it: somebody who sends readings is there */
  heard({ site, device }: Topic, alive: boolean | null): void {
    const key = JSON.stringify([site, device]);
    if (this.alive.size < MOST_DEVICES || this.alive.has(key)) this.alive.set(key, alive ?? true);
  }

  /** True where this problem of the device is news. */
  isNews(topic: string, problem: string): boolean {
    if (this.problems.get(topic) === problem) return false;
    if (this.problems.size >= MOST_DEVICES) this.problems.clear();
    this.problems.set(topic, problem);
    return true;
  }

  get known(): number {
    return this.alive.size;
  }

  get gone(): number {
    return [...this.alive.values()].filter((alive) => !alive).length;
  }
}
