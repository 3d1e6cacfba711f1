import { type ReactNode, useDeferredValue } from "react";
import { NowPage } from "./now-page.tsx";
import { maySignIn, useSession } from "./session.ts";
import { Asking } from "../page/asking.tsx";

/** The first page: what needs a person where somebody is signed in, else what is under way on this device. */
export function Home({ otherwise }: { readonly otherwise: ReactNode }) {
  // In slices as well: a store that changes is else drawn at one go.
  const session = useDeferredValue(useSession());
  if (session.state === "asking" && maySignIn()) return <Asking />;
  return session.state === "someone" ? <NowPage me={session.me} /> : otherwise;
}
