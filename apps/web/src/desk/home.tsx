import { type ReactNode, useDeferredValue } from "react";
import { NowPage } from "./now-page.tsx";
import { maySignIn, useSession } from "./session.ts";

/** The first page: what needs a person where somebody is signed in, else what is under way on this device. */
export function Home({ otherwise }: { readonly otherwise: ReactNode }) {
  // In slices as well: a store that changes is else drawn at one go.
  const session = useDeferredValue(useSession());
  if (session.state === "asking" && maySignIn()) return <p className="soft">Asking the desk…</p>;
  return session.state === "someone" ? <NowPage me={session.me} /> : otherwise;
}
