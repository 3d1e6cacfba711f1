/** A line of what the desk and the other side said to one another; secrets are never in it. */
export interface Said {
  readonly by: "desk" | "other-side" | "note";
  readonly text: string;
}

/** Hears a conversation line by line while it goes on. */
export type Hear = (said: Said) => void;
