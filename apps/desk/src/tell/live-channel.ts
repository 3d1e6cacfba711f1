import type { Channel } from "./channel.ts";

/** A way of telling whose settings may change while the desk runs. */
export interface LiveChannel extends Channel {
  /** From now on messages go by this one; what the one before is handing over is tried again. */
  become(next: Channel): Promise<void>;
}

export function liveChannel(first: Channel): LiveChannel {
  let now = first;
  return {
    kind: first.kind,
    send: (envelope, signal, hear) => now.send(envelope, signal, hear),
    close: () => now.close(),
    become: async (next) => {
      const before = now;
      now = next;
      await before.close();
    },
  };
}
