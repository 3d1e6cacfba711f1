import { onJournal } from "./ask-desk.ts";

/** Something that happened, as the desk's journal tells it. */
export interface Happening {
  readonly sequence: number;
  readonly at: number;
  readonly kind: string;
  readonly site: string | null;
  readonly subject: string | null;
  readonly by: string | null;
  readonly text: string;
}

export const HAPPENING_KINDS = [
  "sign",
  "alarm",
  "case",
  "message",
  "delivery",
  "site",
  "drill",
  "watch",
  "person",
  "visit",
  "paper",
] as const;
export type HappeningKind = (typeof HAPPENING_KINDS)[number];

type Heard = (happening: Happening) => void;
const listeners = new Set<Heard>();
/** The next page listens on where the last one stopped, so that nothing falls between them. */
const LINGER_MS = 5000;
let source: EventSource | null = null;
/** How far the journal was before the oldest answer that nothing has listened after yet. */
let answeredAt: number | null = null;

onJournal((sequence) => {
  if (source === null) answeredAt = Math.min(answeredAt ?? sequence, sequence);
});

function open(): EventSource {
  const opened = new EventSource(`/api/live${answeredAt === null ? "" : `?after=${String(answeredAt)}`}`);
  answeredAt = null;
  for (const kind of HAPPENING_KINDS)
    opened.addEventListener(kind, (event: MessageEvent<string>) => {
      const happening = JSON.parse(event.data) as Happening;
      for (const heard of listeners) heard(happening);
    });
  return opened;
}

// After a loss of signal a connection can hang unnoticed, or wait long before it is tried again.
window.addEventListener("online", () => {
  if (listeners.size === 0) return;
  source?.close();
  source = open();
});

function closeUnheard(): void {
  if (listeners.size > 0) return;
  source?.close();
  source = null;
}

/** Hears what happens at the desk as it happens; the browser takes the thread up again after a lost connection. */
export function hear(heard: Heard): () => void {
  listeners.add(heard);
  // A desk that refused once leaves the source closed; the next listener tries again.
  if (source === null || source.readyState === EventSource.CLOSED) source = open();
  return () => {
    listeners.delete(heard);
    setTimeout(closeUnheard, LINGER_MS);
  };
}
