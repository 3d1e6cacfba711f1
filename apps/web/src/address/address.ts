import { useSyncExternalStore } from "react";

/** Where the reader is: the parts of the path and the query, as they stand in the address bar. */
export interface Address {
  readonly parts: readonly string[];
  readonly query: URLSearchParams;
}

/** Told when the address changes by `go`; the browser itself tells of back and forward. */
const MOVED = "earthbell:moved";

function listen(changed: () => void): () => void {
  window.addEventListener("popstate", changed);
  window.addEventListener(MOVED, changed);
  return () => {
    window.removeEventListener("popstate", changed);
    window.removeEventListener(MOVED, changed);
  };
}

const current = (): string => window.location.pathname + window.location.search;

export function useAddress(): Address {
  return addressOf(useSyncExternalStore(listen, current));
}

/** Where the reader is now, for what is not drawn anew when that changes. */
export const currentAddress = (): Address => addressOf(current());

function addressOf(href: string): Address {
  const [path = "/", query = ""] = href.split("?");
  return { parts: path.split("/").filter(Boolean).map(decoded), query: new URLSearchParams(query) };
}

/** A stray percent sign in a typed address is shown as it stands. */
function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

/** Goes to an address of this app. `replace` keeps the back button on the page before, for changes of a view's own settings. */
export function go(href: string, { replace = false }: { readonly replace?: boolean } = {}): void {
  if (href === current()) return;
  if (replace) window.history.replaceState(null, "", href);
  else {
    window.history.pushState(null, "", href);
    window.scrollTo(0, 0);
  }
  window.dispatchEvent(new Event(MOVED));
}
