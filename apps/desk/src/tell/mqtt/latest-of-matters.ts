/** Matters whose latest message is remembered. */
const MOST_MATTERS = 10_000;

/** Keeps a late attempt of an older message from lighting a beacon that a newer one has put out. */
export class LatestOfMatters {
  private readonly writtenAt = new Map<string, number>();

  /** True where nothing newer of the matter was sent. */
  take(topic: string, writtenAt: number): boolean {
    const newest = this.writtenAt.get(topic) ?? -Infinity;
    if (writtenAt < newest) return false;
    if (this.writtenAt.size >= MOST_MATTERS) this.writtenAt.delete(this.writtenAt.keys().next().value!);
    this.writtenAt.delete(topic);
    this.writtenAt.set(topic, writtenAt);
    return true;
  }
}
