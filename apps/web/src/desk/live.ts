import { useSyncExternalStore } from "react";
import { onJournal, readDesk } from "./ask-desk.ts";
import { isUnheard } from "./hearing.ts";
import { maySignIn } from "./session.ts";

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
const LOOK_EVERY_MS = 5000;
const CHANGED = "earthbell:hearing";
const BACK = "earthbell:heard-again";
let source: EventSource | null = null;
/** How far the journal was heard; before anything listens, how far it was at the oldest answer. null: not known. */
let heardTo: number | null = null;
let heardAt = 0;
let unheardSince: number | null = null;
let looking: ReturnType<typeof setInterval> | null = null;

onJournal((sequence) => {
  if (source === null) heardTo = Math.min(heardTo ?? sequence, sequence);
});

function tell(since: number | null): void {
  if (since === unheardSince) return;
  const back = since === null;
  unheardSince = since;
  window.dispatchEvent(new Event(CHANGED));
  // What happened meanwhile is heard late, and of a store that was put back not at all.
  if (back) window.dispatchEvent(new Event(BACK));
}

function heard(): void {
  heardAt = Date.now();
  tell(null);
}

/** A word of the desk, which says how far the journal is with it. */
function heardWord({ lastEventId }: MessageEvent<string>): void {
  heardTo = Number(lastEventId);
  heard();
}

/** Takes the thread up where it was left: what happened between the two is heard late, and not missed. */
function open(): void {
  source?.close();
  source = new EventSource(`/api/live${heardTo === null ? "" : `?after=${String(heardTo)}`}`);
  source.addEventListener("open", heard);
  source.addEventListener("here", heardWord);
  for (const kind of HAPPENING_KINDS)
    source.addEventListener(kind, (event: MessageEvent<string>) => {
      heardWord(event);
      const happening = JSON.parse(event.data) as Happening;
      for (const listener of listeners) listener(happening);
    });
}

/** Looks whether the desk is still heard; a thread that was refused, or hangs, is begun anew. */
function look(): void {
  if (source === null || !maySignIn()) return;
  const thread = { open: source.readyState === EventSource.OPEN, online: navigator.onLine };
  if (!isUnheard({ ...thread, heardAt, now: Date.now() })) return;
  tell(heardAt);
  if (source.readyState === EventSource.CONNECTING) return;
  // A refused thread says nothing of why; an answer does, also that nobody is signed in any more.
  readDesk("/api/me").then(open, () => undefined);
}

window.addEventListener("offline", look);
// After a loss of signal a connection can hang unnoticed, or wait long before it is tried again.
window.addEventListener("online", () => {
  if (listeners.size > 0) open();
});

function closeUnheard(): void {
  if (listeners.size > 0) return;
  source?.close();
  source = null;
  heardTo = null;
  if (looking !== null) clearInterval(looking);
  looking = null;
}

/** Hears what happens at the desk as it happens; a lost thread is taken up again by itself. */
export function hear(listener: Heard): () => void {
  listeners.add(listener);
  if (source === null) heardAt = Date.now();
  // A desk that refused once leaves the source closed; the next listener tries again.
  if (source === null || source.readyState === EventSource.CLOSED) open();
  looking ??= setInterval(look, LOOK_EVERY_MS);
  return () => {
    listeners.delete(listener);
    setTimeout(closeUnheard, LINGER_MS);
  };
}

/** Calls something once the desk is heard again after it was not; returns how to stop. */
export function onHeardAgain(work: () => void): () => void {
  window.addEventListener(BACK, work);
  return () => {
    window.removeEventListener(BACK, work);
  };
}

function watchHearing(changed: () => void): () => void {
  window.addEventListener(CHANGED, changed);
  return () => {
    window.removeEventListener(CHANGED, changed);
  };
}

/** Since when the desk has not been heard: milliseconds since 1970; null while it is. */
export function useUnheardSince(): number | null {
  return useSyncExternalStore(watchHearing, () => unheardSince);
}
