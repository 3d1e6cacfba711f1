/** Whether this device holds all it needs to work without signal. */
export type OfflineState = "preparing" | "ready" | "newer-waiting" | "impossible";

const TELLS = "earthbell:offline";
let state: OfflineState = "serviceWorker" in navigator ? "preparing" : "impossible";
let registration: ServiceWorkerRegistration | null = null;

function set(now: OfflineState): void {
  state = now;
  window.dispatchEvent(new Event(TELLS));
}

export function offlineState(): OfflineState {
  return state;
}

export function watchOffline(changed: () => void): () => void {
  window.addEventListener(TELLS, changed);
  return () => {
    window.removeEventListener(TELLS, changed);
  };
}

/** The page comes first: what is kept for later would be fetched beside it. */
async function pageIsThere(): Promise<void> {
  if (document.readyState !== "complete")
    await new Promise((loaded) => {
      window.addEventListener("load", loaded, { once: true });
    });
  await new Promise((idle) => {
    if ("requestIdleCallback" in window) requestIdleCallback(idle, { timeout: 3000 });
    else setTimeout(idle, 200);
  });
}

/** Registers the service worker of the built app; a newer one waits until its reader takes it. */
export async function prepareOffline(): Promise<void> {
  if (!("serviceWorker" in navigator) || !import.meta.env.PROD) return;
  await pageIsThere();
  try {
    registration = await navigator.serviceWorker.register("/sw.js");
  } catch {
    set("impossible");
    return;
  }
  registration.addEventListener("updatefound", () => {
    const coming = registration?.installing;
    coming?.addEventListener("statechange", () => {
      if (coming.state === "installed" && navigator.serviceWorker.controller !== null) set("newer-waiting");
    });
  });
  await navigator.serviceWorker.ready;
  set(registration.waiting === null ? "ready" : "newer-waiting");
}

/** Takes the newer version: the page is loaded again from it. What was typed is in the database already. */
export function takeNewer(): void {
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    window.location.reload();
  });
  registration?.waiting?.postMessage({ type: "SKIP_WAITING" });
}

/** Asks the browser not to clear what is kept here when the device runs short of room; it may say no. */
export async function keepForGood(): Promise<boolean> {
  return window.isSecureContext ? await navigator.storage.persist().catch(() => false) : false;
}
