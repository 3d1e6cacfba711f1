import { useSyncExternalStore } from "react";
import { ASK_AGAIN_MS, DeskFault, onSessionLost, readDesk, tellDesk } from "./ask-desk.ts";
import type { Health, Me } from "./records.ts";

/** What the desk knew this browser by: an account, or an owner's link. */
type KnownBy = "account" | "link";

/** Whether there is a desk behind this page, and whom it knows in this browser. */
export type Session =
  | { readonly state: "asking" | "no-desk" | "unreachable" }
  /** `lost`: what the desk no longer knows it by; null where it was not signed in, or signed itself out. */
  | { readonly state: "nobody"; readonly lost: KnownBy | null }
  | { readonly state: "someone"; readonly me: Me };

const CHANGED = "earthbell:session";
/** Kept so that a page that was never signed in asks no questions the desk would refuse. */
const SIGNED_IN = "earthbell:signed-in";
const BY_LINK = "by link";
const NO_DESK = "earthbell:no-desk";
let session: Session = { state: "asking" };
let next: ReturnType<typeof setTimeout> | undefined;

function set(now: Session): void {
  session = now;
  if (now.state === "someone") localStorage.setItem(SIGNED_IN, now.me.byLink === true ? BY_LINK : "yes");
  if (now.state === "nobody") localStorage.removeItem(SIGNED_IN);
  window.dispatchEvent(new Event(CHANGED));
}

/** Called after anything is known anew of who is signed in; returns how to stop. */
export function watchSession(changed: () => void): () => void {
  window.addEventListener(CHANGED, changed);
  return () => {
    window.removeEventListener(CHANGED, changed);
  };
}

export const currentSession = (): Session => session;

export function useSession(): Session {
  return useSyncExternalStore(watchSession, currentSession);
}

/** This browser was signed in when it was last here, so that the answer is worth waiting for. */
export const maySignIn = (): boolean => localStorage.getItem(SIGNED_IN) !== null;

/** Who is signed in; null for nobody, or where no desk is. */
export function useMe(): Me | null {
  const now = useSession();
  return now.state === "someone" ? now.me : null;
}

export function signedInAs(me: Me): void {
  set({ state: "someone", me });
}

export async function signOut(): Promise<void> {
  await tellDesk("/api/sign-out", {});
  set({ state: "nobody", lost: null });
}

onSessionLost(() => {
  // Several questions are refused at once; and a page that was signed in when it was last here is as much lost.
  const lost = session.state === "nobody" ? session.lost : knownBy();
  set({ state: "nobody", lost });
});

function knownBy(): KnownBy | null {
  const signedIn = localStorage.getItem(SIGNED_IN);
  if (signedIn === null) return null;
  return signedIn === BY_LINK ? "link" : "account";
}

/** Finds out whether a desk answers here and who is signed in. Pages that need no desk do not wait for it. */
export async function findSession({ again = false } = {}): Promise<void> {
  if (!again && localStorage.getItem(NO_DESK) !== null) {
    set({ state: "no-desk" });
    return;
  }
  try {
    // A page that was signed in asks who it is at once: the answer tells as well that a desk is there.
    const me = maySignIn() ? await readDesk<Me>("/api/me") : null;
    if (me === null) await readDesk<Health>("/healthz");
    localStorage.removeItem(NO_DESK);
    if (me === null) set({ state: "nobody", lost: null });
    else signedInAs(me);
  } catch (error) {
    const code = error instanceof DeskFault ? error.code : "";
    if (code === "REQUEST_TOKEN_MISSING" || code === "REQUEST_TOKEN_UNKNOWN") return;
    const absent = code === "DESK_ABSENT" || code === "HTTP_404";
    if (absent) localStorage.setItem(NO_DESK, "yes");
    set({ state: absent ? "no-desk" : "unreachable" });
    clearTimeout(next);
    if (!absent) next = setTimeout(askAgain, ASK_AGAIN_MS);
  }
}

/** A desk that could not be reached is asked again by itself until it answers. */
function askAgain(): void {
  if (session.state === "unreachable") void findSession();
}

// In a turn of its own, so that a slow phone hears a press between starting the program and asking.
setTimeout(() => void findSession());
window.addEventListener("online", askAgain);
