/** How the thread to the desk stands. */
export interface Thread {
  /** It was open when it was last looked at. */
  readonly open: boolean;
  /** The device says that it has a network. */
  readonly online: boolean;
  /** When the desk was last heard, and now: milliseconds since 1970. */
  readonly heardAt: number;
  readonly now: number;
}

/** The desk says every 15 s that it is there; a thread without a word for three times as long hangs. */
const HANGS_MS = 45_000;
/** A thread that breaks is taken up again by the browser within seconds; nobody is told of that. */
const TAKEN_UP_MS = 8_000;

/** The desk is not heard: what is shown may be old, and a person should know it. */
export function isUnheard({ open, online, heardAt, now }: Thread): boolean {
  if (!online) return true;
  return now - heardAt > (open ? HANGS_MS : TAKEN_UP_MS);
}
